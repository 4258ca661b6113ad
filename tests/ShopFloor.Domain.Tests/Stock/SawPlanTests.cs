using ShopFloor.Domain.Common;
using ShopFloor.Domain.Nesting;
using ShopFloor.Domain.Stock;
using static ShopFloor.Domain.Tests.Stock.Shelf;

namespace ShopFloor.Domain.Tests.Stock;

public class SawPlanTests
{
    private const decimal Kerf = 3;
    private readonly StockItem tube = Tube();
    private readonly JobId job = Id<JobId>();
    private readonly JobId other = Id<JobId>();

    [Fact]
    public void Sawing_takes_bars_out_puts_offcuts_back_and_gives_the_jobs_the_rest()
    {
        var stick = Lot(tube, 1, 6000, 6000, "H5");
        var (plan, lists) = Plan([stick], (job, "Hoop", 3000, 1), (other, "Bar", 1500, 1));
        var done = Saw(plan, lists, [stick]);

        // 6000 − 3000 − 1500 − two cuts of 3 = 1494 left, worth its part of the stick; the rest goes 2 : 1 to the jobs.
        var offcut = Assert.Single(done.Offcuts);
        Assert.Equal((1494m, "H5", true, 1494L), (offcut.LengthMm, offcut.Mark, offcut.IsOffcut, offcut.ValueMinor));
        Assert.Equal([3004L, 1502L], done.Uses.OrderByDescending(u => u.ValueMinor).Select(u => u.ValueMinor));
        Assert.Equal([3004m, 1502m], done.Uses.OrderByDescending(u => u.ValueMinor).Select(u => u.Amount));
        Assert.True(stick.IsEmpty);
        Assert.Equal((1, 1), (lists[job].Lines[0].Sawn, lists[other].Lines[0].Sawn));
        Assert.Equal("sawn", Code(plan.Saw([], null, Dictionary(stick), lists, Fresh, Hand)));
    }

    [Fact]
    public void What_was_measured_counts_and_a_short_remnant_is_scrap()
    {
        var sticks = Lot(tube, 2, 12_000);
        var (plan, lists) = Plan([sticks], (job, "Hoop", 5800, 1), (job, "Leg", 4000, 1));
        // By calculation 197 (scrap under 300) and 1997; measured: 180 is kept, 1990 instead of 1997.
        var done = Saw(plan, lists, [sticks], new MeasuredRemnant(1, 180), new MeasuredRemnant(2, 1990));
        Assert.Equal([180m, 1990m], done.Offcuts.Select(o => o.LengthMm!.Value));

        var again = Lot(tube, 1, 6000);
        (plan, lists) = Plan([again], (job, "Hoop", 5800, 1));
        Assert.Empty(Saw(plan, lists, [again]).Offcuts);
    }

    [Fact]
    public void A_bar_that_was_counted_away_is_not_sawn()
    {
        var sticks = Lot(tube, 2, 12_000);
        var (plan, lists) = Plan([sticks], (job, "Hoop", 5800, 2));
        Must(sticks.Count(1, tube, "one was bent", Hand));
        Assert.Equal("notThere", Code(plan.Saw([], null, Dictionary(sticks), lists, Fresh, Hand)));
        Assert.Equal((1m, 0), (sticks.Pieces, lists[job].Lines[0].Sawn));
        Must(sticks.Count(0, tube, "and the other", Hand));
        Assert.Equal("notThere", Code(plan.Saw([], null, Dictionary(sticks), lists, Fresh, Hand)));
        Must(plan.Discard("no bars", Hand));
    }

    /// <summary>12 3/8 in is 314.325 mm.</summary>
    [Fact]
    public void A_remnant_read_from_an_inch_tape_is_kept_as_it_is()
    {
        var stick = Lot(tube, 1, 6000);
        var (plan, lists) = Plan([stick], (job, "Hoop", 3000, 1));
        Assert.Equal(
            314.325m,
            Assert.Single(Saw(plan, lists, [stick], new MeasuredRemnant(1, 314.325m)).Offcuts).LengthMm
        );
    }

    [Theory]
    [InlineData(0, 100.0, "remnants[0].bar")]
    [InlineData(2, 100.0, "remnants[0].bar")]
    [InlineData(1, 3000.1, "remnants[0].lengthMm")]
    [InlineData(1, -1.0, "remnants[0].lengthMm")]
    [InlineData(1, 10.0005, "remnants[0].lengthMm")]
    public void A_remnant_that_cannot_be_is_refused(int bar, double length, string field)
    {
        var stick = Lot(tube, 1, 0);
        var (plan, lists) = Plan([stick], (job, "Hoop", 3000, 1));
        var refused = plan.Saw([new(bar, (decimal)length)], null, Dictionary(stick), lists, Fresh, Hand);
        Assert.Equal([field], Fields(refused));
        Assert.False(stick.IsEmpty);
    }

    [Fact]
    public void Offcuts_are_used_up_before_sticks_of_the_same_length()
    {
        var (offcut, stick) = (Lot(tube, 1, 0, 2000, "OLD"), Lot(tube, 3, 0, 2000, "NEW"));
        var (plan, _) = Plan([offcut, stick], (job, "Leg", 1900, 2));
        Assert.Equal(["OLD", "NEW"], plan.Bars.Select(b => b.Mark));
    }

    /// <summary>Money and length are neither made nor lost: what the bars were worth and how long they were is in the offcuts and the jobs.</summary>
    [Fact]
    public void Nothing_is_lost_under_the_saw()
    {
        var random = new Random(42);
        for (var round = 0; round < 100; round++)
        {
            List<StockLot> lots =
            [
                Lot(tube, 30, random.Next(0, 200_000)),
                .. Enumerable.Range(0, 4).Select(_ => Lot(tube, 1, random.Next(0, 3000), random.Next(500, 5000))),
            ];
            var value = lots.Sum(l => l.ValueMinor);
            var length = lots.Sum(l => l.Amount);
            var pieces = Enumerable
                .Range(0, random.Next(1, 12))
                .Select(i =>
                    (random.Next(2) == 0 ? job : other, $"P{i}", (decimal)random.Next(200, 5500), random.Next(1, 4))
                )
                .ToArray();
            var (plan, lists) = Plan(lots, pieces);
            var done = Saw(plan, lists, lots);
            Assert.Equal(
                value,
                lots.Sum(l => l.ValueMinor) + done.Offcuts.Sum(o => o.ValueMinor) + done.Uses.Sum(u => u.ValueMinor)
            );
            Assert.Equal(
                (double)length,
                (double)(lots.Sum(l => l.Amount) + done.Offcuts.Sum(o => o.Amount) + done.Uses.Sum(u => u.Amount)),
                0.1
            );
            Assert.All(lists.Values.SelectMany(l => l.Lines), l => Assert.Equal(l.Quantity, l.Sawn));
            Assert.All(lots.Concat(done.Offcuts), l => Assert.Empty(l.Audit(l.DrainMovements())));
        }
    }

    [Fact]
    public void Sawn_lines_stay_in_the_list_with_their_length_and_number()
    {
        var stick = Lot(tube, 1, 0);
        var (plan, lists) = Plan([stick], (job, "Hoop", 3000, 1), (job, "Leg", 1000, 1));
        Saw(plan, lists, [stick]);
        var (list, tubes) = (lists[job], Tubes());
        CutList.LineDetails Hoop(decimal length, int quantity) => new(1, "Hoop", tube.Id.Value, length, quantity);
        Assert.Equal(["lines"], Fields(list.Write([Hoop(3000, 1)], tubes, new Dictionary<int, int>())));
        CutList.LineDetails leg = new(2, "Leg", tube.Id.Value, 1000, 1);
        Assert.Equal(
            ["lines[0].lengthMm"],
            Fields(list.Write([Hoop(2999, 1), leg], tubes, new Dictionary<int, int>()))
        );
        Must(
            list.Write([Hoop(3000, 2), leg, new(null, "New", tube.Id.Value, 5, 1)], tubes, new Dictionary<int, int>())
        );
        Assert.Equal([1, 2, 3], list.Lines.Select(l => l.Number));
        Assert.Equal([1, 0, 1], list.Lines.Select(l => l.Open));
        // Numbers are not given out again.
        Must(list.Write([Hoop(3000, 2), leg], tubes, new Dictionary<int, int>()));
        Must(
            list.Write([Hoop(3000, 2), leg, new(null, "Newer", tube.Id.Value, 5, 1)], tubes, new Dictionary<int, int>())
        );
        Assert.Equal(4, list.Lines[2].Number);
    }

    [Fact]
    public void Lines_on_a_saw_card_do_not_fall_below_it()
    {
        var list = CutList.Of(job);
        Must(list.Write([new(null, "Hoop", tube.Id.Value, 3000, 3)], Tubes(), new Dictionary<int, int>()));
        var on = new Dictionary<int, int> { [1] = 2 };
        Assert.Equal(["lines[0].quantity"], Fields(list.Write([new(1, "Hoop", tube.Id.Value, 3000, 1)], Tubes(), on)));
        Assert.Equal(["lines"], Fields(list.Write([], Tubes(), on)));
        Must(list.Write([new(1, "Main hoop", tube.Id.Value, 3000, 2)], Tubes(), on));
    }

    private Dictionary<StockItemId, StockItem> Tubes() => new() { [tube.Id] = tube };

    private (SawPlan Plan, Dictionary<JobId, CutList> Lists) Plan(
        IReadOnlyList<StockLot> lots,
        params (JobId Job, string Label, decimal Length, int Quantity)[] pieces
    )
    {
        var lists = new Dictionary<JobId, CutList>();
        foreach (var group in pieces.GroupBy(p => p.Job))
        {
            var list = CutList.Of(group.Key);
            Must(
                list.Write(
                    [.. group.Select(p => new CutList.LineDetails(null, p.Label, tube.Id.Value, p.Length, p.Quantity))],
                    Tubes(),
                    new Dictionary<int, int>()
                )
            );
            lists[group.Key] = list;
        }

        SawPiece[] all =
        [
            .. from list in lists
            from line in list.Value.Lines
            from _ in Enumerable.Range(0, line.Quantity)
            select new SawPiece(list.Key, list.Key == job ? "J-1" : "J-2", line.Number, line.Label, line.LengthMm),
        ];
        var request = new NestRequest(
            [.. lots.GroupBy(l => l.LengthMm!.Value).Select(g => new NestStock(g.Key, (int)g.Sum(l => l.Pieces)))],
            [
                .. all.GroupBy(p => (p.Mark, p.LengthMm))
                    .Select(g => new NestPiece(g.Key.Mark, g.Key.LengthMm, g.Count())),
            ],
            Kerf
        );
        var answer = NestGreedy.Answer(Must(NestProblem.Create(request)))!;
        Assert.Empty(NestCheck.Faults(request, answer));
        var plan = Must(
            SawPlan.Make(
                Id<SawPlanId>(),
                "SC-2026-0001",
                tube,
                request,
                answer,
                all,
                [.. lots.Select(l => (l, (int)l.Pieces))],
                SawPlan.UsualKeepMm,
                Hand
            )
        );
        return (plan, lists);
    }

    private static SawPlan.Result Saw(
        SawPlan plan,
        Dictionary<JobId, CutList> lists,
        IReadOnlyList<StockLot> lots,
        params MeasuredRemnant[] remnants
    ) => Must(plan.Saw(remnants, null, Dictionary([.. lots]), lists, Fresh, Hand));

    private static (StockLotId, string) Fresh() => (Id<StockLotId>(), Label());

    private static Dictionary<StockLotId, StockLot> Dictionary(params StockLot[] lots) => lots.ToDictionary(l => l.Id);
}
