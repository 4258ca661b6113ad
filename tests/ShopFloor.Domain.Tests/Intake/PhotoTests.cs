using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using static ShopFloor.Domain.Tests.Intake.Sample;

namespace ShopFloor.Domain.Tests.Intake;

public class PhotoTests
{
    private static readonly PictureFacts Picture = new("a", "b", "c", 640, 480, null);

    [Theory]
    [InlineData(0, 0, true)]
    [InlineData(1, 1, true)]
    [InlineData(-0.001, 0.5, false)]
    [InlineData(0.5, 1.001, false)]
    [InlineData(double.NaN, 0.5, false)]
    public void A_place_lies_on_the_plan(double x, double y, bool isTaken) =>
        Assert.Equal(isTaken, Add(new PlanPlace(x, y)).IsSuccess);

    [Fact]
    public void A_photo_is_placed_and_taken_off_the_plan_again()
    {
        var photo = Add(null).Value;
        Assert.Null(photo.Place);

        Assert.True(photo.Describe(new PlanPlace(0.25, 0.75), "Left sill").IsSuccess);
        Assert.Equal(new PlanPlace(0.25, 0.75), photo.Place);

        Assert.True(photo.Describe(null, null).IsSuccess);
        Assert.Null(photo.Place);
    }

    [Fact]
    public void A_removed_photo_keeps_its_hashes_and_nothing_else_can_be_done_to_it()
    {
        var photo = Add(null).Value;

        Assert.True(photo.Remove(At).IsSuccess);

        Assert.Equal("a", photo.OriginalHash);
        Assert.Equal(["photoRemoved"], CodesOf(photo.Remove(At)));
        Assert.Equal(["photoRemoved"], CodesOf(photo.Describe(null, null)));
        Assert.Equal(["photoRemoved"], CodesOf(photo.Prove(Ids.New<ReadingId>(At))));
    }

    [Fact]
    public void A_photo_proves_one_reading_only()
    {
        var photo = Add(null).Value;
        var reading = Ids.New<ReadingId>(At);

        Assert.True(photo.Prove(reading).IsSuccess);
        Assert.True(photo.Prove(reading).IsSuccess);
        Assert.Equal(["photoTaken"], CodesOf(photo.Prove(Ids.New<ReadingId>(At.AddMinutes(1)))));
    }

    private static Outcome<Photo> Add(PlanPlace? place) =>
        Photo.Add(Ids.New<PhotoId>(At), Ids.New<JobId>(At), PhotoKind.WalkRound, Picture, At, place: place);
}
