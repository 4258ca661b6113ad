using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Removed;

namespace ShopFloor.Domain.Tests.Removed;

public sealed class PartOutTests
{
    private static readonly DateTimeOffset Noon = new(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);
    private static readonly PersonId Mara = PersonId.From(new Guid("00000000-0000-7000-8000-00000000000a"));
    private static readonly PartOut.Hand Hand = new(Mara, Noon, Noon);

    [Fact]
    public void A_part_is_written_down_with_place_and_fasteners_and_gets_its_label()
    {
        var part = Seat();
        Assert.True(part.IsUnaccounted);
        Assert.Equal("J-2026-0001/07", part.Label("J-2026-0001"));
        Assert.Equal("Shelf 3", Assert.Single(part.Moves).Place);
    }

    [Theory]
    [InlineData(null, "front left", 4, "Shelf 3", "what")]
    [InlineData("Seat", " ", 4, "Shelf 3", "takenFrom")]
    [InlineData("Seat", "front left", null, "Shelf 3", "fasteners")]
    [InlineData("Seat", "front left", -1, "Shelf 3", "fasteners")]
    [InlineData("Seat", "front left", 501, "Shelf 3", "fasteners")]
    [InlineData("Seat", "front left", 4, null, "place")]
    public void A_part_without_its_facts_is_not_written_down(
        string? what,
        string? from,
        int? fasteners,
        string? place,
        string path
    )
    {
        var taken = PartOut.TakeOut(default, default, 1, new(what, from, fasteners, place, null), Hand);
        Assert.Equal(path, Assert.Single(Assert.IsType<Failure.Invalid>(taken.Failure).Errors).Path);
    }

    [Fact]
    public void Fasteners_that_differ_need_a_note()
    {
        var part = Seat();
        Assert.Equal(
            "note",
            Assert.Single(Assert.IsType<Failure.Invalid>(part.Refit(3, null, Hand).Failure).Errors).Path
        );
        Assert.True(part.IsUnaccounted);
        Assert.True(part.Refit(3, "one stripped, renewed", Hand).IsSuccess);
        Assert.Equal((PartOutState.Refitted, 3), (part.State, part.FastenersBack));
    }

    [Fact]
    public void A_part_that_stays_out_needs_a_reason_and_can_come_back_on_the_list()
    {
        var part = Seat();
        Assert.IsType<Failure.Invalid>(part.LeaveOut(true, " ", Hand).Failure);
        Assert.True(part.LeaveOut(true, "customer fits it at home", Hand).IsSuccess);
        Assert.Equal(PartOutState.HandedOver, part.State);
        Assert.IsType<Failure.Refused>(part.Refit(4, null, Hand).Failure);
        Assert.IsType<Failure.Refused>(part.MoveTo("Bag 1", Hand).Failure);
        Assert.True(part.TakeOutAgain(Hand).IsSuccess);
        Assert.True(part.IsUnaccounted);
        Assert.Null(part.Note);
    }

    [Fact]
    public void No_order_of_taps_accounts_for_a_part_without_somebodys_word() =>
        Gen.Int[0, int.MaxValue - 1]
            .Sample(
                seed =>
                {
                    var random = new Random(seed);
                    var part = Seat();
                    for (var step = 0; step < 30; step++)
                    {
                        var was = part.State;
                        var outcome = random.Next(4) switch
                        {
                            0 => part.Refit(random.Next(6), random.Next(2) == 0 ? null : "renewed", Hand),
                            1 => part.LeaveOut(random.Next(2) == 0, random.Next(2) == 0 ? null : "sold", Hand),
                            2 => part.TakeOutAgain(Hand),
                            _ => part.MoveTo($"Bag {random.Next(3)}", Hand),
                        };
                        Assert.True(outcome.IsSuccess || part.State == was);
                        Assert.Equal(part.IsUnaccounted, part.SettledAt is null);
                        Assert.False(part.State != PartOutState.Out && part.FastenersBack != 4 && part.Note is null);
                        Assert.InRange(part.Moves.Count, 1, PartOut.MostMoves);
                        Assert.Equal(part.Place, part.Moves[^1].Place);
                    }
                },
                iter: 500
            );

    [Fact]
    public void Car_and_keys_keep_where_they_were()
    {
        var where = Whereabouts.Of(default);
        Assert.IsType<Failure.Invalid>(where.Note(null, " ", Hand).Failure);
        Assert.True(where.Note("Bay 1", "Hook 4", Hand).IsSuccess);
        Assert.True(where.Note("Yard", null, Hand).IsSuccess);
        Assert.True(where.Note("Yard", null, Hand).IsSuccess);
        Assert.Equal(("Yard", "Hook 4"), (where.Car, where.Keys));
        Assert.Equal(["Bay 1", "Yard"], where.CarMoves.Select(m => m.Place));
    }

    private static PartOut Seat() =>
        PartOut.TakeOut(default, default, 7, new("Seat", "front left", 4, "Shelf 3", null), Hand).Value;
}
