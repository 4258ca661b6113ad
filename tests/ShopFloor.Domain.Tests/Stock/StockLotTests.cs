using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;
using static ShopFloor.Domain.Tests.Stock.Shelf;

namespace ShopFloor.Domain.Tests.Stock;

public class StockLotTests
{
    private readonly StockItem tube = Tube();
    private readonly StockItem wire = Wire();

    [Fact]
    public void Nothing_falls_below_zero_and_the_sentence_says_what_to_do()
    {
        var lot = Lot(tube, 3, 9000);
        var refused = lot.Take(4, tube, 0, StockMove.Used, Hand, new StockCause());
        Assert.Equal("notThere", Code(refused));
        Assert.Contains("count them first", refused.Failure!.Sentence, StringComparison.Ordinal);
        Assert.Equal((3m, 9000L), (lot.Pieces, lot.ValueMinor));
    }

    [Fact]
    public void What_a_lot_cost_goes_out_with_it_to_the_last_unit()
    {
        var lot = Lot(tube, 3, 1000);
        long[] values =
        [
            .. Enumerable.Range(0, 3).Select(_ => Must(lot.Take(1, tube, 0, StockMove.Used, Hand, new StockCause()))),
        ];
        // 1000 / 3 = 333.3 → 333; 667 / 2 = 333.5, to the even neighbour 334; the last takes what is left.
        Assert.Equal([333, 334, 333], values);
        Assert.Equal((0m, 0L, true), (lot.Pieces, lot.ValueMinor, lot.IsEmpty));
    }

    [Fact]
    public void Pieces_held_for_a_saw_card_are_not_taken()
    {
        var lot = Lot(tube, 3, 0);
        Assert.Equal("held", Code(lot.Take(2, tube, 2, StockMove.Used, Hand, new StockCause())));
        Must(lot.Take(1, tube, 2, StockMove.Used, Hand, new StockCause()));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(1.5)]
    public void Pieces_are_whole_and_over_zero(double pieces) =>
        Assert.Equal(
            ["pieces"],
            Fields(Lot(tube, 3, 0).Take((decimal)pieces, tube, 0, StockMove.Used, Hand, new StockCause()))
        );

    [Fact]
    public void What_is_weighed_has_three_decimals()
    {
        var lot = Lot(wire, 15, 0);
        Must(lot.Take(0.125m, wire, 0, StockMove.Used, Hand, new StockCause()));
        Assert.Equal(14.875m, lot.Pieces);
        Assert.Equal(["pieces"], Fields(lot.Take(0.0001m, wire, 0, StockMove.Used, Hand, new StockCause())));
    }

    [Fact]
    public void A_count_that_is_right_is_written_down_and_one_that_differs_asks_why()
    {
        var lot = Lot(wire, 10, 5000);
        lot.DrainMovements();
        Assert.Equal(0m, Must(lot.Count(10, wire, null, Hand)));
        Assert.Equal(["reason"], Fields(lot.Count(8, wire, null, Hand)));
        Assert.Equal(-2m, Must(lot.Count(8, wire, "used without a note", Hand)));
        Assert.Equal((8m, 4000L), (lot.Pieces, lot.ValueMinor));
        Assert.Equal([0m, -2m], lot.DrainMovements().Select(m => m.Pieces));
        Assert.NotNull(lot.CountedAt);
    }

    [Fact]
    public void What_is_counted_beyond_the_book_is_worth_what_the_rest_cost()
    {
        var lot = Lot(wire, 4, 1000);
        Assert.Equal(2m, Must(lot.Count(6, wire, "found behind the shelf", Hand)));
        Assert.Equal(1500, lot.ValueMinor);
        // Of an empty lot nothing tells the cost but what the item last cost.
        wire.Bought(240);
        Must(lot.Take(6, wire, 0, StockMove.Used, Hand, new StockCause()));
        Must(lot.Count(1, wire, "one was put back", Hand));
        Assert.Equal(240, lot.ValueMinor);
    }

    [Fact]
    public void A_piece_of_tube_that_is_found_again_is_worth_its_part_of_a_stick()
    {
        tube.Bought(6000);
        var offcut = Lot(tube, 1, 500, 500);
        Must(offcut.Count(0, tube, "mistake", Hand));
        Must(offcut.Count(1, tube, "it is here", Hand));
        Assert.Equal(500, offcut.ValueMinor);
    }

    [Fact]
    public void A_job_gives_back_at_most_what_it_took_at_what_it_paid()
    {
        var lot = Lot(wire, 10, 1000);
        var value = Must(lot.Take(4, wire, 0, StockMove.Used, Hand, new StockCause()));
        Assert.Equal(400, value);
        Assert.Equal("notTaken", Code(lot.PutBack(5, wire, (4, value), Hand, new StockCause())));
        Assert.Equal(100, Must(lot.PutBack(1, wire, (4, value), Hand, new StockCause())));
        Assert.Equal((7m, 700L), (lot.Pieces, lot.ValueMinor));
    }

    [Fact]
    public void A_part_put_elsewhere_keeps_heat_length_and_its_share_of_the_cost()
    {
        var lot = Lot(tube, 5, 1000, 3000, "H77");
        var parted = Must(lot.Part(Id<StockLotId>(), Label(), 2, tube, 0, "Rack B", Hand));
        Assert.Equal(
            (2m, 400L, "H77", (decimal?)3000, "Rack B"),
            (parted.Pieces, parted.ValueMinor, parted.Mark, parted.LengthMm, parted.Location)
        );
        Assert.Equal((3m, 600L, parted.FromLotId), (lot.Pieces, lot.ValueMinor, lot.Id));
    }

    [Fact]
    public void Put_where_it_lies_already_is_refused() =>
        Assert.Equal(["location"], Fields(Lot(tube, 1, 0).MoveTo(" Rack A ", Hand)));

    [Fact]
    public void Tube_without_a_length_is_a_whole_stick_and_nothing_else_has_one()
    {
        Assert.Equal(6000, Lot(tube, 1, 0).LengthMm);
        var wrong = StockLot.Open(
            Id<StockLotId>(),
            Label(),
            wire,
            new(1, 300),
            StockMove.Found,
            null,
            Hand,
            new StockCause()
        );
        Assert.Equal(["lengthMm"], Fields(wrong));
    }

    /// <summary>However a lot is used, its history adds up to it, in pieces and in money.</summary>
    [Fact]
    public void A_lot_is_the_sum_of_its_history_whatever_happens_to_it()
    {
        var random = new Random(20260302);
        for (var round = 0; round < 200; round++)
        {
            var lot = Lot(wire, random.Next(1, 500) / 8m, random.Next(0, 100_000));
            var history = lot.DrainMovements().ToList();
            var (amount, value) = (0m, 0L);
            for (var step = 0; step < 40; step++)
            {
                var some = random.Next(1, 80) / 8m;
                switch (random.Next(4))
                {
                    case 0
                        when lot.Take(some, wire, 0, StockMove.Used, Hand, new StockCause())
                            .TryGet(out var out_, out _):
                        (amount, value) = (amount + some, value + out_);
                        break;
                    case 1
                        when lot.PutBack(some, wire, (amount, value), Hand, new StockCause())
                            .TryGet(out var back, out _):
                        (amount, value) = (amount - some, value - back);
                        break;
                    case 2:
                        Must(lot.Count(some, wire, "counted", Hand));
                        break;
                    default:
                        lot.MoveTo($"Place {step}", Hand);
                        break;
                }

                history.AddRange(lot.DrainMovements());
                Assert.True(lot.Pieces >= 0 && lot.ValueMinor >= 0);
            }

            Assert.Empty(lot.Audit(history));
            Assert.NotEmpty(lot.Audit([.. history.Skip(1)]));
        }
    }
}
