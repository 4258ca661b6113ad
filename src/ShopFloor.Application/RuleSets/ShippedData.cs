using System.Reflection;
using System.Text;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.RuleSets;

/// <summary>Reads data files that are shipped inside the program. A wrong one is a bug and stops the start.</summary>
internal static class ShippedData
{
    /// <summary>Every shipped file of a folder under StarterData, by name, read and checked.</summary>
    public static IReadOnlyList<T> ReadAll<T>(string folder, Func<string, Outcome<T>> read)
    {
        var assembly = Assembly.GetExecutingAssembly();
        return
        [
            .. assembly
                .GetManifestResourceNames()
                .Where(n => n.StartsWith($"StarterData/{folder}/", StringComparison.Ordinal))
                .Order(StringComparer.Ordinal)
                .Select(name => Checked(name, read(Text(assembly, name)))),
        ];
    }

    /// <summary>The text of one shipped file.</summary>
    public static string Text(string path) => Text(Assembly.GetExecutingAssembly(), $"StarterData/{path}");

    private static T Checked<T>(string name, Outcome<T> outcome) =>
        outcome.TryGet(out var value, out var failure)
            ? value
            : throw new InvalidOperationException($"{name}: {PlaceOf(failure)}");

    /// <summary>A wrong file is said with the place in it, not only with the sentence.</summary>
    private static string PlaceOf(Failure failure) =>
        failure is Failure.Invalid invalid
            ? string.Join(" ", invalid.Errors.Select(e => $"at {e.Path}: {e.Text}"))
            : failure.Sentence;

    private static string Text(Assembly assembly, string name)
    {
        using var stream = assembly.GetManifestResourceStream(name)!;
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return reader.ReadToEnd();
    }
}
