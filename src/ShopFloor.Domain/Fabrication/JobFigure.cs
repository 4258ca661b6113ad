using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Fabrication;

public enum FigureState
{
    /// <summary>To be worked by.</summary>
    InForce,

    /// <summary>A newer one stands in its place.</summary>
    Replaced,

    /// <summary>Not to be worked by any more.</summary>
    Withdrawn,
}

/// <summary>What was typed into one field of a calculator.</summary>
public sealed record FigureInput(string Name, string Text);

/// <summary>One figure of the answer, as it was read when it was saved.</summary>
/// <param name="IsMain">One that metal is cut or bent by.</param>
public sealed record FigureLine(string Label, string Value, bool IsMain);

/// <summary>Figures of the workbench that were saved with a job, and with one of its operations where they are wanted at that step. What is saved stays as it was: a newer one replaces it, or somebody withdraws it, and both leave their trace.</summary>
public sealed class JobFigure : IVersioned
{
    /// <summary>Most figures in force on one job.</summary>
    public const int MostOfJob = 200;

    public const int MostInputs = 60;

    /// <summary>Of what they are for, in characters: it stands at the head of papers.</summary>
    public const int LongestTitle = 60;

    /// <summary>Longest sum of what was typed; a tube path has up to 1,000 lines.</summary>
    public const int LongestInputs = 45_000;

    private JobFigure() { }

    public JobFigureId Id { get; private set; }
    public long Version { get; private set; }
    public JobId JobId { get; private set; }

    /// <summary>Code of the operation at which they are wanted; null for the job as a whole.</summary>
    public string? Operation { get; private set; }

    /// <summary>The calculator's code.</summary>
    public string Calculator { get; private set; } = "";

    /// <summary>What they are for: which tube, which end, which plate.</summary>
    public string Title { get; private set; } = "";
    public string? Note { get; private set; }

    /// <summary>In which lengths without a unit of their own were typed.</summary>
    public LengthUnit Unit { get; private set; }

    /// <summary>Parts of an inch in which results are said.</summary>
    public int TapeDivisions { get; private set; }
    public IReadOnlyList<FigureInput> Inputs { get; private set; } = [];
    public IReadOnlyList<FigureLine> Results { get; private set; } = [];
    public IReadOnlyList<string> Warnings { get; private set; } = [];
    public PersonId? SavedBy { get; private set; }

    /// <summary>By the device.</summary>
    public DateTimeOffset SavedAt { get; private set; }
    public DateTimeOffset RecordedAt { get; private set; }
    public FigureState State { get; private set; }

    /// <summary>The figures that these took the place of.</summary>
    public JobFigureId? Replaces { get; private set; }
    public JobFigureId? ReplacedBy { get; private set; }
    public PersonId? EndedBy { get; private set; }
    public DateTimeOffset? EndedAt { get; private set; }

    /// <summary>Why they were withdrawn.</summary>
    public string? EndReason { get; private set; }

    /// <summary>Who did something, and when.</summary>
    public readonly record struct Hand(PersonId? Person, DateTimeOffset At, DateTimeOffset RecordedAt);

    /// <summary>What is written down with the figures.</summary>
    public sealed record Details(string? Title, string? Note, string? Operation);

    /// <summary>What was figured.</summary>
    public sealed record Worked(
        string Calculator,
        LengthUnit Unit,
        int TapeDivisions,
        IReadOnlyList<FigureInput> Inputs,
        IReadOnlyList<FigureLine> Results,
        IReadOnlyList<string> Warnings
    );

    /// <summary>Keeps figures with a job; <paramref name="older"/> are those that they take the place of.</summary>
    public static Outcome<JobFigure> Save(
        JobFigureId id,
        JobId job,
        Details details,
        Worked worked,
        JobFigure? older,
        Hand by
    )
    {
        ArgumentNullException.ThrowIfNull(details);
        ArgumentNullException.ThrowIfNull(worked);
        var errors = new FieldErrors();
        var title = TextRules.Required(
            details.Title,
            "title",
            "What the figures are for (which tube, which end)",
            LongestTitle,
            errors
        );
        var note = TextRules.Optional(details.Note, "note", "The note", TextRules.ShortText, errors);
        errors.AddIf(
            worked.Inputs.Count > MostInputs || worked.Inputs.Sum(i => i.Text.Length) > LongestInputs,
            "inputs",
            $"More was typed than is kept ({LongestInputs} characters)."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (older is not null && older.EndCheck() is { } refused)
        {
            return refused;
        }

        older?.End(FigureState.Replaced, by, id, null);
        return new JobFigure
        {
            Id = id,
            JobId = job,
            Operation = details.Operation,
            Calculator = worked.Calculator,
            Title = title,
            Note = note,
            Unit = worked.Unit,
            TapeDivisions = worked.TapeDivisions,
            Inputs = worked.Inputs,
            Results = worked.Results,
            Warnings = worked.Warnings,
            SavedBy = by.Person,
            SavedAt = by.At,
            RecordedAt = by.RecordedAt,
            Replaces = older?.Id,
        };
    }

    /// <summary>They are not to be worked by any more: the tube was measured again, the plan changed.</summary>
    public Outcome<Done> Withdraw(string? reason, Hand by)
    {
        var errors = new FieldErrors();
        var clean = TextRules.Required(reason, "reason", "The reason", TextRules.ShortText, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (EndCheck() is { } refused)
        {
            return refused;
        }

        End(FigureState.Withdrawn, by, null, clean);
        return Outcome.Ok;
    }

    private Failure? EndCheck() =>
        State == FigureState.InForce
            ? null
            : Failure.Because(
                "figureEnded",
                State == FigureState.Replaced
                    ? $"Newer figures stand in the place of “{Title}” already. Load them again and go on from those."
                    : $"“{Title}” was withdrawn already. Save the figures as new ones."
            );

    private void End(FigureState state, Hand by, JobFigureId? newer, string? reason)
    {
        State = state;
        ReplacedBy = newer;
        EndedBy = by.Person;
        EndedAt = by.At;
        EndReason = reason;
    }
}
