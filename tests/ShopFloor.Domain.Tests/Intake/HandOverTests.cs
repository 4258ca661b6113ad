using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using static ShopFloor.Domain.Tests.Intake.Sample;

namespace ShopFloor.Domain.Tests.Intake;

public class HandOverTests
{
    private static readonly PhotoId Left = Ids.New<PhotoId>(At);
    private static readonly PhotoId Right = Ids.New<PhotoId>(At.AddSeconds(1));

    private static readonly HandOverDetails Complete = new(
        81_040,
        [],
        2,
        [new WalkRoundLook(Left, null, true, null), new WalkRoundLook(Right, null, true, null)],
        null,
        Drawn
    );

    [Fact]
    public void A_complete_hand_over_is_recorded_with_the_balance_that_was_shown()
    {
        var handOver = Record(Complete).Value;

        Assert.Equal(81_040, handOver.OdometerKm);
        Assert.Equal((15_000, "EUR"), (handOver.BalanceMinor, handOver.BalanceCurrency));
    }

    [Fact]
    public void Nothing_may_be_left_out() =>
        Assert.Equal(
            ["keysReturned", "looks", "odometerKm", "signature", "warningLights"],
            PathsOf(Record(new HandOverDetails(null, null, null, null, null, null))).Order(StringComparer.Ordinal)
        );

    [Fact]
    public void Every_photo_of_the_drop_off_is_compared()
    {
        Assert.Equal(["looks"], PathsOf(Record(Complete with { Looks = [Complete.Looks![0]] })));
        Assert.Equal(
            ["looks[2].intakePhotoId"],
            PathsOf(
                Record(
                    Complete with
                    {
                        Looks = [.. Complete.Looks!, new(Ids.New<PhotoId>(At.AddHours(1)), null, true, null)],
                    }
                )
            )
        );
    }

    [Fact]
    public void A_difference_needs_words()
    {
        var changed = new WalkRoundLook(Right, null, IsSame: false, null);

        Assert.Equal(["looks[1].note"], PathsOf(Record(Complete with { Looks = [Complete.Looks![0], changed] })));
        Assert.True(
            Record(Complete with { Looks = [Complete.Looks![0], changed with { Note = "Sill polished" }] }).IsSuccess
        );
    }

    [Fact]
    public void A_lamp_that_was_not_lit_before_needs_a_note()
    {
        var lit = Complete with { WarningLights = [WarningLight.Airbag] };

        Assert.Equal(["note"], PathsOf(Record(lit)));
        Assert.True(Record(lit with { Note = "Fault read and cleared by the maker's garage on Monday" }).IsSuccess);
    }

    [Fact]
    public void An_odometer_that_went_back_needs_a_note()
    {
        Assert.Equal(["odometerKm"], PathsOf(Record(Complete with { OdometerKm = 80_999 })));
        Assert.True(Record(Complete with { OdometerKm = 80_999, Note = "Instruments changed" }).IsSuccess);
    }

    [Fact]
    public void As_many_keys_go_back_as_came_in()
    {
        Assert.Equal(["keysReturned"], PathsOf(Record(Complete with { KeysReturned = 1 })));
        Assert.True(Record(Complete with { KeysReturned = 1, Note = "Second key posted" }).IsSuccess);
    }

    [Fact]
    public void A_car_that_came_half_built_is_compared_with_nothing()
    {
        var outcome = HandOver.Record(
            Ids.New<HandOverId>(At),
            Ids.New<JobId>(At),
            dropOff: null,
            [],
            Complete with
            {
                Looks = [],
                WarningLights = [WarningLight.Abs],
            },
            new Money(0, Euro),
            At
        );

        Assert.True(outcome.IsSuccess);
    }

    [Fact]
    public void Erasing_forgets_who_signed()
    {
        var handOver = Record(Complete with { Note = "Neighbour collects" }).Value;

        handOver.ErasePersonalData();

        Assert.Equal(Customer.ErasedName, handOver.Signature.SignedBy);
        Assert.Null(handOver.Note);
    }

    private static Outcome<HandOver> Record(HandOverDetails details) =>
        HandOver.Record(
            Ids.New<HandOverId>(At),
            Ids.New<JobId>(At),
            DropOff(),
            [Left, Right],
            details,
            new Money(15_000, Euro),
            At
        );
}
