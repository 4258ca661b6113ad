using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Times;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Times;

/// <summary>Everybody's times of a day, forgotten timers first, each with its trace and the way to correct it.</summary>
public partial class TimesPage(ReadTimes read, ShopHead head)
{
    private DateOnly? chosen;
    private string? dayProblem;
    private DayView? day;
    private IReadOnlyList<SpellView> forgotten = [];
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    protected override async Task<Failure?> LoadAsync()
    {
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        var running = await read.ForgottenAsync(Actor, Closing);
        forgotten = running.IsSuccess ? running.Value : [];
        var outcome = await read.DayAsync(chosen, Actor, Closing);
        dayProblem = day is null ? null : outcome.Failure?.Sentence;
        if (outcome.IsSuccess)
        {
            day = outcome.Value;
        }

        return day is null ? outcome.Failure ?? running.Failure : null;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject is "shopTime" or "operation";

    private async Task ChooseAsync(ChangeEventArgs e)
    {
        chosen = DateOnly.TryParseExact(
            e.Value as string,
            "yyyy-MM-dd",
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var typed
        )
            ? typed
            : null;
        await ReloadAsync();
    }
}
