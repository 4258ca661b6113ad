namespace ShopFloor.Domain.Quoting;

/// <summary>What kind of value a field of the price book holds, and so how it is written as text.</summary>
public enum BookFieldKind
{
    /// <summary>One line of text.</summary>
    Text,

    /// <summary>A name that other entries refer to.</summary>
    Code,

    /// <summary>An amount of the book's currency, written in whole units with the currency's digits: <c>98.00</c>.</summary>
    Money,

    /// <summary>A number with a point; its unit is in <see cref="BookField.Unit"/>.</summary>
    Number,

    /// <summary>A number without digits after the point.</summary>
    Whole,

    /// <summary><c>yes</c> or <c>no</c>.</summary>
    Flag,

    /// <summary>One of a few words.</summary>
    Choice,

    /// <summary>A local day, <c>yyyy-MM-dd</c>.</summary>
    Day,

    /// <summary>Texts, one on each line.</summary>
    Texts,

    /// <summary>The code of another entry.</summary>
    Reference,

    /// <summary>Codes of other entries, one on each line.</summary>
    References,
}

/// <summary>One of the words that a field may hold, as it is stored and as people read it.</summary>
public sealed record BookChoice(string Code, string Title);

/// <summary>One field of the price book: where it is in its record, and how people read it.</summary>
/// <param name="Name">Its place in the record's JSON; a point leads into an inner object: <c>runs.runMm</c>.</param>
/// <param name="Label">As it reads in a sentence: "price".</param>
public sealed record BookField(string Name, string Label, BookFieldKind Kind)
{
    /// <summary><c>mm</c>, <c>kg</c>, <c>%</c> …; null where there is none.</summary>
    public string? Unit { get; init; }

    /// <summary>May be left blank.</summary>
    public bool IsOptional { get; init; }

    /// <summary>What a blank stands for; null where a value must be given.</summary>
    public string? Blank { get; init; }

    /// <summary>The words of a choice; of a whole number the values that may be chosen.</summary>
    public IReadOnlyList<BookChoice> Choices { get; init; } = [];

    /// <summary>Table whose codes it refers to, e.g. <c>taxes</c>; null for none.</summary>
    public string? RefersTo { get; init; }

    /// <summary>A short explanation for forms.</summary>
    public string? Hint { get; init; }

    /// <summary>Follows from the shop and cannot be changed.</summary>
    public bool IsFixed { get; init; }

    /// <summary>With a capital, for labels and heads.</summary>
    public string Head => char.ToUpperInvariant(Label[0]) + Label[1..] + (Unit is null ? "" : $" ({Unit})");

    /// <summary>Its column in a CSV file. Amounts are written in whole units there, so nothing is "minor".</summary>
    public string Column => Name.Replace("Minor", "", StringComparison.Ordinal);
}

/// <summary>A list of like records in the price book.</summary>
/// <param name="Code">Name of its CSV file and its address: <c>kit-parts</c>.</param>
/// <param name="Name">Its place in the record that holds it.</param>
/// <param name="Title">As a heading: "Kits".</param>
/// <param name="One">One of them in a sentence: "kit".</param>
/// <param name="Key">Fields that tell its records apart.</param>
public sealed record BookTable(
    string Code,
    string Name,
    string Title,
    string One,
    IReadOnlyList<string> Key,
    IReadOnlyList<BookField> Fields
)
{
    public IReadOnlyList<BookTable> Tables { get; init; } = [];

    /// <summary>Inner objects that are left out where all their fields are blank.</summary>
    public IReadOnlyList<string> OptionalParts { get; init; } = [];

    /// <summary>Column of child tables' CSV files that names the record: <c>kit</c>.</summary>
    public string ParentColumn { get; init; } = "";
}

/// <summary>A part of the price book that is read and changed on its own.</summary>
/// <param name="Code">Its address: <c>hinge-options</c>.</param>
/// <param name="Fields">Fields of the book itself.</param>
public sealed record BookSection(
    string Code,
    string Title,
    string About,
    IReadOnlyList<BookField> Fields,
    IReadOnlyList<BookTable> Tables
);
