using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using static ShopFloor.Domain.Tests.Intake.Sample;

namespace ShopFloor.Domain.Tests.Intake;

public class CarReturnTests
{
    private static readonly PhotoId Left = Ids.New<PhotoId>(At);
    private static readonly CustomerPartId Panels = Ids.New<CustomerPartId>(At);

    private static readonly CarReturnDetails Whole = new(
        81_040,
        [],
        25,
        2,
        [new WalkRoundLook(Left, null, true, null)],
        [new PartBack(Panels, true, null)],
        [new RemovedPart("Rear seat", RemovedPartPlace.InBox)],
        "Carpet cut behind the seats; left plate tacked, its edges are open.",
        null,
        Drawn
    );

    [Fact]
    public void A_complete_return_keeps_parts_words_balance_and_the_hash_of_what_was_read()
    {
        var back = Record(Whole).Value;

        Assert.Equal(RemovedPartPlace.InBox, Assert.Single(back.RemovedParts).Place);
        Assert.True(Assert.Single(back.PartsBack).IsBack);
        Assert.Equal((-5_000, "EUR"), (back.BalanceMinor, back.BalanceCurrency));
        Assert.Equal(ReturnNotice.Current.Hash, back.NoticeHash);
    }

    [Fact]
    public void Nothing_may_be_left_out() =>
        Assert.Equal(
            [
                "fuelPercent",
                "keysReturned",
                "leftOpen",
                "looks",
                "odometerKm",
                "partsBack",
                "removedParts",
                "signature",
                "warningLights",
            ],
            PathsOf(Record(new CarReturnDetails(null, null, null, null, null, null, null, null, null, null)))
                .Order(StringComparer.Ordinal)
        );

    [Fact]
    public void A_part_that_stays_needs_words_and_a_strange_one_is_refused()
    {
        Assert.Equal(
            ["partsBack[0].note"],
            PathsOf(Record(Whole with { PartsBack = [new PartBack(Panels, false, null)] }))
        );
        Assert.True(
            Record(Whole with { PartsBack = [new PartBack(Panels, false, "At the painter, sent on Friday")] }).IsSuccess
        );
        var strange = new PartBack(Ids.New<CustomerPartId>(At.AddHours(1)), true, null);
        Assert.Equal(
            ["partsBack[1].partId"],
            PathsOf(Record(Whole with { PartsBack = [.. Whole.PartsBack!, strange] }))
        );
        Assert.Equal(
            ["partsBack[1].partId"],
            PathsOf(Record(Whole with { PartsBack = [.. Whole.PartsBack!, Whole.PartsBack![0]] }))
        );
    }

    [Fact]
    public void A_removed_part_goes_back_fitted_or_in_a_box_and_none_is_an_answer()
    {
        Assert.Equal(
            ["removedParts[0].what", "removedParts[0].place"],
            PathsOf(Record(Whole with { RemovedParts = [new RemovedPart(" ", null)] }))
        );
        Assert.True(Record(Whole with { RemovedParts = [] }).IsSuccess);
        Assert.Equal(
            ["removedParts"],
            PathsOf(
                Record(
                    Whole with
                    {
                        RemovedParts = [.. Enumerable.Repeat(Whole.RemovedParts![0], CarReturn.MostRemovedParts + 1)],
                    }
                )
            )
        );
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(101)]
    public void Fuel_is_a_share_of_the_tank(int percent) =>
        Assert.Equal(["fuelPercent"], PathsOf(Record(Whole with { FuelPercent = percent })));

    [Fact]
    public void The_notice_says_that_nothing_is_certified_and_who_decides()
    {
        var words = string.Join(' ', ReturnNotice.Current.Cautions.Select(c => c.Text));

        Assert.Contains("not inspected as a finished bar", words, StringComparison.Ordinal);
        Assert.Contains("certifies nothing", words, StringComparison.Ordinal);
        Assert.Contains("may not be fit for road use", words, StringComparison.Ordinal);
        Assert.Contains("the rule book, local code and that person decide", words, StringComparison.Ordinal);
    }

    [Fact]
    public void Erasing_leaves_what_is_open_on_the_car_and_no_name()
    {
        var back = Record(Whole with { Note = "Fetched by a friend" }).Value;

        back.ErasePersonalData();

        Assert.Null(back.Note);
        Assert.Equal(Customer.ErasedName, back.Signature.SignedBy);
        Assert.Equal(Whole.LeftOpen, back.LeftOpen);
    }

    private static Outcome<CarReturn> Record(CarReturnDetails details) =>
        CarReturn.Record(
            Ids.New<CarReturnId>(At),
            Ids.New<JobId>(At),
            DropOff(),
            [Left],
            [Panels],
            details,
            new Money(-5_000, Euro),
            At.AddDays(3)
        );
}
