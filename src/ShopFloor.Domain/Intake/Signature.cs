using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>How a person signed.</summary>
public enum SignatureKind
{
    /// <summary>Drawn with finger, pen or mouse.</summary>
    OnScreen,

    /// <summary>On the printed sheet, which stays in the shop's file.</summary>
    PrintedSheet,
}

/// <summary>A signature as taken; <see cref="Signature"/> checks it.</summary>
/// <param name="Kind">Needed.</param>
/// <param name="SignedBy">The signer's name; needed.</param>
/// <param name="Strokes">Each stroke as x, y, x, y … in thousandths of the pad's width and height from its upper left corner; only for a signature on the screen.</param>
public sealed record SignatureDetails(
    SignatureKind? Kind,
    string? SignedBy,
    IReadOnlyList<IReadOnlyList<int>>? Strokes = null
);

/// <summary>Who signed, how and when. Personal data: <see cref="Erased"/> leaves only that somebody signed.</summary>
public sealed record Signature(
    SignatureKind Kind,
    string SignedBy,
    IReadOnlyList<IReadOnlyList<int>> Strokes,
    DateTimeOffset SignedAt
)
{
    public const int MostStrokes = 200;
    public const int MostPoints = 5000;

    /// <summary>Largest coordinate: thousandths of the pad.</summary>
    public const int PadSize = 1000;

    /// <summary>A signature, or what is wrong with it (paths behind <paramref name="path"/>).</summary>
    public static Outcome<Signature> Take(SignatureDetails? details, string path, DateTimeOffset at)
    {
        if (details is null)
        {
            return Failure.Field(path, "A signature is needed: on the screen or on the printed sheet.");
        }

        var errors = new FieldErrors();
        var signedBy = TextRules.Required(
            details.SignedBy,
            $"{path}.signedBy",
            "The name of who signs",
            TextRules.Name,
            errors
        );
        errors.AddIf(
            details.Kind is null,
            $"{path}.kind",
            "Say how it was signed: on the screen or on the printed sheet."
        );
        var strokes = details.Strokes ?? [];
        if (details.Kind == SignatureKind.PrintedSheet)
        {
            errors.AddIf(strokes.Count > 0, $"{path}.strokes", "A signature on the printed sheet has no strokes here.");
        }
        else if (details.Kind == SignatureKind.OnScreen)
        {
            CheckStrokes(strokes, $"{path}.strokes", errors);
        }

        return errors.Any
            ? errors.ToFailure()
            : new Signature(details.Kind!.Value, signedBy, [.. strokes.Select(s => s.ToArray())], at);
    }

    /// <summary>The same without name and strokes.</summary>
    public Signature Erased() => this with { SignedBy = Customer.ErasedName, Strokes = [] };

    private static void CheckStrokes(IReadOnlyList<IReadOnlyList<int>> strokes, string path, FieldErrors errors)
    {
        if (strokes.Count > MostStrokes || strokes.Sum(s => (long)(s?.Count ?? 0)) > MostPoints * 2)
        {
            errors.Add(
                path,
                $"The signature is too long: at most {MostStrokes} strokes and {MostPoints} points. Clear it and sign again."
            );
            return;
        }

        if (!strokes.Any(s => s is { Count: >= 4 }))
        {
            errors.Add(path, "Nothing is drawn. Sign in the field, or use the printed sheet.");
            return;
        }

        if (strokes.Any(s => s is null || s.Count % 2 != 0 || s.Any(v => v is < 0 or > PadSize)))
        {
            errors.Add(path, $"Each stroke is a list of x, y pairs from 0 to {PadSize}.");
        }
    }
}
