using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using static ShopFloor.Domain.Tests.Intake.Sample;

namespace ShopFloor.Domain.Tests.Intake;

public class UploadLinkTests
{
    [Fact]
    public void A_link_works_until_it_expires()
    {
        var link = Create();

        Assert.True(link.TakePhoto(link.ExpiresAt.AddSeconds(-1)).IsSuccess);
        Assert.IsType<Failure.NotFound>(link.TakePhoto(link.ExpiresAt).Failure);
    }

    [Fact]
    public void A_revoked_link_answers_like_one_that_never_was()
    {
        var link = Create();
        link.Revoke(At);

        Assert.IsType<Failure.NotFound>(link.TakePhoto(At.AddMinutes(1)).Failure);
    }

    [Fact]
    public void A_link_takes_a_hundred_photos()
    {
        var link = Create();
        for (var i = 0; i < UploadLink.MostPhotos; i++)
        {
            Assert.True(link.TakePhoto(At).IsSuccess);
        }

        Assert.Equal(["linkFull"], CodesOf(link.TakePhoto(At)));
    }

    private static UploadLink Create() =>
        UploadLink.Create(Ids.New<UploadLinkId>(At), Ids.New<JobId>(At), PhotoKind.WalkRound, new string('a', 64), At);
}
