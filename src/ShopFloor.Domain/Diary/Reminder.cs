using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Diary;

/// <summary>Something that the front desk wants to think of on a day.</summary>
public sealed class Reminder : IVersioned
{
    public const int LongestText = TextRules.Note;

    private Reminder() { }

    public ReminderId Id { get; private set; }
    public long Version { get; private set; }
    public string Text { get; private set; } = "";
    public DateOnly Day { get; private set; }

    /// <summary>By the shop's clock; null: some time of that day.</summary>
    public TimeOnly? Time { get; private set; }

    /// <summary>The job it belongs to; null: none.</summary>
    public JobId? JobId { get; private set; }

    /// <summary>The customer it is about: of the job, or chosen; null: nobody's.</summary>
    public CustomerId? CustomerId { get; private set; }

    public PersonId? WrittenBy { get; private set; }

    public DateTimeOffset? DoneAt { get; private set; }

    public PersonId? DoneBy { get; private set; }

    /// <summary>As typed.</summary>
    /// <param name="Day">Required; a day that is over is refused when it is written or moved.</param>
    /// <param name="Time">Such as 08:30, or nothing.</param>
    public sealed record Details(string? Text, DateOnly? Day, string? Time = null);

    public static Outcome<Reminder> Write(
        ReminderId id,
        Details details,
        JobId? job,
        CustomerId? customer,
        PersonId? by,
        DateOnly today
    )
    {
        var reminder = new Reminder
        {
            Id = id,
            JobId = job,
            CustomerId = customer,
            WrittenBy = by,
        };
        return reminder.Change(details, today).Then<Reminder>(_ => reminder);
    }

    /// <summary>Changes words or day; true where something is other than before.</summary>
    public Outcome<bool> Change(Details details, DateOnly today)
    {
        ArgumentNullException.ThrowIfNull(details);
        var errors = new FieldErrors();
        var text = TextRules.Required(details.Text, "text", "What to think of", LongestText, errors);
        errors.AddIf(
            details.Day is not { } on || (on < today && on != Day) || on > today.AddDays(Appointment.MostDays),
            "day",
            "Choose today or a day within the next five years."
        );
        var time = Appointment.ReadTime(details.Time, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var isOther = (text, details.Day!.Value, time) != (Text, Day, Time);
        (Text, Day, Time) = (text, details.Day.Value, time);
        return isOther;
    }

    /// <summary>Ticks it off; false where somebody did.</summary>
    public bool Settle(PersonId? by, DateTimeOffset at)
    {
        if (DoneAt is not null)
        {
            return false;
        }

        (DoneAt, DoneBy) = (at, by);
        return true;
    }

    /// <summary>Takes the tick back; false where there is none.</summary>
    public bool Reopen()
    {
        if (DoneAt is null)
        {
            return false;
        }

        (DoneAt, DoneBy) = (null, null);
        return true;
    }

    /// <summary>Forgets what was written; there is then nothing to think of any more.</summary>
    public void Erase(DateTimeOffset at)
    {
        Text = Quoting.Quote.ErasedText;
        DoneAt ??= at;
    }
}
