using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;

namespace ShopFloor.Application.Quoting;

/// <summary>An operation that belongs to a kit.</summary>
/// <param name="IsConditional">On the route only for some uses, doors or answers.</param>
public sealed record KitOperation(string Code, Phase Phase, string Title, string Skill, bool IsConditional);

/// <summary>A line of inspection that belongs to a kit.</summary>
/// <param name="IsHold">Work stops until it is passed.</param>
/// <param name="IsConditional">Only for some hinge options or uses.</param>
public sealed record KitLine(string Code, string Operation, string What, bool IsHold, bool IsConditional);

/// <summary>What a kit brings onto a job: operations by the route template and lines by the inspection plan that name it.</summary>
public sealed record KitWork(
    string KitCode,
    string? RouteTitle,
    IReadOnlyList<KitOperation> Operations,
    IReadOnlyList<KitLine> InspectionLines
);

/// <summary>Finds the operations and inspection lines of a kit.</summary>
public sealed class ReadKitWork(QueryRunner queries, RouteLibrary routes, InspectionLibrary inspection) : IUseCase
{
    /// <summary>Both lists are empty where no template or plan names the kit.</summary>
    public KitWork Of(string kitCode)
    {
        var route = routes.FindFor(kitCode);
        var plan = inspection.Plans.FirstOrDefault(p => p.IsFor(kitCode));
        return new KitWork(
            kitCode,
            route?.Title,
            [
                .. (route?.Operations ?? []).Select(o => new KitOperation(
                    o.Code,
                    o.Phase,
                    o.Title,
                    o.Skill,
                    o.When is not null
                )),
            ],
            [
                .. (plan?.Document.Lines ?? [])
                    .Where(l => l.Kits is null || l.Kits.Contains(kitCode))
                    .Select(l => new KitLine(
                        l.Code,
                        l.Operation,
                        l.What,
                        l.Point == InspectionPoint.Hold,
                        l.HingeOptions is not null || l.Uses is not null
                    )),
            ]
        );
    }

    public Task<Outcome<KitWork>> RunAsync(string kitCode, Actor actor, CancellationToken ct) =>
        queries.RunAsync<KitWork>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                await routes.RefreshAsync(db, ct);
                await inspection.RefreshAsync(db, ct);
                return Of(kitCode) is { Operations.Count: 0, InspectionLines.Count: 0 }
                    ? Failure.Missing("kit with a route")
                    : Of(kitCode);
            },
            ct
        );
}
