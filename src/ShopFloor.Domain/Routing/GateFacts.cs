using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;

namespace ShopFloor.Domain.Routing;

/// <summary>What is known outside the job that its gates ask for, at one moment of the server's clock.</summary>
public sealed record GateFacts
{
    /// <summary>The server's time; cure and undo are measured with nothing else.</summary>
    public required DateTimeOffset Now { get; init; }

    /// <summary>The customer signed the authorisation to cut and weld.</summary>
    public bool AuthorisationSigned { get; init; }

    /// <summary>A sign-off that was not withdrawn stands.</summary>
    public bool IsSignedOff { get; init; }

    /// <summary>Lines that failed although the car is signed off.</summary>
    public IReadOnlyList<FailedLine> FailedSinceSignOff { get; init; } = [];

    public IReadOnlyList<CustomerPartFact> CustomerParts { get; init; } = [];

    /// <summary>Hold lines of the inspection plan that are not passed.</summary>
    public IReadOnlyList<OpenHoldLine> OpenHoldLines { get; init; } = [];

    /// <summary>Money still missing of the deposit that the job waits for, in words; null where it waits for none.</summary>
    public string? MissingDeposit { get; init; }

    /// <summary>The account is neither settled nor released by the owner: the sign-off waits for it.</summary>
    public bool IsBalanceDue { get; init; }

    /// <summary>Change orders that work waits for.</summary>
    public IReadOnlyList<OpenChange> OpenChanges { get; init; } = [];

    /// <summary>Hot-work permits, fire watches, and paint in work, of the whole shop.</summary>
    public HotWorkFacts HotWork { get; init; } = HotWorkFacts.None;

    /// <summary>A person's name for the sentences; history keeps ids only.</summary>
    public Func<PersonId, string> NameOf { get; init; } = _ => "somebody";

    /// <summary>The shop's zone, in which times are said.</summary>
    public TimeZoneInfo Zone { get; init; } = TimeZoneInfo.Utc;

    public string Name(Worker worker) =>
        worker.Person is { } person ? NameOf(person)
        : worker.Through is not null ? "An integration"
        : "The program";

    /// <summary>An instant as the shop says it: "14:03" today, else "14:03 on 24 Nov".</summary>
    public string At(DateTimeOffset instant)
    {
        var local = TimeZoneInfo.ConvertTime(instant, Zone);
        return local.ToString(
            local.Date == TimeZoneInfo.ConvertTime(Now, Zone).Date ? "HH:mm" : "HH:mm 'on' d MMM",
            CultureInfo.InvariantCulture
        );
    }

    /// <summary>The first instant of a local day, for "since" of what is known by its day only.</summary>
    public DateTimeOffset StartOf(DateOnly day)
    {
        var midnight = day.ToDateTime(TimeOnly.MinValue);
        return new DateTimeOffset(midnight, Zone.GetUtcOffset(midnight)).ToUniversalTime();
    }

    public static string Day(DateOnly day) => day.ToString("dddd d MMM", CultureInfo.InvariantCulture);
}

/// <summary>A part that the customer brings.</summary>
public sealed record CustomerPartFact(string Code, string Title, DateOnly? DueOn, bool HasArrived);

/// <summary>A line whose last reading failed, and when that was.</summary>
public sealed record FailedLine(string Operation, string Title, DateTimeOffset At);

/// <summary>A hold line that stops work: what is checked, and whether it was read and failed or not read at all.</summary>
public sealed record OpenHoldLine(string Operation, string Title, bool HasFailed);

/// <summary>A change order that work waits for.</summary>
/// <param name="On">The local day on which it was offered, or drafted.</param>
/// <param name="IsOffered">The customer knows of it.</param>
/// <param name="Holds">Operations that wait; empty for all that are not begun.</param>
public sealed record OpenChange(string Number, DateOnly On, bool IsOffered, IReadOnlyList<string> Holds);

/// <summary>One gate of one operation, answered.</summary>
/// <param name="Kind">What sort of gate.</param>
/// <param name="IsMet">It no longer stops anybody.</param>
/// <param name="Text">A sentence: what is waited for and what lifts it; or that it is met.</param>
/// <param name="Operation">The operation it depends on, where there is one.</param>
public sealed record GateAnswer(GateKind Kind, bool IsMet, string Text, string? Operation)
{
    /// <summary>From whom it is waited for, as people say it; null for what the floor itself does.</summary>
    public string? Whom { get; init; }

    /// <summary>Since when, where that is known better than "since the operations before were done".</summary>
    public DateTimeOffset? Since { get; init; }

    /// <summary>The day on which it is due, where one was named.</summary>
    public DateOnly? DueOn { get; init; }

    /// <summary>The kind as programs read it, e.g. <c>customerPart</c>.</summary>
    public string Code => char.ToLowerInvariant(Kind.ToString()[0]) + Kind.ToString()[1..];
}
