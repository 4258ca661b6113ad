using System.Globalization;
using ShopFloor.Domain.Common;
using static ShopFloor.Domain.Throughput.FigureDefinitions;

namespace ShopFloor.Domain.Throughput;

/// <summary>Figures of quotes and money.</summary>
internal static class MoneyFigures
{
    public static IReadOnlyList<Figure> Of(
        IReadOnlyList<CarLog> cars,
        FlowFacts facts,
        ShopWeek week,
        DateTimeOffset asOf,
        Shop shop
    )
    {
        bool Within(DateTimeOffset? at) => at is { } a && week.Contains(a) && a <= asOf;
        var today = shop.LocalDay(asOf);
        bool Passed(QuoteFact q) => q.LostOn is { } day && day >= week.FirstDay && day <= week.LastDay && day <= today;
        var finished = cars.Where(c => Within(c.FinishedAt)).ToDictionary(c => c.Id);
        var accounts = facts.Ledger.Where(e => e.On <= week.LastDay).ToLookup(e => e.Job);
        var margins = Margins(finished.Values, accounts, asOf);
        var withoutRate = WithoutRate(margins.Select(r => finished[r.Job!.Value]), asOf);
        return
        [
            .. new[]
            {
                (QuotesSent, facts.Quotes.Where(q => Within(q.SentAt)).Select(q => Row(q, q.State))),
                (
                    QuotesWon,
                    facts.Quotes.Where(q => Within(q.WonAt)).Select(q => Row(q, Day(shop.LocalDay(q.WonAt!.Value))))
                ),
                (
                    QuotesLost,
                    facts
                        .Quotes.Where(q => Within(q.LostAt) || Passed(q))
                        .Select(q => Row(q, q.Why ?? "No answer by its last day"))
                ),
            }.Select(p => Counted(p.Item1, p.Item2)),
            Summed(Margin, margins) with
            {
                Remark = withoutRate,
            },
            Summed(
                MarginByKit,
                margins
                    .GroupBy(r => finished[r.Job!.Value].Kit)
                    .OrderBy(g => g.Key, StringComparer.Ordinal)
                    .Select(g => new FigureRow(
                        null,
                        g.Key,
                        g.Count().ToString(CultureInfo.InvariantCulture),
                        g.Sum(r => r.Amount),
                        g.Sum(r => r.Other),
                        g.Sum(r => r.Third)
                    ))
            ) with
            {
                Remark = withoutRate,
            },
            Summed(
                CashIn,
                PerJob(facts.Ledger.Where(e => e.On >= week.FirstDay && e.On <= week.LastDay), e => e.MoneyMinor)
            ),
            Summed(
                DepositsHeld,
                PerJob(accounts.Where(a => !a.Any(e => e.IsPaper)).SelectMany(a => a), e => e.MoneyMinor)
                    .Where(r => r.Amount > 0)
            ),
            Summed(BalancesOpen, PerJob(accounts.SelectMany(a => a), e => e.OwedMinor).Where(r => r.Amount > 0)),
        ];
    }

    private static List<FigureRow> Margins(
        IEnumerable<CarLog> finished,
        ILookup<JobId, LedgerFact> accounts,
        DateTimeOffset asOf
    ) =>
        [
            .. finished
                .Where(c => c.CostMinor != 0 || accounts[c.Id].Any(e => e.IsPaper))
                .OrderBy(c => c.Number, StringComparer.Ordinal)
                .Select(c => (Car: c, Labour: c.Labour(asOf)))
                .Select(c => new FigureRow(
                    c.Car.Id,
                    c.Car.Title,
                    c.Labour.Remark,
                    accounts[c.Car.Id].Sum(e => e.SalesMinor) - c.Car.CostMinor - c.Labour.Minor,
                    c.Car.CostMinor,
                    c.Labour.Minor
                )),
        ];

    /// <summary>Skills whose hours cost nothing in these margins, in one sentence; null where there are none.</summary>
    private static string? WithoutRate(IEnumerable<CarLog> cars, DateTimeOffset asOf)
    {
        var skills = cars.SelectMany(c => c.Labour(asOf).WithoutRate).Distinct().Order(StringComparer.Ordinal).ToList();
        return skills.Count == 0 ? null : $"Labour at no cost: no rate for {string.Join(", ", skills)}.";
    }

    private static IEnumerable<FigureRow> PerJob(IEnumerable<LedgerFact> entries, Func<LedgerFact, long> minor) =>
        entries
            .GroupBy(e => (e.Job, e.Title))
            .OrderBy(g => g.Key.Title, StringComparer.Ordinal)
            .Select(g => new FigureRow(g.Key.Job, g.Key.Title, null, g.Sum(minor)))
            .Where(r => r.Amount != 0);

    private static FigureRow Row(QuoteFact quote, string detail) => new(null, quote.Number, detail, quote.TotalMinor);

    private static Figure Counted(FigureDefinition definition, IEnumerable<FigureRow> rows)
    {
        var list = rows.ToList();
        return new Figure(definition, list.Count, list);
    }

    private static Figure Summed(FigureDefinition definition, IEnumerable<FigureRow> rows)
    {
        var list = rows.ToList();
        return new Figure(definition, list.Count == 0 ? null : list.Sum(r => r.Amount), list);
    }

    private static string Day(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);
}
