using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;

namespace ShopFloor.Application.HotWork;

/// <summary>Prints the card of a hot-work permit.</summary>
public sealed class PrintPermit(QueryRunner queries, PaperHeads heads, IPapers papers, TimeProvider clock) : IUseCase
{
    /// <param name="id">The permit.</param>
    /// <param name="url">Address of the page on which permits are watched and closed.</param>
    /// <param name="size">Absent: the shop's usual sheet.</param>
    /// <param name="actor">Who prints.</param>
    /// <param name="ct">Gives up.</param>
    public Task<Outcome<PrintedPaper>> RunAsync(
        HotWorkPermitId id,
        string url,
        PaperSize? size,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<PrintedPaper>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                if (await db.Set<HotWorkPermit>().SingleOrDefaultAsync(p => p.Id == id, ct) is not { } permit)
                {
                    return Failure.Missing("hot-work permit");
                }

                var now = clock.GetUtcNow();
                var shop = await db.Shops.SingleAsync(ct);
                var view = (await PermitViews.OfAsync(db, [permit], now, ct))[0];
                return new PrintedPaper(
                    papers.Permit(
                        Paper(await heads.LetterheadAsync(shop, ct), view, shop.Zone, url),
                        PaperHeads.SettingsOf(shop, size, now)
                    ),
                    $"{permit.Number}.pdf"
                );
            },
            ct
        );

    private static PermitPaper Paper(PaperShop shop, PermitView permit, TimeZoneInfo zone, string url)
    {
        string At(DateTimeOffset instant) =>
            TimeZoneInfo.ConvertTime(instant, zone).ToString("ddd d MMM yyyy, HH:mm", CultureInfo.InvariantCulture);
        return new PermitPaper(
            shop,
            permit.Number,
            permit.PlaceTitle,
            permit.Car is { } car ? $"{permit.JobNumber} {car}" : null,
            permit.StateText,
            [
                new("Opened", At(permit.OpenedAt)),
                new("Opened by", permit.OpenedBy),
                new("Good for this shift, until", At(permit.ValidUntil)),
                new("Fire watcher, no other duty", permit.Watcher),
                .. permit.WatcherChanges.Select(c => new PaperFact(
                    "Watch handed over",
                    $"{At(c.At)}, from {c.From} to {c.To}"
                )),
            ],
            [.. permit.Answers.Select(a => new PermitPaperPoint(Sign(a.Finding), a.Title, a.Note))],
            [
                .. permit.Spells.Select(s => new PermitPaperSpell(
                    s.Operation,
                    At(s.From),
                    s.Until is { } until ? At(until) : "now"
                )),
            ],
            permit.WatchMinutes,
            permit.WatchUntil is { } end ? At(end) : null,
            permit.ClosedAt is { } closed
                ? $"Closed on {At(closed)} by {permit.ClosedBy}{(permit.CloseNote is { } note ? $": {note}" : ".")}"
                : null,
            [Cautions.HotWork.Text, Cautions.Fuel.Text],
            FireWatch.WhoDecides,
            url
        );
    }

    private static string Sign(PointFinding? finding) =>
        finding switch
        {
            PointFinding.Done => "✓",
            PointFinding.Assessed => "✎",
            PointFinding.NotHere => "–",
            _ => "☐",
        };
}
