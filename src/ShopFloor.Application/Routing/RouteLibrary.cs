using ShopFloor.Application.Quoting;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>The route templates shipped with the program, and the work content that follows from them.</summary>
public sealed class RouteLibrary : IWorkContentSource
{
    public RouteLibrary() => Templates = ShippedData.ReadAll("routes", RouteTemplateJson.Read);

    public IReadOnlyList<RouteTemplate> Templates { get; }

    /// <summary>The newest template for a kit or a kind of sale; null where none is for it.</summary>
    public RouteTemplate? FindFor(string routeKey) =>
        Templates.Where(t => t.Kits.Contains(routeKey)).MaxBy(t => t.Edition);

    /// <summary>The route of a scope; null where no template is for its kit.</summary>
    public BuiltRoute? RouteOf(JobScope scope) =>
        FindFor(scope.RouteKey) is { } template ? RouteBuilder.Build(template, scope) : null;

    public IReadOnlyList<WorkContent> For(JobScope scope) => RouteOf(scope)?.WorkContent ?? [];
}
