using System.Reflection;
using Microsoft.AspNetCore.Components;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.EndToEnd.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.Pictures;

/// <summary>A page to be looked at.</summary>
/// <param name="Name">File name without size and scheme.</param>
/// <param name="Path">Where it is in the demo shop.</param>
/// <param name="Email">Who looks; null for nobody signed in.</param>
internal sealed record PageToSee(string Name, string Path, string? Email);

/// <summary>Every page of the program with its place in the demo shop: the routes are read from the program, so that no page is forgotten.</summary>
internal static class PageList
{
    /// <summary>Routes that are not pictured, each with its reason.</summary>
    private static readonly Dictionary<string, string> LeftOut = new(StringComparer.Ordinal)
    {
        ["/error"] = "shown in place of a page that failed",
        ["/jobs/{Id:guid}/return"] = "no job of the demo shop is cancelled; tested on its own",
        ["/setup"] = "pictured from an empty database",
    };

    public static IReadOnlyList<string> Routes { get; } =
    [
        .. typeof(Program)
            .Assembly.GetTypes()
            .SelectMany(t => t.GetCustomAttributes<RouteAttribute>())
            .Select(r => r.Template)
            .Where(r => !LeftOut.ContainsKey(r))
            .Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal),
    ];

    public static async Task<List<PageToSee>> AllAsync(BrowserShop shop)
    {
        await using var scope = shop.Services.CreateAsyncScope();
        var contexts = scope.ServiceProvider.GetRequiredService<IDbContextFactory<ShopDbContext>>();
        await using var db = await contexts.CreateDbContextAsync();
        var pages = new List<PageToSee>();
        foreach (var route in Routes)
        {
            if (await DemoPlaces.PathOfAsync(route, db, scope.ServiceProvider) is not { } path)
            {
                Assert.Fail($"The page {route} has no place in the demo shop: add it to DemoPlaces.");
                continue;
            }

            pages.Add(new PageToSee(NameOf(route), path, DemoPlaces.ViewerOf(route)));
        }

        return pages;
    }

    /// <summary><c>/jobs/{Id:guid}/floor</c> becomes <c>jobs-id-floor</c>; the first page is <c>today</c>.</summary>
    public static string NameOf(string route)
    {
        var words = route
            .Split('/', StringSplitOptions.RemoveEmptyEntries)
            .Select(w => w.StartsWith('{') ? w.Trim('{', '}').Split(':')[0].TrimEnd('?') : w);
        var name = string.Join('-', words).ToLowerInvariant();
        return name.Length == 0 ? "today" : name;
    }
}
