using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.History;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.History;

/// <summary>The history of one job, or of the whole shop where no job is given.</summary>
public partial class HistoryPanel(ReadEvents read, ShopHead head)
{
    /// <summary>Lines of a job that are shown until all are asked for: what happened lately is nearly always enough.</summary>
    private const int MostOfJob = 25;

    /// <summary>The same for the whole shop.</summary>
    private const int MostOfShop = 100;

    private IReadOnlyList<EventView> events = [];
    private int most;
    private bool mayOpenJobs;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    [Parameter]
    public Guid? JobId { get; set; }

    protected override async Task<Failure?> LoadAsync()
    {
        most =
            most > 0 ? most
            : JobId is null ? MostOfShop
            : MostOfJob;
        mayOpenJobs = Actor.May(Permission.SeeOffice);
        zone = await head.ReadAsync(Closing) is { } shop ? TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone) : zone;
        var outcome = JobId is { } id
            ? await read.OfJobAsync(new JobId(id), Actor, Closing)
            : await read.NewestAsync(Actor, Closing);
        events = outcome.IsSuccess ? outcome.Value : [];
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => JobId is null || notice.JobId == JobId;

    private string Local(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture);
}
