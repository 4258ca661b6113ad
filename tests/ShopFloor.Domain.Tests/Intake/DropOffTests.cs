using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using static ShopFloor.Domain.Tests.Intake.Sample;

namespace ShopFloor.Domain.Tests.Intake;

public class DropOffTests
{
    [Fact]
    public void A_record_may_be_filled_in_piece_by_piece_and_names_what_is_missing()
    {
        var dropOff = DropOff(new DropOffDetails(OdometerKm: 81_000));

        Assert.Equal(
            ["warningLights", "fuelPercent", "keys", "battery", "conditionFound", "photoConsent"],
            dropOff.Missing.Select(m => m.Code)
        );
        Assert.True(dropOff.Change(Complete).IsSuccess);
        Assert.Empty(dropOff.Missing);
    }

    [Fact]
    public void Not_looked_at_is_not_the_same_as_no_lamp_lit()
    {
        Assert.Contains(DropOff(Complete with { WarningLights = null }).Missing, m => m.Code == "warningLights");
        Assert.Empty(DropOff(Complete with { WarningLights = [] }).Missing);
    }

    [Fact]
    public void Every_figure_out_of_range_gets_its_own_sentence()
    {
        var outcome = Domain.Intake.DropOff.Begin(
            Ids.New<DropOffId>(At),
            Ids.New<JobId>(At),
            new DropOffDetails(
                OdometerKm: -1,
                FuelPercent: 101,
                Keys: 21,
                StaysFitted: [.. Enumerable.Repeat("x", 41)],
                InTheCar: ["ok", new string('x', 201)]
            ),
            At
        );

        Assert.Equal(
            ["fuelPercent", "inTheCar[1]", "keys", "odometerKm", "staysFitted"],
            PathsOf(outcome).Order(StringComparer.Ordinal)
        );
    }

    [Fact]
    public void An_incomplete_record_cannot_be_signed_and_a_complete_one_can()
    {
        var dropOff = DropOff(Complete with { Battery = null });

        Assert.Equal(["battery"], CodesOf(dropOff.Authorise(Drawn, AuthorisationNotice.Current, null, At)));

        Assert.True(dropOff.Change(Complete).IsSuccess);
        var difference = new ShownDifference(12_500, "EUR", 1.5m);
        Assert.True(dropOff.Authorise(Drawn, AuthorisationNotice.Current, difference, At).IsSuccess);
        Assert.Equal(AuthorisationNotice.Current.Hash, dropOff.Authorisation!.NoticeHash);
        Assert.Equal(difference, dropOff.Authorisation.ShownDifference);
    }

    [Fact]
    public void What_was_signed_for_cannot_be_changed_until_the_authorisation_is_withdrawn()
    {
        var dropOff = Authorised();

        Assert.Equal(["authorised"], CodesOf(dropOff.Change(Complete)));
        Assert.Equal(["authorised"], CodesOf(dropOff.Authorise(Drawn, AuthorisationNotice.Current, null, At)));

        Assert.True(dropOff.WithdrawAuthorisation().IsSuccess);
        Assert.True(dropOff.Change(Complete).IsSuccess);
        Assert.Equal(["notAuthorised"], CodesOf(dropOff.WithdrawAuthorisation()));
    }

    [Fact]
    public void The_notice_carries_cautions_and_road_use_and_its_hash_follows_every_word()
    {
        var notice = AuthorisationNotice.Current;

        Assert.NotEmpty(notice.Cautions);
        Assert.NotEmpty(notice.RoadUse);
        Assert.Matches("^[0-9a-f]{64}$", notice.Hash);
        Assert.NotEqual(notice.Hash, (notice with { Authorisation = notice.Authorisation + " " }).Hash);
        Assert.NotEqual(notice.Hash, (notice with { RoadUse = [.. notice.RoadUse.Skip(1)] }).Hash);
    }

    [Fact]
    public void Erasing_forgets_signature_and_notes_but_not_that_the_work_was_authorised()
    {
        var dropOff = Authorised();

        dropOff.ErasePersonalData();

        Assert.Equal(Customer.ErasedName, dropOff.Authorisation!.Signature.SignedBy);
        Assert.Empty(dropOff.Authorisation.Signature.Strokes);
        Assert.Equal(At, dropOff.Authorisation.Signature.SignedAt);
        Assert.Null(dropOff.Note);
        Assert.Null(dropOff.KeysNote);
        Assert.Empty(dropOff.InTheCar);
        Assert.Equal(81_000, dropOff.OdometerKm);
    }

    private static DropOff Authorised()
    {
        var dropOff = DropOff();
        Assert.True(dropOff.Authorise(Drawn, AuthorisationNotice.Current, null, At).IsSuccess);
        return dropOff;
    }
}
