using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Nesting;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Solving;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Stock;

/// <summary>What is nested for a saw card, as it was read: open pieces of the jobs on what is free in the store.</summary>
/// <param name="Free">Lots with the pieces that no other card holds.</param>
internal sealed record SawQuestion(
    NestProblem Problem,
    IReadOnlyList<SawPiece> Pieces,
    StockItem Item,
    IReadOnlyList<(StockLotId Lot, int Free)> Free
)
{
    /// <summary>Says with how many more sticks the pieces can be sawn, by the plain rule.</summary>
    public Failure TooShort() => TooShort(Item, Problem.Request);

    private static Failure TooShort(StockItem item, NestRequest request)
    {
        var stick = item.StickMm!.Value;
        var more = NestProblem
            .Create(request with { Stock = [.. request.Stock, new NestStock(stick)] })
            .Match(p => NestGreedy.Answer(p), _ => null);
        var have = request.Stock.Where(s => s.LengthMm == stick).Sum(s => s.Quantity ?? 0);
        var missing = more?.Bars.Count(b => b.StockLengthMm == stick) - have;
        return Failure.Because(
            "stockTooShort",
            missing > 0
                ? $"There is not enough {item.Code} in the store: with {missing} more {(missing == 1 ? "stick" : "sticks")} of {StockWords.Count(stick)} mm it can be sawn. Order them under “What to buy”, or nest fewer jobs."
                : $"The free sticks and offcuts of {item.Code} do not hold these pieces. Order sticks under “What to buy”, or nest fewer jobs."
        );
    }

    public static async Task<Outcome<SawQuestion>> ReadAsync(
        ShopDbContext db,
        SawPlans.PlanRequest request,
        CancellationToken ct
    )
    {
        var errors = new FieldErrors();
        errors
            .AddIf(
                request.JobIds is not { Count: > 0 and <= SawPlans.MostJobs },
                "jobIds",
                $"Choose 1 to {SawPlans.MostJobs} jobs."
            )
            .AddIf(request.KerfMm is < 0 or > 20, "kerfMm", "The kerf is between 0 and 20 mm.")
            .AddIf(request.EndTrimMm is < 0 or > 500, "endTrimMm", "The end trim is between 0 and 500 mm.");
        SolveLimits.CheckSeconds(request.TimeLimitSeconds ?? SolveLimits.UsualSeconds, "timeLimitSeconds", errors);
        var wanted = StockItemId.From(request.ItemId ?? Guid.Empty);
        var item = await db.Set<StockItem>().SingleOrDefaultAsync(i => i.Id == wanted && i.Kind == StockKind.Tube, ct);
        errors.AddIf(item is null, "itemId", "Choose a tube that the shop keeps in store.");
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var ids = request.JobIds!.Select(JobId.From).Distinct().ToList();
        var jobs = await db.Set<Job>()
            .Where(j => ids.Contains(j.Id) && j.State == JobState.Open)
            .ToDictionaryAsync(j => j.Id, j => j.Number, ct);
        if (jobs.Count != ids.Count)
        {
            return Failure.Field("jobIds", "Choose jobs that are open.");
        }

        var onCards = await StockLoading.OnCardsAsync(db, ct);
        var lists = await db.Set<CutList>().Where(c => ids.Contains(c.JobId)).ToListAsync(ct);
        SawPiece[] pieces =
        [
            .. from list in lists.OrderBy(l => jobs[l.JobId], StringComparer.Ordinal)
            from line in list.Lines
            where line.ItemId == item!.Id
            from n in Enumerable.Range(0, Math.Max(0, line.Open - onCards.GetValueOrDefault((list.JobId, line.Number))))
            select new SawPiece(list.JobId, jobs[list.JobId], line.Number, line.Label, line.LengthMm),
        ];
        if (pieces.Length == 0)
        {
            return Failure.Because(
                "nothingToSaw",
                $"These jobs have no pieces of {item!.Code} left that are on no saw card. Write them into the job's cut list first."
            );
        }

        var held = await StockLoading.HeldAsync(db, ct);
        var free = (await StockLoading.LotsAsync(db, item!.Id, ct))
            .Select(l => (l.Id, LengthMm: l.LengthMm!.Value, Free: (int)l.Pieces - held.GetValueOrDefault(l.Id)))
            .Where(l => l.Free > 0)
            .ToList();
        var nest = new NestRequest(
            [.. free.GroupBy(l => l.LengthMm).Select(g => new NestStock(g.Key, g.Sum(l => l.Free)))],
            [
                .. pieces
                    .GroupBy(p => (p.Mark, p.LengthMm))
                    .Select(g => new NestPiece(g.Key.Mark, g.Key.LengthMm, g.Count())),
            ],
            request.KerfMm ?? 0,
            request.EndTrimMm ?? 0
        );
        return NestProblem.Create(nest).TryGet(out var problem, out _)
            ? new SawQuestion(problem, pieces, item, [.. free.Select(f => (f.Id, f.Free))])
            : Reason(item, nest);
    }

    /// <summary>Why it cannot be nested: a piece longer than any stick that could be bought, or too little in the store.</summary>
    private static Failure Reason(StockItem item, NestRequest nest)
    {
        var room = item.StickMm!.Value - nest.EndTrimMm;
        var longest = nest.Stock.Select(s => s.LengthMm - nest.EndTrimMm).Append(room).Max();
        return nest.Pieces.FirstOrDefault(p => p.LengthMm > longest) is { } piece
            ? Failure.Because(
                "pieceTooLong",
                $"{piece.Label} of {StockWords.Count(piece.LengthMm)} mm is longer than a stick leaves: {StockWords.Count(longest)} mm. Buy longer sticks, or make the piece of two parts if its design allows a joint there."
            )
            : TooShort(item, nest);
    }
}
