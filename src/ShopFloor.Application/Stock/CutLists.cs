using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Stock;

/// <summary>A line of a job's cut list as shown.</summary>
/// <param name="OnCards">Pieces on saw cards that are not sawn yet.</param>
public sealed record CutLineView(
    int Number,
    string Label,
    StockItemId ItemId,
    string Code,
    decimal LengthMm,
    int Quantity,
    int Sawn,
    int OnCards,
    string? From
);

/// <summary>A line that could be taken over.</summary>
/// <param name="ItemId">Tube of the store that has the part's size; null where there is none or the length comes from a figure without a size.</param>
/// <param name="Size">Of the part, in words.</param>
public sealed record CutSuggestion(
    string Label,
    StockItemId? ItemId,
    string? Size,
    decimal LengthMm,
    int Quantity,
    string From
);

/// <summary>A job's cut list.</summary>
/// <param name="Version">0 before it was first written.</param>
/// <param name="Suggestions">From the kit's parts and from saved figures, without those that are in the list already.</param>
/// <param name="Tubes">Tubes of the store to choose from.</param>
public sealed record CutListView(
    JobId JobId,
    long Version,
    string Job,
    string Car,
    bool IsOpen,
    IReadOnlyList<CutLineView> Lines,
    IReadOnlyList<CutSuggestion> Suggestions,
    IReadOnlyList<StockItemView> Tubes,
    IReadOnlyList<ReservationView> Reservations,
    IReadOnlyList<JobStockView> Taken
);

/// <summary>What of the store went into a job.</summary>
public sealed record JobStockView(
    StockItemId ItemId,
    string Code,
    string Title,
    StockKind Kind,
    StockMeasure Measure,
    StockLotId LotId,
    string Lot,
    string? Mark,
    decimal Amount,
    string? What,
    long? ValueMinor,
    DateTimeOffset At
);

/// <summary>Reads and writes what pieces of tube a job needs.</summary>
public sealed class CutLists(CommandRunner runner, QueryRunner queries) : IUseCase
{
    private static readonly string[] LengthSheets = ["tube-path", "bender-points"];

    public Task<Outcome<CutListView>> ReadAsync(JobId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<CutListView>(Permission.SeeStock, actor, db => ViewAsync(db, id, actor, ct), ct);

    /// <summary>Writes the list anew.</summary>
    public Task<Outcome<CutListView>> WriteAsync(
        JobId id,
        IReadOnlyList<CutList.LineDetails>? lines,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<CutListView>(
            Permission.KeepStock,
            envelope,
            new { id, lines },
            async scope =>
            {
                if (await OpenJobs.RefuseAsync(scope, id) is { } refused)
                {
                    return refused;
                }

                if (lines is null)
                {
                    return Failure.Field("lines", "Give the lines of the list; an empty list for none.");
                }

                if (lines.Any(l => l is null))
                {
                    return Failure.Field("lines", "A line is missing in the list.");
                }

                var list = await scope.Db.Set<CutList>().SingleOrDefaultAsync(c => c.JobId == id, ct);
                if (list is null)
                {
                    list = CutList.Of(id);
                    scope.Db.Add(list);
                }

                if (scope.Stale(list) is { } stale)
                {
                    return stale;
                }

                var tubes = await scope
                    .Db.Set<StockItem>()
                    .Where(i => i.Kind == StockKind.Tube)
                    .ToDictionaryAsync(i => i.Id, ct);
                var planned = (await StockLoading.OnCardsAsync(scope.Db, ct))
                    .Where(p => p.Key.Job == id)
                    .ToDictionary(p => p.Key.Line, p => p.Value);
                if (!list.Write(lines, tubes, planned).TryGet(out _, out var failure))
                {
                    return failure;
                }

                scope.Record(
                    new EventDraft(
                        "cutList.written",
                        "cutList",
                        id.Value,
                        id,
                        After: new
                        {
                            lines = list.Lines.Select(l => new
                            {
                                l.Number,
                                lengthMm = LotChange.Said(l.LengthMm),
                                l.Quantity,
                            }),
                        }
                    )
                );
                await scope.SaveAsync();
                return await ViewAsync(scope.Db, id, scope.Actor, ct);
            },
            ct
        );

    private static async Task<Outcome<CutListView>> ViewAsync(
        ShopDbContext db,
        JobId id,
        Actor actor,
        CancellationToken ct
    )
    {
        if (await db.Set<Job>().SingleOrDefaultAsync(j => j.Id == id, ct) is not { } job)
        {
            return Failure.Missing("job");
        }

        var list = await db.Set<CutList>().SingleOrDefaultAsync(c => c.JobId == id, ct);
        var onCards = await StockLoading.OnCardsAsync(db, ct);
        var items = await db.Set<StockItem>().Where(i => i.Kind == StockKind.Tube).OrderBy(i => i.Code).ToListAsync(ct);
        var standings = await StockLoading.StandingsAsync(db, ct);
        var codes = items.ToDictionary(i => i.Id, i => i.Code);
        var lines = list?.Lines ?? [];
        return new CutListView(
            id,
            list?.Version ?? 0,
            job.Number,
            JobSubject.Title(job, await JobSubject.CarAsync(db, job, ct)),
            job.State == JobState.Open,
            [
                .. lines.Select(l => new CutLineView(
                    l.Number,
                    l.Label,
                    l.ItemId,
                    codes[l.ItemId],
                    l.LengthMm,
                    l.Quantity,
                    l.Sawn,
                    onCards.GetValueOrDefault((id, l.Number)),
                    l.From
                )),
            ],
            [
                .. (await SuggestionsAsync(db, job, items, ct)).Where(s =>
                    lines.All(l => l.From != s.From || l.LengthMm != s.LengthMm)
                ),
            ],
            [
                .. items
                    .Where(i => !i.IsRetired)
                    .Select(i =>
                        StockItemView.Of(i, standings.GetValueOrDefault(i.Id) ?? StockStanding.None, null, actor)
                    ),
            ],
            await ReadStock.ReservationsAsync(db, r => r.Where(x => x.JobId == id), ct),
            await TakenAsync(db, id, actor, ct)
        );
    }

    private static async Task<IReadOnlyList<JobStockView>> TakenAsync(
        ShopDbContext db,
        JobId id,
        Actor actor,
        CancellationToken ct
    )
    {
        var uses = await db.Set<JobStock>().Where(u => u.JobId == id).OrderBy(u => u.Id).ToListAsync(ct);
        var lotIds = uses.Select(u => u.LotId).Distinct().ToList();
        var lots = await db.Set<StockLot>().Where(l => lotIds.Contains(l.Id)).ToDictionaryAsync(l => l.Id, ct);
        var itemIds = uses.Select(u => u.ItemId).Distinct().ToList();
        var items = await db.Set<StockItem>().Where(i => itemIds.Contains(i.Id)).ToDictionaryAsync(i => i.Id, ct);
        return
        [
            .. uses.Select(u =>
            {
                var (item, lot) = (items[u.ItemId], lots[u.LotId]);
                return new JobStockView(
                    item.Id,
                    item.Code,
                    item.Title,
                    item.Kind,
                    item.Measure,
                    lot.Id,
                    lot.Number,
                    lot.Mark,
                    u.Amount,
                    u.What,
                    actor.May(Permission.SeeMoney) ? u.ValueMinor : null,
                    u.At
                );
            }),
        ];
    }

    /// <summary>Tubes of the kit as it was quoted, and cut lengths that were figured and saved with the job.</summary>
    private static async Task<IEnumerable<CutSuggestion>> SuggestionsAsync(
        ShopDbContext db,
        Job job,
        IReadOnlyList<StockItem> tubes,
        CancellationToken ct
    )
    {
        var book = await db.Set<Quote>().Where(q => q.Id == job.QuoteId).Select(q => q.PriceBookId).SingleAsync(ct);
        var edition = await db.Set<PriceBookEdition>().SingleAsync(e => e.Id == book, ct);
        var kit = job.Scope.KitCode is { } code ? edition.Book.FindKit(code) : null;
        var parts = (kit?.Parts ?? [])
            .Where(p => p is { Kind: KitPartKind.Tube, LengthMm: > 0 } && p.Quantity == decimal.Truncate(p.Quantity))
            .Select(p => new CutSuggestion(
                p.Title,
                tubes
                    .FirstOrDefault(t =>
                        !t.IsRetired && t.OutsideDiameterMm == p.OutsideDiameterMm && t.WallMm == p.WallMm
                    )
                    ?.Id,
                p is { OutsideDiameterMm: { } od, WallMm: { } wall }
                    ? $"{StockWords.Count(od)} × {StockWords.Count(wall)} mm"
                    : null,
                p.LengthMm!.Value,
                (int)p.Quantity,
                $"Kit {kit!.Code}: {p.Title}"
            ));
        var figures = await db.Set<JobFigure>()
            .Where(f => f.JobId == job.Id && f.State == FigureState.InForce && LengthSheets.Contains(f.Calculator))
            .OrderBy(f => f.Id)
            .ToListAsync(ct);
        return parts.Concat(figures.Select(Figured).OfType<CutSuggestion>());
    }

    private static CutSuggestion? Figured(JobFigure figure) =>
        figure.Results.FirstOrDefault(r => r.Label == "Cut length") is { } length
        && LengthText.TryReadMm(length.Value.Split('·')[0].Trim(), figure.Unit, out var mm)
        && mm is > 0 and <= (double)StockItem.LongestStickMm
            ? new CutSuggestion(figure.Title, null, null, Math.Round((decimal)mm, 1), 1, $"Figure: {figure.Title}")
            : null;
}
