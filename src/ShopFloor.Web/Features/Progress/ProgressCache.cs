using System.Collections.Concurrent;
using ShopFloor.Application.Common;
using ShopFloor.Application.Progress;

namespace ShopFloor.Web.Features.Progress;

/// <summary>A rendered answer to a link.</summary>
public sealed record KeptPage(ReadOnlyMemory<byte> Content, OpenLink Link);

/// <summary>
/// Rendered pages and papers of customers' links, for at most a minute and never longer than the link is valid. A page is kept together with the count of changes at which it was read; a
/// notice about its job, or one about no job (the shop, a customer, a car), makes it too old. While notices may be missed nothing is kept and nothing kept is given out.
/// </summary>
public sealed class ProgressCache : IDisposable
{
    public static readonly TimeSpan Longest = TimeSpan.FromSeconds(60);

    private const int MostPages = 2_000;
    private const int MostJobs = 10_000;
    private const long MostBytes = 64 * 1024 * 1024;

    private readonly ConcurrentDictionary<(string TokenHash, string Variant), Entry> pages = new();
    private readonly ConcurrentDictionary<Guid, long> jobs = new();
    private readonly ChangeHub hub;
    private readonly IChangeNotices notices;
    private readonly TimeProvider clock;
    private long changes;
    private long ofAll;
    private long bytes;

    public ProgressCache(ChangeHub hub, IChangeNotices notices, TimeProvider clock)
    {
        (this.hub, this.notices, this.clock) = (hub, notices, clock);
        hub.Heard += Hear;
    }

    private sealed record Entry(KeptPage Page, long ReadAt, DateTimeOffset Until);

    /// <summary>Taken before the state is read, and handed in with what was made of it.</summary>
    public long Mark() => Interlocked.Read(ref changes);

    /// <summary>The page that is kept and still true; null where it must be made anew.</summary>
    public KeptPage? Find(string tokenHash, string variant) =>
        notices.IsUp
        && pages.TryGetValue((tokenHash, variant), out var entry)
        && entry.Until > clock.GetUtcNow()
        && IsTrue(entry)
            ? entry.Page
            : null;

    /// <param name="mark">From <see cref="Mark"/>, before the state was read.</param>
    public void Keep(string tokenHash, string variant, KeptPage page, long mark)
    {
        if (!notices.IsUp)
        {
            return;
        }

        if (pages.Count >= MostPages || Interlocked.Read(ref bytes) > MostBytes)
        {
            pages.Clear();
            Interlocked.Exchange(ref bytes, 0);
        }

        var until = clock.GetUtcNow() + Longest;
        var entry = new Entry(page, mark, until < page.Link.ExpiresAt ? until : page.Link.ExpiresAt);
        pages[(tokenHash, variant)] = entry;
        Interlocked.Add(ref bytes, page.Content.Length);
    }

    public void Dispose() => hub.Heard -= Hear;

    private bool IsTrue(Entry entry) =>
        Interlocked.Read(ref ofAll) <= entry.ReadAt
        && (!jobs.TryGetValue(entry.Page.Link.Job.Value, out var changed) || changed <= entry.ReadAt);

    private void Hear(ChangeNotice notice)
    {
        var now = Interlocked.Increment(ref changes);
        if (notice.JobId is { } job && jobs.Count < MostJobs)
        {
            jobs[job] = now;
            return;
        }

        Interlocked.Exchange(ref ofAll, now);
        jobs.Clear();
    }
}
