using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Inspection;

/// <summary>The owner sees what failed, and why, over the months.</summary>
public partial class NonconformancesPage(ReadNonconformances read, ShopHead head)
{
    private static readonly int[] Choices = [3, 6, 12, 24, ReadNonconformances.MostMonths];

    private FaultReport? report;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private int months = 6;

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.RunAsync(months, Actor, Closing);
        report = outcome.IsSuccess ? outcome.Value : report;
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "inspection";

    private async Task ChooseAsync(ChangeEventArgs change)
    {
        if (int.TryParse(change.Value as string, CultureInfo.InvariantCulture, out var chosen))
        {
            months = chosen;
            await ReloadAsync();
        }
    }

    private string When(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    private static string Name(FaultMonth month) =>
        new DateOnly(month.Year, month.Month, 1).ToString("MMM yy", CultureInfo.InvariantCulture);

    private static string Cause(FaultCause? cause) => cause is { } known ? NonconformanceWords.Of(known) : "not said";
}
