namespace ShopFloor.Domain.Quoting;

/// <summary>Short words for the fields of <see cref="BookSections"/>.</summary>
internal static class BookFields
{
    internal static readonly BookField CodeField = new("code", "code", BookFieldKind.Code)
    {
        Hint = "Other entries, quotes and files refer to it; a changed code is a new entry.",
    };

    internal static readonly BookField TitleField = Text("title", "title");

    internal static BookField Text(string name, string label, bool isOptional = false, string? hint = null) =>
        new(name, label, BookFieldKind.Text) { IsOptional = isOptional, Hint = hint };

    internal static BookField Money(string name, string label, string? blank = null, bool isOptional = false) =>
        new(name, label, BookFieldKind.Money) { Blank = blank, IsOptional = isOptional };

    internal static BookField Cost(string name = "costMinor", string label = "cost") => Money(name, label, "0");

    internal static BookField Number(
        string name,
        string label,
        string? unit = null,
        string? blank = null,
        bool isOptional = false,
        string? hint = null
    ) =>
        new(name, label, BookFieldKind.Number)
        {
            Unit = unit,
            Blank = blank,
            IsOptional = isOptional,
            Hint = hint,
        };

    internal static BookField Whole(string name, string label, string? unit = null) =>
        new(name, label, BookFieldKind.Whole) { Unit = unit };

    internal static BookField Flag(string name, string label) => new(name, label, BookFieldKind.Flag) { Blank = "no" };

    internal static BookField Choice(string name, string label, params (string Code, string Title)[] choices) =>
        new(name, label, BookFieldKind.Choice) { Choices = [.. choices.Select(c => new BookChoice(c.Code, c.Title))] };

    internal static BookField Texts(string name, string label, string? hint = null) =>
        new(name, label, BookFieldKind.Texts) { Blank = "", Hint = hint ?? "One on each line." };

    internal static BookField Taxes(string name = "taxCodes", string label = "taxes") =>
        new(name, label, BookFieldKind.References) { RefersTo = "taxes", Blank = "" };

    internal static BookField Reference(string name, string label, string to, bool isOptional = false) =>
        new(name, label, BookFieldKind.Reference) { RefersTo = to, IsOptional = isOptional };
}
