using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Jobs.Route;

/// <summary>The route of one job: what the build-sequence check says of it, what it waits for from outside, rework, and the owner's decisions.</summary>
public partial class JobRoutePage(ReadJobs readJobs, ReadJobRoute readRoute, ShopHead head)
{
    private JobView? job;
    private JobRouteView? route;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    [Parameter]
    public Guid Id { get; set; }

    private bool MayDecide => Actor.May(Permission.DecideOnRoutes);

    protected override async Task<Failure?> LoadAsync()
    {
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        var jobs = await readJobs.OneAsync(new JobId(Id), Actor, Closing);
        if (!jobs.TryGet(out job, out var failure))
        {
            return failure;
        }

        var routes = await readRoute.RunAsync(new JobId(Id), Actor, Closing);
        route = routes.IsSuccess ? routes.Value : null;
        return routes.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.JobId == Id;

    private string Time(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM HH:mm", CultureInfo.InvariantCulture);

    private static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];
}
