using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Jobs;

/// <summary>One job for the office: where the car is, what it waits for, its route, and everything the other parts of the program know of it.</summary>
public partial class JobPage(ReadJobs read, ShopHead head)
{
    private JobView? job;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private Panel open;

    /// <summary>Which of the job's changes is being filled in.</summary>
    public enum Panel
    {
        None,
        Promise,
        Isolation,
        Cancel,
    }

    [Parameter]
    public Guid Id { get; set; }

    private bool MayRun => Actor.May(Permission.RunJobs);

    protected override async Task<Failure?> LoadAsync()
    {
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        var outcome = await read.OneAsync(new JobId(Id), Actor, Closing);
        job = outcome.IsSuccess ? outcome.Value : null;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.JobId == Id;

    private void Show(Panel panel) => open = panel;

    private void Close() => open = Panel.None;

    private void Take(JobView changed)
    {
        job = changed;
        open = Panel.None;
    }

    private static string Day(DateOnly day) => day.ToString("ddd d MMM yyyy", CultureInfo.InvariantCulture);

    private string Time(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM HH:mm", CultureInfo.InvariantCulture);
}
