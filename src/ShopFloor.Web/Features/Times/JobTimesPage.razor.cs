using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Application.Times;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Times;

/// <summary>Every time on one job with its trace.</summary>
public partial class JobTimesPage(ReadTimes read, ReadJobs readJobs, ShopHead head)
{
    private JobTimesView? times;
    private JobView? job;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    [Parameter]
    public Guid Id { get; set; }

    protected override Guid? Subject => Id;

    protected override async Task<Failure?> LoadAsync()
    {
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        var outcome = await read.OfJobAsync(new JobId(Id), Actor, Closing);
        var found = await readJobs.OneAsync(new JobId(Id), Actor, Closing);
        times = outcome.IsSuccess ? outcome.Value : null;
        job = found.IsSuccess ? found.Value : null;
        return outcome.Failure ?? found.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.JobId == Id;
}
