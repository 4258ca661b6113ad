using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Workbench;

/// <summary>What kind of thing a field of the workbench takes.</summary>
public enum BenchFieldKind
{
    /// <summary>As read from a tape, in millimetres or inches.</summary>
    Length,

    /// <summary>Degrees.</summary>
    Angle,

    /// <summary>A number with a unit of its own.</summary>
    Number,

    /// <summary>One of some words.</summary>
    Choice,

    /// <summary>A name.</summary>
    Text,

    /// <summary>Several lines, each of a few figures with semicolons between.</summary>
    Lines,

    /// <summary>One line of lengths with semicolons between.</summary>
    Point,
}

/// <summary>One of a field's words.</summary>
public sealed record BenchOption(string Word, string Label);

/// <summary>A field of a calculator's page.</summary>
/// <param name="Name">The path under which the Domain complains about it, e.g. <c>angleDegrees</c>.</param>
/// <param name="Start">What stands in it at first; lengths in millimetres.</param>
/// <param name="IsOptional">It may be left empty.</param>
/// <param name="When">Shown only where this choice stands so; null: always.</param>
/// <param name="LengthParts">How many figures of each line are lengths, from the first on; the rest are angles.</param>
/// <param name="AlsoLength">Place of one more length behind the angles, from 0.</param>
/// <param name="IsShown">False for what the program keeps beside the figures and nobody types.</param>
public sealed record BenchField(
    string Name,
    string Label,
    BenchFieldKind Kind,
    string Start,
    string? Hint = null,
    bool IsOptional = false,
    IReadOnlyList<BenchOption>? Options = null,
    string? Unit = null,
    string? Group = null,
    int LengthParts = 3,
    int? AlsoLength = null,
    BenchWhen? When = null,
    bool IsShown = true
);

/// <summary>A choice that stands at one of some words.</summary>
public sealed record BenchWhen(string Field, params IReadOnlyList<string> Words);

/// <summary>Figures to be filled in by one tap, such as those of a tube on the rack.</summary>
public sealed record BenchPreset(string Name, IReadOnlyDictionary<string, string> Values);

/// <summary>A calculator of the workbench: its fields, what to do with them in plain words, and its answer. All figuring is the Domain's.</summary>
public abstract class BenchSheet
{
    /// <summary>In the address; stable.</summary>
    public abstract string Code { get; }

    public abstract string Title { get; }

    /// <summary>What it is for, in a sentence.</summary>
    public abstract string Purpose { get; }

    /// <summary>What to do, in order.</summary>
    public abstract IReadOnlyList<string> Steps { get; }

    /// <summary>What its words mean and how to measure, in plain sentences: heading and text.</summary>
    public abstract IReadOnlyList<(string Heading, string Text)> Guide { get; }

    public abstract IReadOnlyList<BenchField> Fields { get; }

    /// <summary>What the presets are; null where there are none.</summary>
    public virtual string? PresetsLabel => null;

    public virtual IReadOnlyList<BenchPreset> Presets => [];

    /// <summary>What can hurt, and who decides.</summary>
    public virtual IReadOnlyList<string> Cautions => [];

    /// <summary>The papers that its answers can be made into.</summary>
    public virtual IReadOnlyList<BenchPaperName> Papers => [];

    /// <summary>The answer, or what is wrong, by field.</summary>
    public Outcome<BenchAnswer> Answer(BenchValues values)
    {
        ArgumentNullException.ThrowIfNull(values);
        var reader = new BenchReader(this, values);
        var answer = Answer(reader);
        return reader.Errors.Any ? reader.Errors.ToFailure() : answer;
    }

    /// <summary>Figures the answer; what the reader could not read is complained of before it.</summary>
    protected abstract Outcome<BenchAnswer> Answer(BenchReader read);
}
