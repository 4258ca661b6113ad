using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>On which local day money is booked: never on a day that was counted and closed.</summary>
internal static class MoneyDays
{
    /// <summary>The oldest day that money is booked on.</summary>
    private const int OldestDays = 2 * 366;

    /// <summary>The day wished for where it is open; without a wish today, or the next day that is not closed.</summary>
    public static async Task<Outcome<DateOnly>> OpenAsync(CommandScope scope, DateOnly? wish)
    {
        await LockAsync(scope);
        var today = (await scope.ShopAsync()).LocalDay(scope.Now);
        if (wish is { } day)
        {
            if (day > today || day < today.AddDays(-OldestDays))
            {
                return Failure.Field("on", "The day must not lie in the future or more than two years back.");
            }

            return await IsClosedAsync(scope, day)
                ? Failure.Field(
                    "on",
                    $"{day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture)} was counted and closed. Leave the day open, and it is booked on the next open day."
                )
                : day;
        }

        for (day = today; await IsClosedAsync(scope, day); day = day.AddDays(1)) { }

        return day;
    }

    /// <summary>Nobody else books money or closes a day until this command has ended: who counts must see every entry of the day.</summary>
    public static Task LockAsync(CommandScope scope) => scope.LockSeriesAsync("R");

    private static Task<bool> IsClosedAsync(CommandScope scope, DateOnly day) =>
        scope.Db.Set<DayClose>().AnyAsync(d => d.Day == day, scope.Cancellation);
}
