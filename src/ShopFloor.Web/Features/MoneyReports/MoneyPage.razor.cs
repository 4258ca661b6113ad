using System.Globalization;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.MoneyReports;

/// <summary>The day's money, counted and closed; tax and journal for the owner.</summary>
public partial class MoneyPage(GetDay get, ShopHead head)
{
    private DayView? day;
    private DateOnly? wanted;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    protected override async Task<Failure?> LoadAsync()
    {
        zone = TimeZoneInfo.FindSystemTimeZoneById((await head.ReadAsync(Closing))?.TimeZone ?? "UTC");
        var outcome = await get.RunAsync(wanted, Actor, Closing);
        day = outcome.IsSuccess ? outcome.Value : day;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject is "account" or "day";

    private async Task ShowAsync(DateOnly? chosen)
    {
        var outcome = await get.RunAsync(chosen, Actor, Closing);
        if (Accepted(outcome, out var found))
        {
            Show(found);
        }
    }

    private void Show(DayView found) => (day, wanted) = (found, found.Day);

    private string Local(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy, HH:mm", CultureInfo.CurrentCulture);

    private static string Iso(DateOnly date) => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static DateOnly? ReadDay(object? typed) =>
        DateOnly.TryParseExact(
            typed as string,
            "yyyy-MM-dd",
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var read
        )
            ? read
            : null;
}
