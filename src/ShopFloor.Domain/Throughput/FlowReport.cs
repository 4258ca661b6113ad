using System.Globalization;
using ShopFloor.Domain.Common;
using static ShopFloor.Domain.Throughput.FigureDefinitions;

namespace ShopFloor.Domain.Throughput;

/// <summary>A car of the range with its ribbon.</summary>
public sealed record CarRow(CarLog Car, Phase Phase, IReadOnlyList<RibbonPart> Ribbon);

/// <summary>All figures of a range, the cars with their ribbons, and what ties them together.</summary>
public sealed record FlowReport(
    IReadOnlyList<Figure> Figures,
    IReadOnlyList<CarRow> Cars,
    LittlesLaw Law,
    IReadOnlyList<TieOut> TieOuts
)
{
    public Figure this[FigureDefinition definition] => Figures.Single(f => f.Definition == definition);

    /// <summary>Works the figures out.</summary>
    /// <param name="now">A range that has not ended is read as of here.</param>
    public static FlowReport Build(ShopWeek week, DateTimeOffset now, Shop shop, FlowFacts facts)
    {
        ArgumentNullException.ThrowIfNull(week);
        ArgumentNullException.ThrowIfNull(facts);
        var asOf = now < week.To ? now : week.To;
        asOf = asOf < week.From ? week.From : asOf;
        var cars = facts.Cars.OrderBy(c => c.Number, StringComparer.Ordinal).ToList();
        var rows = cars.Select(c => new CarRow(c, c.PhaseAt(asOf), CarRibbon.Of(c, week.From, asOf)))
            .Where(r => r.Ribbon.Count > 0)
            .ToList();
        var spells = WorkFigures.Spells(cars, week.From, asOf);
        IReadOnlyList<Figure> figures =
        [
            .. CarFigures.Of(cars, rows, week, asOf, shop, facts.PastDays),
            .. WorkFigures.Of(cars, spells, facts.Attendance, week, asOf),
            .. MoneyFigures.Of(cars, facts, week, asOf, shop),
        ];
        var order = All.Select((d, i) => (d, i)).ToDictionary(p => p.d.Code, p => p.i);
        figures = [.. figures.OrderBy(f => order[f.Definition.Code])];
        var law = LittlesLaw.Of(cars, week.From, asOf);
        return new FlowReport(
            figures,
            rows,
            law,
            [
                .. TieOutsOf(law, spells, figures, rows, facts, week, shop.Currency),
                MarginTie(figures, facts, week, asOf, shop),
            ]
        );
    }

    private static List<TieOut> TieOutsOf(
        LittlesLaw law,
        IReadOnlyList<WorkFigures.Spell> spells,
        IReadOnlyList<Figure> figures,
        IReadOnlyList<CarRow> rows,
        FlowFacts facts,
        ShopWeek week,
        Currency currency
    )
    {
        decimal ValueOf(FigureDefinition d) => figures.Single(f => f.Definition == d).Value ?? 0;
        var byPerson = spells.GroupBy(s => s.Person).Sum(g => g.Sum(s => s.Minutes));
        var byJob = spells.GroupBy(s => s.Job).Sum(g => g.Sum(s => s.Minutes));
        var ribbons = rows.Sum(r => r.Ribbon.Sum(p => p.Minutes));
        var inHand = law.CarMinutes;
        var cash = (long)ValueOf(CashIn);
        var owed = -facts
            .Ledger.Where(e => e.ByMoney && week.FirstDay <= e.On && e.On <= week.LastDay)
            .Sum(e => e.OwedMinor);
        string Text(long minor) => new Money(minor, currency).ToString(CultureInfo.InvariantCulture);
        return
        [
            new(
                "littlesLaw",
                $"Little's law: {N(law.L)} cars in hand on the average; {N(law.Lambda * 7)} cars ended a week × {N(law.W / 7)} weeks each in hand = {N(law.LambdaW)}. The difference of {Signed(law.L - law.LambdaW)} is what the two ends cut off: {H(law.StillMinutes)} h in the range of cars still in hand, less {H(law.BeforeMinutes)} h that ended cars had spent before it, over {H(law.WindowMinutes)} h.",
                law.TiesOut
            ),
            new(
                "ribbons",
                $"The cars' ribbons add up to {H(ribbons)} h; the number of cars in hand, counted through the range, comes to {H(inHand)} h.",
                ribbons == inHand
            ),
            new(
                "hours",
                $"Hours by person {H(byPerson)} h; hours by job {H(byJob)} h.",
                byPerson == byJob && decimal.Round(ValueOf(HoursByPerson), 6) == decimal.Round(ValueOf(HoursByJob), 6)
            ),
            new(
                "money",
                $"Money that came in on the ledger's cash, card, bank and cheque accounts {Text(cash)}; what the customers' accounts were lowered by it {Text(owed)}.",
                cash == owed
            ),
        ];
    }

    /// <summary>Margins by job and by kit against sales, booked costs and labour, each added up by itself from what it was worked out from.</summary>
    private static TieOut MarginTie(
        IReadOnlyList<Figure> figures,
        FlowFacts facts,
        ShopWeek week,
        DateTimeOffset asOf,
        Shop shop
    )
    {
        var byJob = figures.Single(f => f.Definition == Margin);
        var byKit = figures.Single(f => f.Definition == MarginByKit).Value ?? 0;
        var jobs = byJob.Rows.Select(r => r.Job!.Value).ToHashSet();
        var cars = facts.Cars.Where(c => jobs.Contains(c.Id)).ToList();
        var sales = facts.Ledger.Where(e => jobs.Contains(e.Job) && e.On <= week.LastDay).Sum(e => e.SalesMinor);
        var (costs, labour) = (cars.Sum(c => c.CostMinor), cars.Sum(c => c.Labour(asOf).Minor));
        var margin = byJob.Value ?? 0;
        string Text(decimal minor) => new Money((long)minor, shop.Currency).ToString(CultureInfo.InvariantCulture);
        return new TieOut(
            "margin",
            $"Sales {Text(sales)} less booked costs {Text(costs)} less labour at cost {Text(labour)} leave {Text(sales - costs - labour)}; margins by job {Text(margin)}, by kit {Text(byKit)}.",
            margin == sales - costs - labour && byKit == margin
        );
    }

    private static string N(decimal value) => value.ToString("0.00", CultureInfo.InvariantCulture);

    private static string Signed(decimal value) => value.ToString("+0.00;−0.00;0.00", CultureInfo.InvariantCulture);

    private static string H(long minutes) => (minutes / 60m).ToString("0.0", CultureInfo.InvariantCulture);
}
