using Microsoft.Extensions.Time.Testing;
using ShopFloor.Application.Common;
using ShopFloor.Application.Progress;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Progress;

namespace ShopFloor.Web.Tests.Features.Progress;

/// <summary>How long a rendered page is given out.</summary>
public sealed class ProgressCacheTests
{
    private const string Hash = "0123";
    private static readonly DateTimeOffset Noon = new(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);
    private readonly FakeTimeProvider clock = new(Noon);
    private readonly ChangeHub hub = new();
    private readonly Guid job = Guid.CreateVersion7(Noon);

    [Fact]
    public void A_page_is_kept_for_a_minute_for_its_token_and_language_only()
    {
        using var cache = new ProgressCache(hub, hub, clock);
        var page = Page(Noon.AddDays(90));
        cache.Keep(Hash, "en", page, cache.Mark());
        Assert.Same(page, cache.Find(Hash, "en"));
        Assert.Null(cache.Find(Hash, "de"));
        Assert.Null(cache.Find("4567", "en"));
        clock.Advance(ProgressCache.Longest - TimeSpan.FromMilliseconds(1));
        Assert.Same(page, cache.Find(Hash, "en"));
        clock.Advance(TimeSpan.FromMilliseconds(1));
        Assert.Null(cache.Find(Hash, "en"));
    }

    [Fact]
    public void A_page_never_outlives_its_link()
    {
        using var cache = new ProgressCache(hub, hub, clock);
        cache.Keep(Hash, "en", Page(Noon.AddSeconds(10)), cache.Mark());
        clock.Advance(TimeSpan.FromSeconds(9));
        Assert.NotNull(cache.Find(Hash, "en"));
        clock.Advance(TimeSpan.FromSeconds(1));
        Assert.Null(cache.Find(Hash, "en"));
    }

    [Fact]
    public void A_change_of_the_job_or_of_the_shop_drops_it_and_one_of_another_job_does_not()
    {
        using var cache = new ProgressCache(hub, hub, clock);
        cache.Keep(Hash, "en", Page(Noon.AddDays(1)), cache.Mark());
        Hear(Guid.CreateVersion7(Noon));
        Assert.NotNull(cache.Find(Hash, "en"));
        Hear(job);
        Assert.Null(cache.Find(Hash, "en"));
        cache.Keep(Hash, "en", Page(Noon.AddDays(1)), cache.Mark());
        Assert.NotNull(cache.Find(Hash, "en"));
        Hear(null);
        Assert.Null(cache.Find(Hash, "en"));
    }

    [Fact]
    public void What_changed_while_the_page_was_made_makes_it_too_old()
    {
        using var cache = new ProgressCache(hub, hub, clock);
        var mark = cache.Mark();
        Hear(job);
        cache.Keep(Hash, "en", Page(Noon.AddDays(1)), mark);
        Assert.Null(cache.Find(Hash, "en"));
    }

    [Fact]
    public void While_notices_are_down_nothing_is_kept_and_nothing_kept_is_given_out()
    {
        var notices = new Notices { IsUp = true };
        using var cache = new ProgressCache(hub, notices, clock);
        cache.Keep(Hash, "en", Page(Noon.AddDays(1)), cache.Mark());
        notices.IsUp = false;
        Assert.Null(cache.Find(Hash, "en"));
        cache.Keep(Hash, "de", Page(Noon.AddDays(1)), cache.Mark());
        notices.IsUp = true;
        Assert.NotNull(cache.Find(Hash, "en"));
        Assert.Null(cache.Find(Hash, "de"));
    }

    private void Hear(Guid? of) => hub.Deliver(new ChangeNotice(1, "job.promiseMoved", "job", of ?? Guid.Empty, of));

    private KeptPage Page(DateTimeOffset expires) =>
        new(new byte[] { 1 }, new OpenLink(Ids.New<ProgressLinkId>(Noon), JobId.From(job), expires));

    private sealed class Notices : IChangeNotices
    {
        public bool IsUp { get; set; }

        public Task PublishAsync(IReadOnlyList<ChangeNotice> notices, CancellationToken ct) => Task.CompletedTask;

        public IAsyncEnumerable<ChangeNotice> ListenAsync(CancellationToken ct) =>
            AsyncEnumerable.Empty<ChangeNotice>();
    }
}
