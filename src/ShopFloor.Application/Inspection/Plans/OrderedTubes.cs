using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection.Plans;

/// <summary>Which tubes were ordered for a job: those of the accepted quote's kit, in the price book that it was made with.</summary>
public static class OrderedTubes
{
    /// <summary>By the kit's part. A part without a size is left out: the line then asks for it.</summary>
    public static async Task<IReadOnlyDictionary<string, OrderedTube>> OfAsync(
        ShopDbContext db,
        Job job,
        CancellationToken ct
    )
    {
        ArgumentNullException.ThrowIfNull(job);
        var quote = await db.Set<Quote>().AsNoTracking().SingleAsync(q => q.Id == job.QuoteId, ct);
        return await OfAsync(db, quote, ct);
    }

    public static async Task<IReadOnlyDictionary<string, OrderedTube>> OfAsync(
        ShopDbContext db,
        Quote quote,
        CancellationToken ct
    )
    {
        ArgumentNullException.ThrowIfNull(db);
        ArgumentNullException.ThrowIfNull(quote);
        var edition = await db.Set<PriceBookEdition>().AsNoTracking().SingleAsync(e => e.Id == quote.PriceBookId, ct);
        var kit = edition.Book.Kits.FirstOrDefault(k => k.Code == quote.Scope.KitCode);
        return (kit?.Parts ?? [])
            .Where(p => p is { Kind: KitPartKind.Tube, OutsideDiameterMm: > 0, WallMm: > 0 })
            .DistinctBy(p => p.Code)
            .ToDictionary(
                p => p.Code,
                p => new OrderedTube(p.OutsideDiameterMm!.Value, p.WallMm!.Value, $"{p.Title}, quote {quote.Number}"),
                StringComparer.Ordinal
            );
    }
}

/// <summary>Enters the size of a tube that the accepted quote does not give, from the order or the delivery note.</summary>
public sealed class RecordOrderedTube(JobChange change) : IUseCase
{
    /// <param name="Part">Code of the kit's part, e.g. <c>hoop</c>.</param>
    /// <param name="From">Where the size stands, e.g. the delivery note's number.</param>
    public sealed record Request(string? Part, decimal? DiameterMm, decimal? WallMm, string? From);

    public Task<Outcome<JobView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.RunJobs,
            id,
            new { id, request },
            envelope,
            async (scope, job) =>
            {
                var errors = new FieldErrors();
                var part = TextRules.Required(request.Part, "part", "The kit's part", TextRules.Code, errors);
                var read = OrderedTube.Read(request.DiameterMm, request.WallMm, request.From);
                errors.Take(read);
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                if (InspectionLoading.Over(job) is { } over)
                {
                    return over;
                }

                if (await scope.Db.InspectionAsync(id, ct) is not { } inspection)
                {
                    return Failure.Missing("inspection of that job");
                }

                if (!inspection.TakeOrdered(part, read.Value, scope.Now).TryGet(out var lines, out var failure))
                {
                    return failure;
                }

                scope.Db.Touch(inspection);
                return new EventDraft(
                    "inspection.orderedTube",
                    "inspection",
                    job.Id.Value,
                    job.Id,
                    After: new
                    {
                        part,
                        diameterMm = InspectionLine.Text(read.Value.DiameterMm),
                        wallMm = InspectionLine.Text(read.Value.WallMm),
                        from = read.Value.From,
                        lines = lines.Select(l => l.Code),
                    }
                );
            },
            ct
        );
}
