using ShopFloor.Domain.Common;
using ShopFloor.Domain.Progress;

namespace ShopFloor.Domain.Tests.Progress;

public sealed class ProgressLinkTests
{
    private static readonly DateTimeOffset Noon = new(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);
    private static readonly JobId Job = JobId.From(new Guid("01950000-0000-7000-8000-000000000001"));

    [Fact]
    public void A_token_is_43_letters_of_base64url_and_only_its_hash_is_kept()
    {
        var (link, token) = ProgressLink.Create(Job, null, Noon).Value;
        Assert.Matches("^[A-Za-z0-9_-]{43}$", token);
        Assert.Equal(ProgressToken.Hash(token), link.TokenHash);
        Assert.DoesNotContain(token, link.TokenHash, StringComparison.Ordinal);
    }

    [Fact]
    public void The_hash_is_plain_SHA_256() =>
        // FIPS 180-4 example: SHA-256 of "abc"
        Assert.Equal("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", ProgressToken.Hash("abc"));

    [Fact]
    public void Two_links_never_share_a_token() =>
        Assert.Equal(1000, Enumerable.Range(0, 1000).Select(_ => ProgressToken.New()).Distinct().Count());

    [Fact]
    public void A_link_opens_until_the_instant_it_expires()
    {
        var link = ProgressLink.Create(Job, 30, Noon).Value.Link;
        Assert.True(link.IsValidAt(Noon.AddDays(30).AddMilliseconds(-1)));
        Assert.False(link.IsValidAt(Noon.AddDays(30)));
    }

    [Fact]
    public void A_revoked_link_opens_no_more_and_keeps_its_first_revocation()
    {
        var link = ProgressLink.Create(Job, 30, Noon).Value.Link;
        link.Revoke(Noon.AddDays(1));
        link.Revoke(Noon.AddDays(2));
        Assert.False(link.IsValidAt(Noon.AddDays(1)));
        Assert.Equal(Noon.AddDays(1), link.RevokedAt);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(366)]
    public void A_link_is_not_valid_for_no_time_or_for_ever(int days) =>
        Assert.IsType<Failure.Invalid>(ProgressLink.Create(Job, days, Noon).Failure);
}
