using ShopFloor.Application.Backups;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Home;

/// <summary>The first question of the day: what is due, what waits for whom, who has not answered.</summary>
public partial class HomePage(
    ReadJobs readJobs,
    ListQuotes listQuotes,
    ReadBackups readBackups,
    ShopHead head,
    TimeProvider clock
)
{
    private const int DaysAhead = 7;
    private IReadOnlyList<JobListItem> due = [];
    private IReadOnlyList<JobListItem> waiting = [];
    private IReadOnlyList<QuoteRow> quotes = [];
    private BackupStanding? backups;

    protected override async Task<Failure?> LoadAsync()
    {
        if (Can(Permission.SeeFloor))
        {
            var jobs = await readJobs.ListAsync(
                new JobFilter(),
                new PageRequest(1, PageRequest.LargestSize),
                Actor,
                Closing
            );
            if (!jobs.TryGet(out var page, out var failure))
            {
                return failure;
            }

            var soon = await TodayAsync();
            due = [.. page.Items.Where(j => j.PromisedOn <= soon.AddDays(DaysAhead)).OrderBy(j => j.PromisedOn)];
            waiting = [.. page.Items.Where(j => j.WaitsFor.Count > 0)];
        }

        if (Can(Permission.SeeMoney))
        {
            var open = await listQuotes.RunAsync(
                new ListQuotes.Filter(null, QuoteState.Sent, null, PageRequest.First),
                Actor,
                Closing
            );
            if (!open.TryGet(out var page, out var failure))
            {
                return failure;
            }

            quotes = page.Items;
        }

        if (Can(Permission.RunShop))
        {
            var standing = await readBackups.RunAsync(Actor, Closing);
            if (!standing.TryGet(out backups, out var failure))
            {
                return failure;
            }
        }

        return null;
    }

    protected override bool Concerns(ChangeNotice notice) => true;

    private bool Can(Permission permission) => Actor is not null && Actor.May(permission);

    private string LinkTo(JobListItem job) => Can(Permission.SeeOffice) ? $"jobs/{job.Id}" : $"floor/jobs/{job.Id}";

    private async Task<DateOnly> TodayAsync()
    {
        var zone = await head.ReadAsync(Closing) is { } shop
            ? TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone)
            : TimeZoneInfo.Utc;
        return DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(clock.GetUtcNow(), zone).DateTime);
    }
}
