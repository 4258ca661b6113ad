using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Application.RuleSets;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection.Plans;

/// <summary>Finds versions of inspection plans and judges a document against the shop's routes, rule sets and price book; shared by the reads and the commands.</summary>
public sealed class InspectionPlanStore(InspectionLibrary library, RouteLibrary routes, RuleSetLibrary ruleSets)
    : IUseCase
{
    /// <summary>The version named, or the newest. A shipped plan that the shop has not stored counts too.</summary>
    internal async Task<InspectionPlan?> FindAsync(ShopDbContext db, string code, int? version, CancellationToken ct)
    {
        var stored = await db.Set<InspectionPlanVersion>()
            .AsNoTracking()
            .Where(v => v.PlanCode == code && (version == null || v.Number == version))
            .OrderByDescending(v => v.Number)
            .FirstOrDefaultAsync(ct);
        return stored?.Plan
            ?? library.Shipped.FirstOrDefault(p => p.Code == code && (version is null || p.Version == version));
    }

    /// <summary>The plan in the version that a job keeps; null where the job has no inspection.</summary>
    internal async Task<InspectionPlan?> OfJobAsync(ShopDbContext db, JobId job, CancellationToken ct)
    {
        var kept = await db.Set<JobInspection>()
            .Where(i => i.JobId == job)
            .Select(i => new { i.PlanCode, i.PlanVersion })
            .SingleOrDefaultAsync(ct);
        return kept is null ? null : await FindAsync(db, kept.PlanCode, kept.PlanVersion, ct);
    }

    /// <summary>A newer version than a job's, with what it has otherwise; null where the job is on the newest.</summary>
    internal async Task<NewerPlanView?> NewerAsync(ShopDbContext db, JobInspection inspection, CancellationToken ct) =>
        await FindAsync(db, inspection.PlanCode, null, ct) is { } newest
        && newest.Version > inspection.PlanVersion
        && await FindAsync(db, inspection.PlanCode, inspection.PlanVersion, ct) is { } own
            ? new NewerPlanView(newest.Version, InspectionPlanDifferences.Between(own.Document, newest.Document))
            : null;

    /// <summary>Lines of a plan that come too late on one job's route, a sentence each.</summary>
    internal static IReadOnlyList<Reason> TooLate(InspectionPlan plan, Job job)
    {
        var operations = job.Operations.Select(o => o.Route).ToList();
        return
        [
            .. HoldOrder
                .Late(
                    InspectionPlanBuilder.LinesOf(
                        plan,
                        job.Scope,
                        operations.Select(o => o.Code).ToHashSet(StringComparer.Ordinal)
                    ),
                    operations,
                    areOfOneJob: true
                )
                .Select(l => new Reason("planTooLate", l.Text, l.Line.Operation)),
        ];
    }

    /// <summary>Everything that stands in the way of saving a document, at its field.</summary>
    internal async Task<IReadOnlyList<FieldError>> ProblemsAsync(
        ShopDbContext db,
        InspectionPlanDocument document,
        DateOnly today,
        CancellationToken ct
    )
    {
        await routes.RefreshAsync(db, ct);
        await library.RefreshAsync(db, ct);
        var errors = new FieldErrors();
        errors.Take(InspectionPlan.From(document));
        if (document.Lines.Count > InspectionPlan.MostLines || document.Kits.Count > InspectionPlan.MostLines)
        {
            return Errors(errors);
        }

        foreach (var (i, kit) in document.Kits.Index())
        {
            if (library.Plans.FirstOrDefault(p => p.Code != document.Code && p.IsFor(kit)) is { } other)
            {
                errors.Add($"kits[{i}]", $"{kit} is inspected by the plan {other.Code} already.");
            }

            if (routes.FindFor(kit) is { } route)
            {
                OnRoute(document, kit, route, errors);
            }
            else
            {
                errors.Add($"kits[{i}]", $"There is no route for {kit}, so nothing can be looked at on it.");
            }
        }

        Figures(document, errors);
        if ((await PriceBooks.InForceAsync(db, today, ct))?.Book is { } book)
        {
            Priced(document, book, errors);
        }

        return Errors(errors);
    }

    internal async Task<PlanChoices> ChoicesAsync(
        ShopDbContext db,
        InspectionPlanDocument document,
        DateOnly today,
        CancellationToken ct
    )
    {
        await routes.RefreshAsync(db, ct);
        await ruleSets.RefreshAsync(db, ct);
        var book = (await PriceBooks.InForceAsync(db, today, ct))?.Book;
        return new PlanChoices(
            OperationsOf(document),
            [.. routes.Templates.SelectMany(t => t.Kits).Concat(document.Kits).Distinct()],
            [.. (book?.Uses ?? []).Select(u => new RouteChoice(u.Code, u.Title))],
            [.. (book?.HingeOptions ?? []).Select(h => new RouteChoice(h.Code, h.Title))],
            [
                .. ruleSets.Offered.SelectMany(s =>
                    s.Figures.Select(f => new PlanFigure(
                        $"{s.Code}/{f.Code}",
                        $"{s.Title}: {f.What}, {f.Printed}",
                        f.Unit
                    ))
                ),
            ],
            [
                .. (book?.Kits ?? [])
                    .SelectMany(k => k.Parts)
                    .Where(p => p.Kind == KitPartKind.Tube)
                    .DistinctBy(p => p.Code)
                    .Select(p => new RouteChoice(p.Code, p.Title)),
            ]
        );
    }

    /// <summary>Operations of the routes that build a plan's kits, in route order.</summary>
    internal IReadOnlyList<RouteChoice> OperationsOf(InspectionPlanDocument document) =>
        [
            .. document
                .Kits.Select(routes.FindFor)
                .OfType<RouteTemplate>()
                .SelectMany(t => t.Operations)
                .DistinctBy(o => o.Code)
                .Select(o => new RouteChoice(o.Code, o.Title)),
        ];

    internal static EventDraft Event(
        string type,
        InspectionPlanVersion version,
        object? before = null,
        object? changes = null
    ) =>
        new(
            type,
            "inspectionPlan",
            version.Id.Value,
            Before: before,
            After: new
            {
                plan = version.PlanCode,
                version = version.Number,
                contentHash = version.ContentHash,
                note = version.Note,
                changes,
            }
        );

    private static void OnRoute(InspectionPlanDocument document, string kit, RouteTemplate route, FieldErrors errors)
    {
        var codes = route.Operations.Select(o => o.Code).ToHashSet(StringComparer.Ordinal);
        var lines = document.Lines.Index().Where(l => l.Item.Kits?.Contains(kit) != false).ToList();
        foreach (var (i, line) in lines.Where(l => !codes.Contains(l.Item.Operation)))
        {
            errors.Add(
                $"lines[{i}].operation",
                $"The route of {kit} has no operation {line.Operation}. Take one of {string.Join(", ", codes)}, or leave the line out for {kit}."
            );
        }

        foreach (var late in HoldOrder.Late(lines.Select(l => l.Item), route.Operations))
        {
            var at = lines.Find(l => ReferenceEquals(l.Item, late.Line)).Index;
            errors.Add($"lines[{at}].{(late.IsTooLate ? "operation" : "hiddenBy")}", late.Text);
        }
    }

    private void Figures(InspectionPlanDocument document, FieldErrors errors)
    {
        foreach (var (i, line) in document.Lines.Index())
        {
            foreach (var (j, reference) in (line.Figures ?? []).Index())
            {
                if (reference.Split('/') is not [{ Length: > 0 } set, { Length: > 0 } code])
                {
                    continue;
                }

                var path = $"lines[{i}].figures[{j}]";
                if (ruleSets.Find(set)?.Find(code) is not { } figure)
                {
                    errors.Add(path, $"There is no figure {reference} in the shop's rule sets.");
                    continue;
                }

                var isLimit = (figure.Lower ?? figure.Upper) is not null && line.Unit is not null;
                errors
                    .AddIf(
                        isLimit && figure.Unit != line.Unit,
                        path,
                        $"The figure is in {figure.Unit}, the line in {line.Unit}: it could not tighten it."
                    )
                    .AddIf(
                        isLimit && figure.Unit == line.Unit && (figure.Lower > line.Upper || figure.Upper < line.Lower),
                        path,
                        $"With {figure.Printed} nothing could pass {InspectionLine.Limits(line.Unit, line.Lower, line.Upper)}."
                    );
            }
        }
    }

    private static void Priced(InspectionPlanDocument document, PriceBook book, FieldErrors errors)
    {
        var uses = book.Uses.Select(u => u.Code).ToHashSet(StringComparer.Ordinal);
        var hinges = book.HingeOptions.Select(h => h.Code).ToHashSet(StringComparer.Ordinal);
        foreach (var (i, line) in document.Lines.Index())
        {
            foreach (var use in (line.Uses ?? []).Where(u => !uses.Contains(u)))
            {
                errors.Add($"lines[{i}].uses", $"The price book has no use {use}.");
            }

            foreach (var hinge in (line.HingeOptions ?? []).Where(h => !hinges.Contains(h)))
            {
                errors.Add($"lines[{i}].hingeOptions", $"The price book has no hinge option {hinge}.");
            }

            if (line.Ordered is { } ordered && book.Kits.All(k => k.Parts.All(p => p.Code != ordered.Part)))
            {
                errors.Add($"lines[{i}].ordered.part", $"No kit of the price book has a part {ordered.Part}.");
            }

            foreach (var kit in (line.Kits ?? []).Except(document.Kits))
            {
                errors.Add($"lines[{i}].kits", $"The plan is not for {kit}.");
            }
        }
    }

    private static IReadOnlyList<FieldError> Errors(FieldErrors errors) =>
        errors.Any && errors.ToFailure() is Failure.Invalid invalid ? [.. invalid.Errors.Distinct()] : [];
}
