using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Application.Workbench.Sheets;
using ShopFloor.Data;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Stock;

/// <summary>The store's papers: labels, counting sheet, saw cards.</summary>
public sealed class PrintStock(
    QueryRunner runner,
    PaperHeads heads,
    IPapers papers,
    IWorkbenchPapers bench,
    TimeProvider clock
) : IUseCase
{
    public const int MostLabels = 200;

    /// <param name="lots">Which lots; empty: all that have something in them.</param>
    /// <param name="lotsUrl">Address before a lot's id; each label's code leads there.</param>
    /// <param name="size">Absent: the shop's usual sheet.</param>
    public Task<Outcome<PrintedPaper>> LabelsAsync(
        IReadOnlyList<Guid> lots,
        string lotsUrl,
        PaperSize? size,
        Actor actor,
        CancellationToken ct
    ) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeStock,
            actor,
            async db =>
            {
                if (lots.Count > MostLabels)
                {
                    return Failure.Field("lots", $"At most {MostLabels} labels are printed at once.");
                }

                var ids = lots.Select(StockLotId.From).ToList();
                var found = await db.Set<StockLot>()
                    .Where(l => ids.Count == 0 ? !l.IsEmpty : ids.Contains(l.Id))
                    .OrderBy(l => l.Number)
                    .Take(MostLabels)
                    .ToListAsync(ct);
                var shop = await db.Shops.SingleAsync(ct);
                var labels = (await ReadStock.LotViewsAsync(db, found, actor, ct)).Select(l =>
                    LabelOf(l, shop, lotsUrl)
                );
                return new PrintedPaper(
                    papers.StockLabels(
                        new StockLabelsPaper(await heads.LetterheadAsync(shop, ct), [.. labels]),
                        PaperHeads.SettingsOf(shop, size, clock.GetUtcNow())
                    ),
                    "store-labels.pdf"
                );
            },
            ct
        );

    /// <summary>The counting sheet of one place, or of all.</summary>
    public Task<Outcome<PrintedPaper>> CountingAsync(
        string? location,
        PaperSize? size,
        Actor actor,
        CancellationToken ct
    ) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeStock,
            actor,
            async db =>
            {
                var shop = await db.Shops.SingleAsync(ct);
                var lots = await ReadStock.ShelvesAsync(db, location, actor, ct);
                var places = lots.GroupBy(l => l.Location)
                    .Select(g => new CountingPlace(
                        g.Key,
                        [.. g.Select(l => new CountingRow(l.Number, What(l, shop), l.Measure.Unit()))]
                    ));
                return new PrintedPaper(
                    papers.Counting(
                        new CountingPaper(await heads.LetterheadAsync(shop, ct), [.. places]),
                        PaperHeads.SettingsOf(shop, size, clock.GetUtcNow())
                    ),
                    "counting-sheet.pdf"
                );
            },
            ct
        );

    /// <summary>The card that goes to the saw: which bar, which cuts, with the bar to scale.</summary>
    public Task<Outcome<PrintedPaper>> SawCardAsync(SawPlanId id, PaperSize? size, Actor actor, CancellationToken ct) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeStock,
            actor,
            async db =>
            {
                if (await db.Set<SawPlan>().SingleOrDefaultAsync(p => p.Id == id, ct) is not { } plan)
                {
                    return Failure.Missing("saw card");
                }

                var shop = await db.Shops.SingleAsync(ct);
                var card = await CardAsync(db, plan, shop, ct);
                return new PrintedPaper(
                    bench.SawCuts(card, PaperHeads.SettingsOf(shop, size, clock.GetUtcNow())),
                    $"{plan.Number}.pdf"
                );
            },
            ct
        );

    private static async Task<SawCard> CardAsync(ShopDbContext db, SawPlan plan, Shop shop, CancellationToken ct)
    {
        var item = await db.Set<StockItem>().SingleAsync(i => i.Id == plan.ItemId, ct);
        var ids = plan.Bars.Select(b => b.Lot).Distinct().ToList();
        var places = await db.Set<StockLot>()
            .Where(l => ids.Contains(l.Id))
            .ToDictionaryAsync(l => l.Id, l => l.Location, ct);
        var jobs = plan
            .Bars.SelectMany(b => b.Pieces)
            .Select(p => p.JobNumber)
            .Distinct()
            .Order(StringComparer.Ordinal);
        return new SawCard(
            new WorkbenchHead(shop.Name, item.Title, $"{plan.Number} · {string.Join(", ", jobs)}"),
            [
                .. plan.Bars.Select(b => new SawBar(
                    (double)b.StockMm,
                    [.. b.Pieces.Select(p => new SawCut(p.Mark, (double)p.LengthMm))],
                    (double)b.RemnantMm,
                    $"{b.LotNumber} from {places[b.Lot]}, {(b.Mark is { } mark ? "heat " + mark : "no heat on it")}"
                )),
            ],
            (double)plan.KerfMm,
            (double)plan.EndTrimMm,
            plan.HowGood,
            [
                new PaperFact("Bars", StockWords.Count(plan.Bars.Count)),
                new PaperFact("Pieces", StockWords.Count(plan.Bars.Sum(b => b.Pieces.Count))),
                new PaperFact("Kerf", StockWords.Count(plan.KerfMm) + " mm"),
                new PaperFact("End trim", StockWords.Count(plan.EndTrimMm) + " mm"),
                new PaperFact("Kept from", StockWords.Count(plan.KeepFromMm) + " mm on"),
            ],
            new NestSheet().Cautions
        );
    }

    private static StockLabel LabelOf(StockLotView lot, Shop shop, string lotsUrl) =>
        new(
            lot.Number,
            What(lot, shop),
            [
                lot.Title,
                lot.Mark is { } mark ? $"Heat or lot {mark}" : "No heat or lot number",
                (lot.IsOffcut ? "Offcut · " : "") + "At: " + lot.Location,
            ],
            lotsUrl + lot.Id
        );

    /// <summary>Short name, of tube with its length as the shop reads it.</summary>
    private static string What(StockLotView lot, Shop shop) =>
        lot.LengthMm is { } mm
            ? $"{lot.Code} · {(shop.LengthUnit == LengthUnit.Inch ? FractionalInches.Nearest((double)mm, 16).ToString() : StockWords.Count(mm) + " mm")}"
            : lot.Code;
}
