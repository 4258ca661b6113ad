using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Times;

/// <summary>One correction of a spell of time. What stood before stays with it, so that the first entry can always be read.</summary>
/// <param name="FromEnd">Null where the spell still ran.</param>
/// <param name="Reason">In the words of whoever corrected it.</param>
/// <param name="By">Who corrected it.</param>
/// <param name="At">By the server.</param>
public sealed record TimeCorrection(
    DateTimeOffset FromStart,
    DateTimeOffset? FromEnd,
    DateTimeOffset ToStart,
    DateTimeOffset ToEnd,
    string Reason,
    Worker By,
    DateTimeOffset At
);

/// <summary>A spell that was not tapped, or not wholly, but entered afterwards.</summary>
/// <param name="Paper">What of it stood on paper.</param>
public sealed record EnteredLater(string Reason, Worker By, DateTimeOffset At, PaperPart Paper = PaperPart.None);

/// <summary>A beginning, an end and the reason, as somebody gives them afterwards.</summary>
public sealed record SpellGiven(DateTimeOffset Start, DateTimeOffset End, string Reason)
{
    /// <summary>Nobody works longer in one go; a longer spell is a mistake.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromHours(24);

    /// <summary>Wages and years are closed by then.</summary>
    public static readonly TimeSpan Oldest = TimeSpan.FromDays(400);

    /// <summary>What stands in a form, checked. An end equal to the start is allowed: the spell then counts nothing.</summary>
    /// <param name="now">The server's time.</param>
    public static Outcome<SpellGiven> Read(
        DateTimeOffset? start,
        DateTimeOffset? end,
        string? reason,
        DateTimeOffset now
    )
    {
        var errors = new FieldErrors();
        errors.AddIf(start is null, "startedAt", "Give the time at which it began.");
        errors.AddIf(end is null, "endedAt", "Give the time at which it ended.");
        errors.AddIf(end < start, "endedAt", "The end lies before the beginning.");
        errors.AddIf(end > now, "endedAt", "The end lies in the future.");
        errors.AddIf(end - start > Longest, "endedAt", "One spell is at most 24 hours; enter several.");
        errors.AddIf(
            start < now - Oldest,
            "startedAt",
            "That is more than 400 days ago; times so old stay as they are."
        );
        var why = TextRules.Required(reason, "reason", "The reason", TextRules.ShortText, errors);
        return errors.Any ? errors.ToFailure() : new SpellGiven(start!.Value, end!.Value, why);
    }

    /// <summary>True where this spell and another have time in common. Spells that only touch have none.</summary>
    public bool Overlaps(DateTimeOffset start, DateTimeOffset? end) =>
        Start < End && Start < (end ?? DateTimeOffset.MaxValue) && start < End;
}
