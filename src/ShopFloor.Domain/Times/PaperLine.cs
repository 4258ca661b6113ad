using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Times;

/// <summary>Which part of a spell of time stood on paper and was typed in afterwards.</summary>
public enum PaperPart
{
    None,
    Start,
    End,
    Whole,
}

/// <summary>One line of the sheet that people fill in by pen while the server cannot be reached: when somebody began an operation, when they ended it, and whether it is done.</summary>
public sealed record PaperLine
{
    /// <summary>A server that was away for longer is a case for the office, time by time. Own choice, no source.</summary>
    public static readonly TimeSpan Oldest = TimeSpan.FromDays(31);

    private PaperLine(DateTimeOffset? start, DateTimeOffset? end, bool isDone) =>
        (Start, End, IsDone) = (start, end, isDone);

    /// <summary>Null where it began before, by a tap or by another line.</summary>
    public DateTimeOffset? Start { get; }

    /// <summary>Null where the person is still on it.</summary>
    public DateTimeOffset? End { get; }

    /// <summary>The box was ticked: the operation is done.</summary>
    public bool IsDone { get; }

    /// <summary>What stands on the paper, by the shop's clock. An end that shows an earlier time of day than the beginning is of the next day.</summary>
    /// <param name="on">The local day of the line.</param>
    /// <param name="began">Such as <c>09:10</c>.</param>
    /// <param name="ended">Such as <c>11:30</c>.</param>
    /// <param name="isDone">The box is ticked.</param>
    /// <param name="shop">Whose clock it is.</param>
    /// <param name="now">The server's time.</param>
    public static Outcome<PaperLine> Read(
        DateOnly? on,
        string? began,
        string? ended,
        bool isDone,
        Shop shop,
        DateTimeOffset now
    )
    {
        var errors = new FieldErrors();
        var (start, end) = (Clock(began, "beganAtClock", errors), Clock(ended, "endedAtClock", errors));
        errors.AddIf(on is null, "on", "Give the day that stands on the paper.");
        errors.AddIf(
            !errors.Any && start is null && end is null,
            "beganAtClock",
            "Give the time at which it began, the time at which it ended, or both."
        );
        errors.AddIf(isDone && end is null && !errors.Any, "endedAtClock", "Give the time at which it was done.");
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        DateTimeOffset? from = start is { } first ? shop.InstantOf(on!.Value, first) : null;
        DateTimeOffset? until =
            end is not { } last ? null
            : from is { } begun ? LongTimers.FirstAfter(begun, last, shop)
            : shop.InstantOf(on!.Value, last);
        errors.AddIf(from > now, "beganAtClock", "The beginning lies in the future.");
        errors.AddIf(until > now && !(from > now), "endedAtClock", "The end lies in the future.");
        errors.AddIf(
            (from ?? until) < now - Oldest,
            "on",
            "That is more than 31 days ago. Enter it as a time on the job's page of times."
        );
        return errors.Any ? errors.ToFailure() : new PaperLine(from, until, isDone);
    }

    private static TimeOnly? Clock(string? text, string path, FieldErrors errors)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            return null;
        }

        var isTime = TimeOnly.TryParseExact(
            text.Trim(),
            "HH:mm",
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var time
        );
        errors.AddIf(!isTime, path, "Give a time of day by the shop's clock, such as 09:10.");
        return isTime ? time : null;
    }
}
