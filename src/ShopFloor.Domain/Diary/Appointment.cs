using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Diary;

/// <summary>What a customer comes for.</summary>
public enum AppointmentKind
{
    DropOff,
    Collection,
}

/// <summary>What the customer said to an appointment as it stands.</summary>
public enum AppointmentAnswer
{
    Confirmed,

    /// <summary>Another time is asked for: the front desk calls.</summary>
    OtherAsked,
}

/// <summary>When a job's car is brought or fetched. One of each kind a job; moving it asks the customer again.</summary>
public sealed class Appointment : IVersioned
{
    /// <summary>Furthest day ahead.</summary>
    public const int MostDays = 5 * 366;

    /// <summary>How a time is written, by the shop's clock.</summary>
    public const string Clock = "HH:mm";

    private Appointment() { }

    public AppointmentId Id { get; private set; }
    public long Version { get; private set; }
    public JobId JobId { get; private set; }
    public AppointmentKind Kind { get; private set; }
    public DateOnly Day { get; private set; }

    /// <summary>By the shop's clock; null: any time of that day.</summary>
    public TimeOnly? Time { get; private set; }

    /// <summary>How often it was moved.</summary>
    public int Moves { get; private set; }

    /// <summary>Null until the customer has answered what stands now.</summary>
    public AppointmentAnswer? Answer { get; private set; }

    public DateTimeOffset? AnsweredAt { get; private set; }

    /// <summary>The name that was typed under a yes.</summary>
    public string? ConfirmedBy { get; private set; }

    /// <summary>Such as <c>08:30</c>; null: any time.</summary>
    public string? TimeText => Time?.ToString(Clock, CultureInfo.InvariantCulture);

    /// <summary>Day and time as <c>2026-06-02 08:30</c>, or the day alone.</summary>
    public string Words =>
        Day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)
        + (Time is { } time ? time.ToString($" {Clock}", CultureInfo.InvariantCulture) : "");

    /// <summary>SHA-256, in hexadecimal, of what a customer confirms: what for, which job, when.</summary>
    public string ContentHash =>
        CanonicalJson.Sha256($"{Kind}|{JobId}|{Words}|{Moves.ToString(CultureInfo.InvariantCulture)}");

    public static Appointment Of(AppointmentId id, JobId job, AppointmentKind kind, DateOnly day, TimeOnly? time) =>
        new()
        {
            Id = id,
            JobId = job,
            Kind = kind,
            Day = day,
            Time = time,
        };

    /// <summary>Moves it and forgets what was answered; false where it stands so already.</summary>
    public bool Move(DateOnly day, TimeOnly? time)
    {
        if (day == Day && time == Time)
        {
            return false;
        }

        (Day, Time, Moves) = (day, time, Moves + 1);
        (Answer, AnsweredAt, ConfirmedBy) = (null, null, null);
        return true;
    }

    /// <summary>The customer comes, having seen exactly this.</summary>
    /// <param name="name">Typed by the customer.</param>
    /// <param name="shownHash"><see cref="ContentHash"/> as it was shown.</param>
    /// <param name="today">By the shop's clock: a day that is over cannot be confirmed.</param>
    /// <param name="at">When it was said.</param>
    public Outcome<Done> Confirm(string? name, string? shownHash, DateOnly today, DateTimeOffset at)
    {
        var errors = new FieldErrors();
        var clean = TextRules.Required(name, "name", "Your name", TextRules.Name, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (Refuse(shownHash, today) is { } refused)
        {
            return refused;
        }

        (Answer, AnsweredAt, ConfirmedBy) = (AppointmentAnswer.Confirmed, at, clean);
        return Outcome.Ok;
    }

    /// <summary>The customer said to the front desk that they come.</summary>
    public void ConfirmAtDesk(DateTimeOffset at) =>
        (Answer, AnsweredAt, ConfirmedBy) = (AppointmentAnswer.Confirmed, at, null);

    /// <summary>The customer asks for another time; what suits them is a question to the front desk.</summary>
    public Outcome<Done> AskOther(string? shownHash, DateOnly today, DateTimeOffset at)
    {
        if (Refuse(shownHash, today) is { } refused)
        {
            return refused;
        }

        (Answer, AnsweredAt, ConfirmedBy) = (AppointmentAnswer.OtherAsked, at, null);
        return Outcome.Ok;
    }

    /// <summary>Forgets who confirmed.</summary>
    public void Erase() => ConfirmedBy = ConfirmedBy is null ? null : Quoting.Quote.ErasedText;

    private Failure? Refuse(string? shownHash, DateOnly today) =>
        shownHash != ContentHash
            ? Failure.Because("moved", "The time was changed after it was shown. Look at the new one and answer again.")
        : Day < today ? Failure.Because("past", "That day is over. Please call the shop.")
        : null;

    /// <summary>Reads a day and a time as they are typed.</summary>
    public static Outcome<(DateOnly Day, TimeOnly? Time)> Read(DateOnly? day, string? time, DateOnly today)
    {
        var errors = new FieldErrors();
        errors.AddIf(
            day is not { } on || on < today || on > today.AddDays(MostDays),
            "day",
            "Agree on today or a day within the next five years."
        );
        var at = ReadTime(time, errors);
        return errors.Any ? errors.ToFailure() : (day!.Value, at);
    }

    /// <summary>Hours and minutes, or nothing.</summary>
    public static TimeOnly? ReadTime(string? text, FieldErrors errors)
    {
        ArgumentNullException.ThrowIfNull(errors);
        if (string.IsNullOrWhiteSpace(text))
        {
            return null;
        }

        var isTime = TimeOnly.TryParseExact(
            text.Trim(),
            Clock,
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var time
        );
        errors.AddIf(!isTime, "time", "Give the time as hours and minutes, such as 08:30.");
        return isTime ? time : null;
    }
}
