using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.RuleSets;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>The route templates in force, and the work content that follows from them: the shop's own where it keeps them, else those shipped with the program.</summary>
/// <remarks>The shop's are kept in memory; <see cref="RefreshAsync"/> asks the database whether there are newer ones. Callers that open jobs or price do so first, so that two servers agree.</remarks>
public sealed class RouteLibrary : IWorkContentSource
{
    private volatile Loaded loaded;

    public RouteLibrary()
    {
        Shipped = ShippedData.ReadAll("routes", RouteTemplateJson.Read);
        loaded = new Loaded([], Shipped);
    }

    /// <summary>Templates that came with the program.</summary>
    public IReadOnlyList<RouteTemplate> Shipped { get; }

    /// <summary>The newest edition in force of each template.</summary>
    public IReadOnlyList<RouteTemplate> Templates => loaded.Templates;

    /// <summary>Takes over editions that were put in force since the last look.</summary>
    public async Task RefreshAsync(ShopDbContext db, CancellationToken ct)
    {
        var ids = await db.Set<RouteEdition>()
            .Where(e => e.State == RouteEditionState.InForce)
            .Select(e => e.Id)
            .ToListAsync(ct);
        if (loaded.Ids.SetEquals(ids))
        {
            return;
        }

        var stored = await db.Set<RouteEdition>()
            .AsNoTracking()
            .Where(e => e.State == RouteEditionState.InForce)
            .ToListAsync(ct);
        var newest = stored.GroupBy(e => e.TemplateCode).Select(g => g.MaxBy(e => e.Edition)!.Template).ToList();
        loaded = new Loaded(
            [.. stored.Select(e => e.Id)],
            [.. newest, .. Shipped.Where(s => newest.TrueForAll(t => t.Code != s.Code))]
        );
    }

    /// <summary>The template in force for a kit or a kind of sale; null where none is for it.</summary>
    public RouteTemplate? FindFor(string routeKey) =>
        Templates.Where(t => t.Kits.Contains(routeKey)).MaxBy(t => t.Edition);

    /// <summary>The route of a scope; null where no template is for its kit.</summary>
    public BuiltRoute? RouteOf(JobScope scope)
    {
        ArgumentNullException.ThrowIfNull(scope);
        return FindFor(scope.RouteKey) is { } template ? RouteBuilder.Build(template, scope) : null;
    }

    public IReadOnlyList<WorkContent> For(JobScope scope) => RouteOf(scope)?.WorkContent ?? [];

    private sealed record Loaded(HashSet<RouteEditionId> Ids, IReadOnlyList<RouteTemplate> Templates);
}
