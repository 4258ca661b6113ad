using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Inspection.Plans;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Changes;

/// <summary>A request read and priced.</summary>
public sealed record PricedChange(ChangeTerms Terms, PriceBookId PriceBookId, ChangePrice Price);

/// <summary>Reads a change order against its job and prices it: further work by the price book in force, a condition found otherwise by the quote's own.</summary>
public sealed class ChangePricer(
    QuotePricer pricer,
    RouteLibrary routes,
    InspectionLibrary inspections,
    InspectionPlanStore plans
) : IUseCase
{
    /// <param name="number">Of the change order, for the codes of its inspection lines.</param>
    internal async Task<Outcome<PricedChange>> PriceAsync(
        ShopDbContext db,
        Job job,
        ChangeRequest request,
        string number,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var shop = await db.Shops.SingleAsync(ct);
        var today = shop.LocalDay(now);
        if (await PriceBooks.InForceAsync(db, today, ct) is not { } edition)
        {
            return PriceBooks.None;
        }

        var errors = new FieldErrors();
        var terms = ChangeReader.Read(request, job, edition.Book, number, today, errors);
        await CheckPhotosAsync(db, job, request, errors, ct);
        if (request.ConditionFound is { } found)
        {
            return await ConditionAsync(db, shop, job, terms, found, errors, ct);
        }

        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (job.RefuseAdded(terms.Operations) is { } refused)
        {
            return refused;
        }

        var exempt = (await db.Set<Customer>().AsNoTracking().SingleAsync(c => c.Id == job.CustomerId, ct)).IsTaxExempt;
        return ChangePricing
            .FurtherWork(edition.Book, job, terms, today, exempt)
            .Then<PricedChange>(price => new PricedChange(terms, edition.Id, price));
    }

    private async Task<Outcome<PricedChange>> ConditionAsync(
        ShopDbContext db,
        Shop shop,
        Job job,
        ChangeTerms terms,
        IReadOnlyDictionary<string, string?> given,
        FieldErrors errors,
        CancellationToken ct
    )
    {
        errors.AddIf(
            terms.Work.Count > 0
                || terms.Operations.Count > 0
                || terms.InspectionLines.Count > 0
                || terms.Extras.Lines.Count > 0
                || terms.Extras.OutsideWorkCodes.Count > 0
                || terms.Discount != Discount.None,
            "conditionFound",
            "A condition found otherwise prices the quote again; put further work, lines and discounts into a change order of their own."
        );
        await routes.RefreshAsync(db, ct);
        var (quote, book) = await ConditionComparison.LoadAsync(db, job, ct);
        ConditionComparison.Check(book, given, "conditionFound", errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var agreed = ApprovedChanges.Condition(quote, book, await ApprovedChanges.OfAsync(db, job.Id, ct));
        var found = new SortedDictionary<string, string>(agreed, StringComparer.Ordinal);
        foreach (var (question, answer) in given.Where(g => g.Value is not null))
        {
            found[question] = answer!;
        }

        var scope = quote.Scope with { Condition = agreed };
        var input = pricer.InputOf(
            quote.Terms with
            {
                Scope = scope,
                TradeCreditMinor = 0,
            },
            shop.LocalDay(quote.SentAt ?? quote.CreatedAt)
        );
        if (!QuoteDifference.Between(book, input, found, routes.For).TryGet(out var difference, out var failure))
        {
            return failure;
        }

        if (difference.IsNone)
        {
            return Failure.Field(
                "conditionFound",
                "The car is as it was agreed, so there is nothing to change. Give an answer that differs."
            );
        }

        var foundScope = scope with { Condition = found };
        var added = Added(job, scope, foundScope);
        if (job.RefuseAdded(added) is { } refused)
        {
            return refused;
        }

        await inspections.RefreshAsync(db, ct);
        var kept = await db.Set<JobInspection>()
            .AsNoTracking()
            .Where(i => i.JobId == job.Id)
            .Select(i => i.RuleSets)
            .SingleOrDefaultAsync(ct);
        return NewLines(
                job,
                foundScope,
                added,
                kept,
                await plans.OfJobAsync(db, job.Id, ct),
                await OrderedTubes.OfAsync(db, job, ct)
            )
            .Then<PricedChange>(lines => new PricedChange(
                terms with
                {
                    ConditionAgreed = agreed,
                    ConditionFound = found,
                    Operations = added,
                    InspectionLines = [.. lines],
                },
                quote.PriceBookId,
                ChangePricing.ConditionFound(difference)
            ));
    }

    /// <summary>Operations that the route has with the condition found and not with the one agreed.</summary>
    private List<AddedOperation> Added(Job job, JobScope agreed, JobScope found)
    {
        var before = (routes.RouteOf(agreed)?.Operations ?? []).Select(o => o.Code).ToHashSet(StringComparer.Ordinal);
        var route = routes.RouteOf(found)?.Operations ?? [];
        var fresh = route.Where(o => !before.Contains(o.Code) && job.Operation(o.Code) is null).ToList();
        bool IsHere(string code) => job.Operation(code) is not null || fresh.Exists(f => f.Code == code);
        return
        [
            .. fresh.Select(o => new AddedOperation(
                o with
                {
                    After = [.. o.After.Where(IsHere)],
                    Gates = [.. o.Gates.Where(g => g.Operation is null || IsHere(g.Operation))],
                },
                [
                    .. route
                        .Where(later => later.After.Contains(o.Code))
                        .Select(later => later.Code)
                        .Where(code => job.Operation(code) is { BegunAt: null, IsOver: false }),
                ]
            )),
        ];
    }

    /// <summary>Inspection lines that only the added operations bring.</summary>
    private Outcome<IReadOnlyList<LineToCheck>> NewLines(
        Job job,
        JobScope found,
        List<AddedOperation> added,
        IReadOnlyList<RuleSetUsed>? kept,
        InspectionPlan? version,
        IReadOnlyDictionary<string, OrderedTube> ordered
    )
    {
        if (added.Count == 0)
        {
            return Outcome<IReadOnlyList<LineToCheck>>.Success([]);
        }

        var codes = added.Select(a => a.Route.Code).ToHashSet(StringComparer.Ordinal);
        return inspections
            .LinesFor(found, job.Operations.Select(o => o.Code).Concat(codes), kept, version, ordered)
            .Then(plan =>
                Outcome<IReadOnlyList<LineToCheck>>.Success([.. plan.Lines.Where(l => codes.Contains(l.OperationCode))])
            );
    }

    private static async Task CheckPhotosAsync(
        ShopDbContext db,
        Job job,
        ChangeRequest request,
        FieldErrors errors,
        CancellationToken ct
    )
    {
        var wanted = (request.PhotoIds ?? []).Select(PhotoId.From).ToList();
        if (wanted.Count > ChangeTerms.MostPhotos)
        {
            errors.Add("photoIds", $"At most {ChangeTerms.MostPhotos} photos go with a change order.");
            return;
        }

        var known = await db.Set<Photo>()
            .Where(p => p.JobId == job.Id && p.RemovedAt == null && wanted.Contains(p.Id))
            .Select(p => p.Id)
            .ToListAsync(ct);
        foreach (var (i, id) in wanted.Index())
        {
            errors.AddIf(
                !known.Contains(id),
                $"photoIds[{i}]",
                "This is no photo of this job; choose one of its photos."
            );
        }
    }
}
