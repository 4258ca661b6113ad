using System.Text.RegularExpressions;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Architecture.Tests;

/// <summary>The page on security names classes, tests and files: each of them is there.</summary>
public sealed partial class SecurityPageTests
{
    [Fact]
    public void Every_name_on_the_page_of_security_exists()
    {
        var root = Repository.Root;
        var files = Directory
            .EnumerateFiles(root, "*", SearchOption.AllDirectories)
            .Select(f => Path.GetRelativePath(root, f).Replace('\\', '/'))
            .Where(f =>
                !f.Contains("/bin/", StringComparison.Ordinal) && !f.Contains("/obj/", StringComparison.Ordinal)
            )
            .ToList();
        var words = files
            .Where(f => f.EndsWith(".cs", StringComparison.Ordinal) || f.EndsWith(".razor", StringComparison.Ordinal))
            .SelectMany(f => Name().Matches(File.ReadAllText(Path.Combine(root, f))).Select(m => m.Value))
            .Concat(files.Select(f => Path.GetFileName(f).Split('.')[0]))
            .ToHashSet(StringComparer.Ordinal);
        var page = File.ReadAllText(Path.Combine(root, "docs", "security.md"));

        var named = Quoted().Matches(page).Select(m => m.Groups[1].Value).Distinct().ToList();
        var unknown = named
            .Where(n =>
                n.Contains('/', StringComparison.Ordinal)
                && !n.Contains(' ', StringComparison.Ordinal)
                && !n.StartsWith('/')
                    ? !files.Exists(f => f == n || f.StartsWith(n.TrimEnd('/') + "/", StringComparison.Ordinal))
                    : ClassLike().IsMatch(n) && !words.Contains(n.Split('.')[0])
            )
            .ToList();

        Assert.True(named.Count > 50, $"Only {named.Count} names were found.");
        Assert.True(unknown.Count == 0, $"Not in the code: {string.Join(", ", unknown)}");
    }

    [GeneratedRegex("`([^`]+)`")]
    private static partial Regex Quoted();

    [GeneratedRegex("^[A-Z][A-Za-z0-9]+(?:\\.[A-Za-z]+)?$")]
    private static partial Regex ClassLike();

    [GeneratedRegex("\\b[A-Z][A-Za-z0-9]+\\b")]
    private static partial Regex Name();
}
