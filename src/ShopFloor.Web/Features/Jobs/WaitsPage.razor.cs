using System.Globalization;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Jobs;

/// <summary>Everything that open jobs wait for, by whom it is waited for, with since when.</summary>
public partial class WaitsPage(ReadWaits read, ShopHead head)
{
    private Page<WaitView>? waits;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    protected override async Task<Failure?> LoadAsync()
    {
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        var outcome = await read.RunAsync(new PageRequest(1, PageRequest.LargestSize), Actor, Closing);
        waits = outcome.IsSuccess ? outcome.Value : null;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.JobId is not null;

    private string Day(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("ddd d MMM", CultureInfo.InvariantCulture);
}
