namespace ShopFloor.Documents.Papers.Models;

/// <summary>The card that hangs at the place while a hot-work permit is open, and tells afterwards how it was closed.</summary>
/// <param name="Place">Reads after "in".</param>
/// <param name="Car">The car that stands there; null where none does.</param>
/// <param name="State">How the permit stands, a sentence.</param>
/// <param name="Facts">Shift, watcher, who opened it.</param>
/// <param name="Points">The checklist as it was walked.</param>
/// <param name="Spells">Hot work under it so far.</param>
/// <param name="WatchMinutes">Watch after the last spark.</param>
/// <param name="WatchUntil">In words; null before the first stop.</param>
/// <param name="Closed">Who confirmed it and when; null while it is open: then there is a line for pen and ink.</param>
/// <param name="Cautions">Short cautions, a sentence each.</param>
/// <param name="WhoDecides">That the fire authority and others decide.</param>
/// <param name="Url">The page on which the watcher closes it.</param>
public sealed record PermitPaper(
    PaperShop Shop,
    string Number,
    string Place,
    string? Car,
    string State,
    IReadOnlyList<PaperFact> Facts,
    IReadOnlyList<PermitPaperPoint> Points,
    IReadOnlyList<PermitPaperSpell> Spells,
    int WatchMinutes,
    string? WatchUntil,
    string? Closed,
    IReadOnlyList<string> Cautions,
    string WhoDecides,
    string Url
);

/// <summary>One point: its sign (✓ so, ✎ assessed, – not here), what was asked, and the note.</summary>
public sealed record PermitPaperPoint(string Sign, string Title, string? Note);

/// <summary>Hot work of one operation.</summary>
public sealed record PermitPaperSpell(string Operation, string From, string Until);
