using System.Globalization;
using ShopFloor.Application.Diary;
using ShopFloor.Domain.Diary;

namespace ShopFloor.Web.Features.Diary;

/// <summary>How the diary says things.</summary>
public static class DiaryWords
{
    public static string Day(DateOnly day) => day.ToString("ddd d MMM", CultureInfo.InvariantCulture);

    public static string LongDay(DateOnly day) => day.ToString("dddd d MMMM yyyy", CultureInfo.InvariantCulture);

    public static string Matter(DiaryMatter matter) =>
        matter switch
        {
            DiaryMatter.DropOff => "Drop-off",
            DiaryMatter.Part => "Part due",
            DiaryMatter.Promised => "Promised",
            DiaryMatter.Collection => "Collection",
            _ => "Remember",
        };

    /// <summary>E.g. "should have come 2 days ago".</summary>
    public static string Late(DiaryLine line)
    {
        var days = line.DaysOver == 1 ? "1 day" : $"{line.DaysOver} days";
        return line.Matter switch
        {
            DiaryMatter.DropOff => $"should have come {days} ago",
            DiaryMatter.Part => $"part overdue by {days}",
            DiaryMatter.Promised => $"promised {days} ago, not ready",
            DiaryMatter.Collection => $"should have been fetched {days} ago",
            _ => $"reminder of {days} ago",
        };
    }

    /// <summary>How a line stands, with a sign beside the word; empty where there is nothing to say.</summary>
    public static string Standing(DiaryLine line) =>
        (line.Matter, line.Standing) switch
        {
            (DiaryMatter.DropOff, DiaryStanding.Done) => "✓ is here",
            (DiaryMatter.Promised, DiaryStanding.Done) => "✓ ready",
            (_, DiaryStanding.Done) => "✓ done",
            (_, DiaryStanding.Confirmed) => "✓ confirmed",
            (_, DiaryStanding.OtherAsked) => "▲ asks for another time",
            (DiaryMatter.DropOff or DiaryMatter.Collection, _) => "○ not confirmed",
            _ => "",
        };

    public static string Agreed(AppointmentView view) =>
        view.Day is not { } day ? "No day is agreed."
        : view.Time is { } time ? $"{LongDay(day)}, {time}."
        : $"{LongDay(day)}, any time.";

    public static string Answer(AppointmentView view) =>
        view.Answer switch
        {
            AppointmentAnswer.Confirmed when view.ConfirmedBy is { } who => $"✓ Confirmed by {who}.",
            AppointmentAnswer.Confirmed => "✓ Confirmed at the desk.",
            AppointmentAnswer.OtherAsked => "▲ The customer asks for another time.",
            _ => "○ Not confirmed.",
        };

    /// <summary>Why to call, as the rest of a sentence.</summary>
    public static string Why(DiaryCall call) =>
        call.Reason switch
        {
            CallReason.NoDropOffAgreed => "no day is agreed for bringing the car",
            CallReason.OtherTimeAsked => "asks for another time",
            CallReason.NotConfirmed => "has not confirmed today's or tomorrow's time",
            CallReason.NoCollectionAgreed => $"the car is ready since {Since(call)}; no day is agreed for fetching it",
            CallReason.BalanceOpen => $"the job ended on {Since(call)} and money is owed",
            CallReason.OfferEnds => $"the offer ends on {Since(call)} without an answer",
            CallReason.OfferEnded => $"the offer ended on {Since(call)} without an answer",
            CallReason.CollectionTooEarly => $"fetches the car before {Since(call)}, the day for which it is promised",
            CallReason.OfferSilent => $"no answer to the offer of {Since(call)}",
            _ => "accepted; no job is opened yet",
        };

    /// <summary>E.g. "2 cars, room for 4".</summary>
    public static string Cars(DayCapacity day)
    {
        var cars = day.Cars == 1 ? "1 car" : $"{day.Cars} cars";
        return day.Room switch
        {
            null => cars,
            0 => $"{cars}: full",
            < 0 => $"{cars}, {-day.Room} more than fit",
            var room => $"{cars}, room for {room}",
        };
    }

    public static string People(DayCapacity day) =>
        day.IsOpen
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"{day.People} {(day.People == 1 ? "person" : "people")}, {day.Minutes / 60m:0.#} h"
            )
            : "nobody works";

    private static string Since(DiaryCall call) => call.Since is { } day ? Day(day) : "some time";
}
