using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Removed;

public enum PartOutState
{
    /// <summary>It is out of the car and must go back.</summary>
    Out,
    Refitted,

    /// <summary>Given to the customer apart from the car, by the owner's word.</summary>
    HandedOver,

    /// <summary>Stays out, by the owner's word.</summary>
    NotRefitted,
}

/// <summary>One move of a part, a car or its keys.</summary>
public sealed record PlaceMove(string Place, PersonId? By, DateTimeOffset At);

/// <summary>A removed part: what came out of the car and must go back, with its label and place.</summary>
public sealed class PartOut : IVersioned
{
    /// <summary>Most parts on one car's list.</summary>
    public const int MostOfJob = 400;

    /// <summary>Most fasteners of one part.</summary>
    public const int MostFasteners = 500;

    /// <summary>Moves shown beside a part; older ones stay in the history.</summary>
    public const int MostMoves = 50;

    private PartOut() { }

    public PartOutId Id { get; private set; }
    public long Version { get; private set; }
    public JobId JobId { get; private set; }

    /// <summary>1, 2, 3 … on its car; stands on the label.</summary>
    public int Number { get; private set; }
    public string What { get; private set; } = "";

    /// <summary>Where in the car it sat.</summary>
    public string TakenFrom { get; private set; } = "";

    /// <summary>Screws, nuts, clips that came out with it, 0 to 500.</summary>
    public int Fasteners { get; private set; }

    /// <summary>Bag or shelf in which it lies.</summary>
    public string Place { get; private set; } = "";
    public PhotoId? PhotoId { get; private set; }
    public PartOutState State { get; private set; }
    public PersonId? TakenBy { get; private set; }

    /// <summary>By the device.</summary>
    public DateTimeOffset TakenAt { get; private set; }
    public DateTimeOffset RecordedAt { get; private set; }
    public IReadOnlyList<PlaceMove> Moves { get; private set; } = [];

    /// <summary>Fasteners that went back with it; null until it is refitted.</summary>
    public int? FastenersBack { get; private set; }
    public PersonId? SettledBy { get; private set; }
    public DateTimeOffset? SettledAt { get; private set; }

    /// <summary>Why it stays out, or why fasteners differ.</summary>
    public string? Note { get; private set; }

    /// <summary>Nobody has said yet what became of it.</summary>
    public bool IsUnaccounted => State == PartOutState.Out;

    /// <summary>What stands on its label, e.g. <c>J-2026-0001/07</c>.</summary>
    public string Label(string jobNumber) =>
        string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{jobNumber}/{Number:00}");

    /// <summary>A part as somebody writes it down.</summary>
    public sealed record Details(string? What, string? TakenFrom, int? Fasteners, string? Place, PhotoId? PhotoId);

    /// <summary>Who did something, and when.</summary>
    public readonly record struct Hand(PersonId? Person, DateTimeOffset At, DateTimeOffset RecordedAt);

    public static Outcome<PartOut> TakeOut(PartOutId id, JobId job, int number, Details details, Hand by)
    {
        var errors = new FieldErrors();
        var what = TextRules.Required(details.What, "what", "The part", TextRules.Name, errors);
        var from = TextRules.Required(details.TakenFrom, "takenFrom", "Where it came from", TextRules.Name, errors);
        var place = TextRules.Required(details.Place, "place", "The bag or shelf", TextRules.Name, errors);
        errors.AddIf(
            details.Fasteners is not (>= 0 and <= MostFasteners),
            "fasteners",
            $"Count the fasteners that came out with it: 0 to {MostFasteners}."
        );
        return errors.Any
            ? errors.ToFailure()
            : new PartOut
            {
                Id = id,
                JobId = job,
                Number = number,
                What = what,
                TakenFrom = from,
                Fasteners = details.Fasteners!.Value,
                Place = place,
                PhotoId = details.PhotoId,
                TakenBy = by.Person,
                TakenAt = by.At,
                RecordedAt = by.RecordedAt,
                Moves = [new PlaceMove(place, by.Person, by.At)],
            };
    }

    /// <summary>It lies somewhere else now.</summary>
    public Outcome<Done> MoveTo(string? place, Hand by)
    {
        var errors = new FieldErrors();
        var clean = TextRules.Required(place, "place", "The bag or shelf", TextRules.Name, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (!IsUnaccounted)
        {
            return NotOut();
        }

        if (clean != Place)
        {
            Place = clean;
            Moves = [.. Moves.TakeLast(MostMoves - 1), new PlaceMove(clean, by.Person, by.At)];
        }

        return Outcome.Ok;
    }

    /// <summary>It is back in the car. Where fewer or more fasteners went back than came out, a note says why.</summary>
    public Outcome<Done> Refit(int? fastenersBack, string? note, Hand by)
    {
        var errors = new FieldErrors();
        var clean = TextRules.Optional(note, "note", "The note", TextRules.ShortText, errors);
        errors.AddIf(
            fastenersBack is not (>= 0 and <= MostFasteners),
            "fastenersBack",
            $"Count the fasteners that went back: 0 to {MostFasteners}."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (!IsUnaccounted)
        {
            return NotOut();
        }

        if (fastenersBack != Fasteners && clean is null)
        {
            return Failure.Field(
                "note",
                $"{Fasteners} {Words(Fasteners)} came out with {What}, {fastenersBack} went back. Look for the rest, or note why (renewed, not needed any more)."
            );
        }

        Settle(PartOutState.Refitted, by, clean);
        FastenersBack = fastenersBack;
        return Outcome.Ok;
    }

    /// <summary>The owner says that it does not go back, and why.</summary>
    public Outcome<Done> LeaveOut(bool handedOver, string? reason, Hand by)
    {
        var errors = new FieldErrors();
        var clean = TextRules.Required(reason, "reason", "The reason", TextRules.ShortText, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (!IsUnaccounted)
        {
            return NotOut();
        }

        Settle(handedOver ? PartOutState.HandedOver : PartOutState.NotRefitted, by, clean);
        return Outcome.Ok;
    }

    /// <summary>It was ticked off by mistake, or came out again.</summary>
    public Outcome<Done> TakeOutAgain(Hand by)
    {
        if (IsUnaccounted)
        {
            return Failure.Because("partOut", $"{What} is out of the car already.");
        }

        State = PartOutState.Out;
        FastenersBack = null;
        SettledBy = null;
        SettledAt = null;
        Note = null;
        Moves = [.. Moves.TakeLast(MostMoves - 1), new PlaceMove(Place, by.Person, by.At)];
        return Outcome.Ok;
    }

    /// <summary>What cannot be so, a sentence each; empty for every part that this class made.</summary>
    public IEnumerable<string> Audit()
    {
        if (IsUnaccounted && (SettledAt is not null || FastenersBack is not null))
        {
            yield return "it is out of the car, and yet somebody settled it.";
        }

        if (!IsUnaccounted && SettledAt is null)
        {
            yield return $"it is {State.Title()}, and nobody says since when.";
        }

        if (State == PartOutState.Refitted && FastenersBack is not (>= 0 and <= MostFasteners))
        {
            yield return "it is back in the car, and its fasteners were not counted.";
        }
    }

    private void Settle(PartOutState state, Hand by, string? note)
    {
        State = state;
        SettledBy = by.Person;
        SettledAt = by.At;
        Note = note;
    }

    private Failure NotOut() =>
        Failure.Because(
            "partSettled",
            $"{What} is {State.Title()} already. Say that it came out again first, if it did."
        );

    private static string Words(int fasteners) => fasteners == 1 ? "fastener" : "fasteners";
}

public static class PartOutWords
{
    public static string Title(this PartOutState state) =>
        state switch
        {
            PartOutState.Out => "out of the car",
            PartOutState.Refitted => "back in the car",
            PartOutState.HandedOver => "handed over apart from the car",
            PartOutState.NotRefitted => "not refitted",
            _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state."),
        };
}
