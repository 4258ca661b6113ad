using System.Globalization;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Nesting;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>Pieces from sticks and offcuts. A plain rule answers while typing; what a search found is kept beside the list and taken as long as the list stands as it was.</summary>
public sealed class NestSheet : BenchSheet
{
    /// <summary>Where the search's bars are kept; not shown as a field.</summary>
    public const string FoundName = "found";

    private const string Source =
        "cutting stock: least stock length, among those fewest bars; each answer is checked piece by piece";

    public override string Code => "nest";

    public override string Title => "Nesting: pieces from sticks";

    public override string Purpose => "Which piece is cut from which stick or offcut, so that the least stock is used.";

    public override IReadOnlyList<string> Steps { get; } =
    [
        "Write the pieces, one kind a line: length; how many; label.",
        "Write the sticks and offcuts that you have: length; how many. Leave the number out for as many as needed.",
        "Give the kerf of your blade. Press “Find the best nest”, then print the saw card.",
    ];

    public override IReadOnlyList<(string, string)> Guide { get; } =
    [
        (
            "Kerf",
            "What the blade turns to dust at each cut. Saw a scrap, measure both parts and the whole: the difference is the kerf."
        ),
        (
            "End trim",
            "What you cut off each stick first because its end is not square or is dented. 0 where the end is good."
        ),
        (
            "Offcuts",
            "A line with the number 1 each. They are used where that saves stock; nothing is taken from a stick that an offcut can give."
        ),
        (
            "Proven best",
            "No way to lay these pieces uses less stock, and none with as little uses fewer bars. “Within 2 % of the best possible” means: nobody can save more than that."
        ),
        (
            "Lengths",
            "Cut lengths as the tube comes off the saw, before it is notched or bent: the other sheets of the workbench give them."
        ),
    ];

    public override IReadOnlyList<BenchField> Fields { get; } =
    [
        new(
            NestInput.Pieces,
            "Pieces",
            BenchFieldKind.Lines,
            "2438; 2; Main hoop leg\n1829; 3; Door bar\n1524; 1; Cross bar\n1219; 2; Rear stay\n914; 2; Sill bar\n610; 3; Gusset tube",
            "One kind a line: length; how many; label.",
            LengthParts: 1
        ),
        new(
            NestInput.Stock,
            "Sticks and offcuts",
            BenchFieldKind.Lines,
            "6096",
            "One length a line: length; how many. No number: as many as needed.",
            LengthParts: 1
        ),
        new(NestInput.Kerf, "Kerf", BenchFieldKind.Length, "3", "What each cut takes away.", IsOptional: true),
        new(NestInput.Trim, "End trim", BenchFieldKind.Length, "0", "Cut off each bar first.", IsOptional: true),
        new(FoundName, "Bars as found", BenchFieldKind.Lines, "", IsOptional: true, LengthParts: 0, IsShown: false),
    ];

    public override IReadOnlyList<string> Cautions { get; } =
    [
        "Clamp the tube on both sides of the blade's way before the blade runs; nobody holds a short piece by hand. Eyes and ears covered, no gloves, sleeves or hair near a turning blade.",
        "Cut ends are sharp and hot: deburr before you carry, and hold the offcut at its cold end.",
    ];

    public override IReadOnlyList<BenchPaperName> Papers { get; } = [new("saw-card.pdf", "Saw card")];

    /// <summary>The list as a solver takes it, or what is wrong with it by field.</summary>
    public Outcome<NestProblem> Problem(BenchValues values)
    {
        var read = new BenchReader(this, values);
        return NestInput.Read(read) is { } problem ? problem : read.Errors.ToFailure();
    }

    protected override Outcome<BenchAnswer> Answer(BenchReader read)
    {
        ArgumentNullException.ThrowIfNull(read);
        if (NestInput.Read(read) is not { } problem)
        {
            return read.Errors.ToFailure();
        }

        var kept = read.Text(FoundName);
        var found = kept.Length > 0 ? NestText.Read(problem.Request, kept) : null;
        return (found ?? NestGreedy.Answer(problem)) is { } nest
            ? new NestAnswerView(
                read,
                problem.Request,
                nest,
                found is not null,
                kept.Length > 0 && found is null
            ).Answer()
            : NestAnswerView.Nothing(problem.Request);
    }

    /// <summary>One nest as the page shows it and the card prints it.</summary>
    private sealed class NestAnswerView(
        BenchReader read,
        NestRequest request,
        NestAnswer nest,
        bool isSearched,
        bool isStale
    )
    {
        private const int MostDrawn = 60;

        /// <summary>A plain rule found no place for a piece in limited stock; a search may.</summary>
        public static BenchAnswer Nothing(NestRequest request) =>
            new(
                [],
                [
                    "The plain rule does not get all the pieces into this stock. Press “Find the best nest”: a search may find a way, or prove that there is none.",
                ],
                Picture([.. request.Stock.Take(1).Select(s => new NestBar(s.LengthMm, [], s.LengthMm))], request),
                [],
                [],
                "Nest"
            );

        public BenchAnswer Answer()
        {
            var pieces = request.Pieces.Sum(p => p.LengthMm * p.Quantity);
            var inputs = read.Inputs(NestInput.Kerf, NestInput.Trim);
            BenchResult Result(string label, string value, string rule, bool isMain) =>
                new(label, value, new Explanation(rule, inputs, Source, value, []), isMain);
            return new BenchAnswer(
                [
                    Result("Bars", Bars(), "counted", true),
                    Result("Stock used", read.Say((double)nest.StockUsedMm), "sum of the bars' lengths", true),
                    Result("How good it is", HowGood(), "stock used against the least that any nest must use", true),
                    Result("In the pieces", read.Say((double)pieces), "sum of the pieces", false),
                    Result(
                        "Left over",
                        read.Say((double)nest.Bars.Sum(b => b.RemnantMm)),
                        "sum of what is left of each bar after its last cut",
                        false
                    ),
                ],
                Warnings(),
                Picture(nest.Bars, request),
                [Table()],
                Papers(),
                "Nest"
            );
        }

        private string Bars() =>
            string.Join(
                " + ",
                nest.Bars.GroupBy(b => b.StockLengthMm).Select(g => $"{g.Count()} × {read.Brief((double)g.Key)}")
            )
                is { Length: > 0 } text
                ? string.Create(CultureInfo.InvariantCulture, $"{nest.BarsUsed}: {text}")
                : "none";

        private string HowGood() =>
            nest.IsProvenOptimal ? "proven best"
            : nest.StockUsedMm == nest.LowerBoundStockMm ? "least stock, proven; with fewer bars it may go"
            : string.Create(
                CultureInfo.InvariantCulture,
                $"within {Percent()} % of the best possible{(isSearched ? "" : ", by a plain rule")}"
            );

        /// <summary>Rounded up, so that it is never said to be better than it is.</summary>
        private string Percent() =>
            nest.LowerBoundStockMm <= 0
                ? "100"
                : (Math.Ceiling(1000 * ((nest.StockUsedMm / nest.LowerBoundStockMm) - 1)) / 10).ToString(
                    "0.0",
                    CultureInfo.InvariantCulture
                );

        private List<string> Warnings() =>
            isStale
                ? ["The list was changed since the best nest was sought: these bars are by the plain rule. Seek again."]
                : [];

        /// <summary>Bars that are sawn alike are one row.</summary>
        private BenchTable Table()
        {
            var rows = Alike(nest.Bars)
                .Select(a =>
                    (IReadOnlyList<string>)
                        [
                            a.First == a.Last
                                ? a.First.ToString(CultureInfo.InvariantCulture)
                                : string.Create(CultureInfo.InvariantCulture, $"{a.First} to {a.Last}"),
                            read.Brief((double)a.Bar.StockLengthMm),
                            string.Join(
                                ", ",
                                a.Bar.Cuts.GroupBy(c => c)
                                    .Select(g => $"{g.Count()} × {g.Key.Label} {read.Brief((double)g.Key.LengthMm)}")
                            ),
                            read.Brief((double)a.Bar.RemnantMm),
                        ]
                )
                .ToList();
            return new BenchTable(
                "What is cut from each bar",
                ["Bar", "Length", "Pieces", "Left over"],
                rows,
                IsWorkedBy: true
            );
        }

        private static IEnumerable<(int First, int Last, NestBar Bar)> Alike(IReadOnlyList<NestBar> bars)
        {
            for (var i = 0; i < bars.Count; )
            {
                var first = i++;
                while (
                    i < bars.Count
                    && bars[i].StockLengthMm == bars[first].StockLengthMm
                    && bars[i].Cuts.SequenceEqual(bars[first].Cuts)
                )
                {
                    i++;
                }

                yield return (first + 1, i, bars[first]);
            }
        }

        private static BenchPicture Picture(IReadOnlyList<NestBar> bars, NestRequest request)
        {
            var rows = Alike(bars).Take(MostDrawn).ToList();
            var longest = (double)bars.Select(b => b.StockLengthMm).DefaultIfEmpty(1).Max();
            var (row, height) = (longest / 14, longest / 26);
            var picture = new BenchPicture(
                $"{bars.Count} bars to scale with their pieces; each row is described in the table.",
                -longest / 9,
                -row * Math.Max(1, rows.Count),
                longest * 1.01,
                row * 0.4
            );
            for (var i = 0; i < rows.Count; i++)
            {
                var (first, last, bar) = rows[i];
                var bottom = -(row * i) - height;
                picture.Words(
                    -longest / 60,
                    bottom + (height * 0.25),
                    first == last
                        ? first.ToString(CultureInfo.InvariantCulture)
                        : string.Create(CultureInfo.InvariantCulture, $"{first}–{last}"),
                    "end"
                );
                Draw(picture, bar, request, bottom, height, longest);
            }

            return picture;
        }

        private static void Draw(
            BenchPicture picture,
            NestBar bar,
            NestRequest request,
            double bottom,
            double height,
            double longest
        )
        {
            var at = (double)request.EndTrimMm;
            foreach (var cut in bar.Cuts)
            {
                var end = at + (double)cut.LengthMm;
                picture.Box("fill", at, bottom, end, bottom + height);
                picture.Line("cut", end, bottom, end, bottom + height);
                var label = cut.LengthMm.ToString("0.#", CultureInfo.InvariantCulture);
                if ((double)cut.LengthMm > longest * 0.018 * label.Length)
                {
                    picture.Words((at + end) / 2, bottom + (height * 0.25), label, "middle");
                }

                at = end + (double)request.KerfMm;
            }

            picture.Line(
                "edge",
                [
                    new(0, bottom),
                    new((double)bar.StockLengthMm, bottom),
                    new((double)bar.StockLengthMm, bottom + height),
                    new(0, bottom + height),
                ],
                isClosed: true
            );
        }

        private List<BenchPaper> Papers() =>
            nest.Bars.Count is 0 or > SawCard.MostBars
                ? []
                :
                [
                    new(
                        "saw-card.pdf",
                        "Saw card",
                        "application/pdf",
                        (papers, head, settings) => papers.SawCuts(Card(head), settings)
                    ),
                ];

        private SawCard Card(WorkbenchHead head) =>
            new(
                head,
                [
                    .. nest.Bars.Select(b => new SawBar(
                        (double)b.StockLengthMm,
                        [.. b.Cuts.Select(c => new SawCut(c.Label, (double)c.LengthMm))],
                        (double)b.RemnantMm
                    )),
                ],
                (double)request.KerfMm,
                (double)request.EndTrimMm,
                "How good: " + HowGood() + ".",
                [
                    new("Bars", Bars()),
                    new("Kerf", request.KerfMm.ToString("0.####", CultureInfo.InvariantCulture) + " mm"),
                    new("End trim", request.EndTrimMm.ToString("0.####", CultureInfo.InvariantCulture) + " mm"),
                    new("Pieces", nest.Bars.Sum(b => b.Cuts.Count).ToString(CultureInfo.InvariantCulture)),
                ],
                new NestSheet().Cautions
            );
    }
}
