using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Routing;
using ShopFloor.Application.Times;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Times;
using ShopFloor.Web.Layout;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Times;

/// <summary>Typing in what stood on paper while the server could not be reached: a line goes into the device's outbox like a tap.</summary>
public partial class FloorPaperPage(ReadJobs readJobs, ReadTimes readTimes, ShopHead head, TimeProvider clock)
{
    private const int MostTyped = 20;

    private IReadOnlyList<JobListItem> cars = [];
    private IReadOnlyList<(PersonId Id, string Name)> people = [];
    private IReadOnlyList<SpellView> typed = [];
    private JobView? job;
    private Failure? failure;
    private string today = "";
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    [CascadingParameter]
    public HttpContext HttpContext { get; set; } = default!;

    /// <summary>The car whose sheet is typed in; absent to choose one.</summary>
    [SupplyParameterFromQuery(Name = "job")]
    public Guid? Asked { get; set; }

    private TimeProvider Clock => clock;

    protected override async Task OnInitializedAsync()
    {
        var (actor, ct) = (Actors.Of(HttpContext), HttpContext.RequestAborted);
        if (await head.ReadAsync(ct) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        today = TimeZoneInfo.ConvertTime(clock.GetUtcNow(), zone).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        if (Asked is { } id)
        {
            var found = await readJobs.OneAsync(new JobId(id), actor, ct);
            failure = found.Failure;
            job = found.IsSuccess && found.Value.State == JobState.Open ? found.Value : null;
        }

        if (job is null)
        {
            var wall = await readJobs.WallAsync(actor, ct);
            cars = wall.IsSuccess ? wall.Value : [];
            failure ??= wall.Failure;
            return;
        }

        var known = await readTimes.PeopleAsync(actor, ct);
        people = known.IsSuccess ? known.Value : [];
        var times = await readTimes.OfJobAsync(job.Id, actor, ct);
        typed = times.IsSuccess
            ?
            [
                .. times
                    .Value.Spells.Where(s => s.FromPaper != PaperPart.None)
                    .OrderByDescending(s => s.StartedAt)
                    .Take(MostTyped),
            ]
            : [];
        failure ??= known.Failure ?? times.Failure;
    }

    private static string Part(SpellView spell) =>
        spell.FromPaper switch
        {
            PaperPart.Start => "beginning from paper",
            PaperPart.End => "end from paper",
            _ => "from paper",
        };
}
