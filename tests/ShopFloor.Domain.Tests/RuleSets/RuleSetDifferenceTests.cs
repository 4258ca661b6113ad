using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Domain.Tests.RuleSets;

/// <summary>Versions of a rule set: their canonical content, what differs between two, and how a tampered one shows.</summary>
public sealed class RuleSetDifferenceTests
{
    private static readonly DateTimeOffset Noon = new(2026, 5, 6, 12, 0, 0, TimeSpan.Zero);

    private static readonly RuleFigure Area = new(
        "plate-area",
        "§1",
        "Plate area",
        "≥ 120 cm²",
        FigureKind.Area,
        FigureMark.Quoted,
        "cm²",
        120
    );

    private static readonly RuleFigure Tube = new(
        "tube",
        "§2",
        "Tube",
        "50 × 2.0 mm",
        FigureKind.SizeAlternatives,
        FigureMark.Read
    )
    {
        Sizes = [new TubeSize(50, 2.0m, "mm")],
    };

    private static readonly RuleFigure Smooth = new(
        "smooth",
        "§3",
        "Smooth",
        "yes or no",
        FigureKind.YesNo,
        FigureMark.FromMemory
    );

    [Fact]
    public void Every_value_that_differs_is_named_with_what_it_was_and_is()
    {
        var before = Set([Area, Tube], "2025");
        var after = Set(
            [
                Area with
                {
                    Printed = "≥ 100 cm²",
                    Lower = 100,
                    Mark = FigureMark.Read,
                    Caution = "Contact surface.",
                },
                Smooth,
            ],
            "2026"
        );
        var difference = RuleSetDifference.Between(before, after);
        Assert.Equal([new ValueChange("edition", "2025", "2026")], difference.About);
        Assert.Equal(
            [
                (FigureChangeKind.Removed, "tube"),
                (FigureChangeKind.Changed, "plate-area"),
                (FigureChangeKind.Added, "smooth"),
            ],
            difference.Figures.Select(f => (f.Kind, f.Code))
        );
        Assert.Equal(
            [
                new ValueChange("figure as printed", "≥ 120 cm²", "≥ 100 cm²"),
                new ValueChange("how we know it", "seen quoted", "read in the source"),
                new ValueChange("least", "120 cm²", "100 cm²"),
                new ValueChange("caution", null, "Contact surface."),
            ],
            difference.Figures[1].Values
        );
        Assert.Equal(
            [
                "Edition: 2025 → 2026.",
                "Taken out: Tube, 50 × 2.0 mm.",
                "Changed: Plate area (figure as printed: ≥ 120 cm² → ≥ 100 cm²; how we know it: seen quoted → read in the source; "
                    + "least: 120 cm² → 100 cm²; caution added: Contact surface.).",
                "Added: Smooth, yes or no.",
            ],
            difference.Sentences
        );
    }

    [Fact]
    public void A_set_does_not_differ_from_itself_nor_from_the_same_with_another_version()
    {
        Assert.True(RuleSetDifference.Between(Set([Area, Tube]), Set([Area, Tube])).IsNone);
        Assert.True(RuleSetDifference.Between(Set([Area]), Of(Set([Area]).Document with { Version = 2 })).IsNone);
    }

    [Fact]
    public void What_was_typed_otherwise_and_says_the_same_has_the_same_content()
    {
        var spaced = Area with { What = " Plate area ", Lower = 120.00m, Caution = " " };
        Assert.Equal(Content(Set([Area])), Content(Set([spaced])));
        Assert.NotEqual(Content(Set([Area])), Content(Set([Area with { Lower = 121 }])));
        // RFC 8785: keys sorted, no white space; decimals are texts.
        Assert.Contains("\"lower\":\"120\",\"mark\":\"quoted\"", Content(Set([Area])), StringComparison.Ordinal);
        var read = RuleSetContent.Read(Content(Set([Area, Tube, Smooth]))).Value;
        Assert.Equal(Content(Set([Area, Tube, Smooth])), Content(read));
    }

    [Fact]
    public void A_set_written_as_a_file_is_read_again_as_it_was()
    {
        var set = Of(Set([Area, Tube, Smooth]).Document with { CopyOf = "book", CopyOfVersion = 3 });
        var text = RuleSetReader.Write(set.Document);
        Assert.Contains("≥ 120 cm²", text, StringComparison.Ordinal);
        Assert.Equal(Content(set), Content(RuleSetReader.Read(text).Value));
    }

    [Fact]
    public void A_stored_version_whose_content_or_place_was_changed_says_so()
    {
        var stored = Stored();
        Assert.Empty(stored.Audit());
        Change(stored, nameof(RuleSetVersion.Content), stored.Content.Replace("120", "100", StringComparison.Ordinal));
        Assert.Contains("hash differs", stored.Audit().Single(), StringComparison.Ordinal);
        var moved = Stored();
        Change(moved, nameof(RuleSetVersion.Number), 8);
        Assert.Contains("version 7", moved.Audit().Single(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_copy_stands_for_its_original_and_for_nothing_else()
    {
        var copy = Of(Set([Area]).Document with { Code = "book-own", CopyOf = "book", CopyOfVersion = 1 });
        Assert.True(copy.StandsFor("book"));
        Assert.True(copy.StandsFor("book-own"));
        Assert.False(copy.StandsFor("another"));
    }

    [Fact]
    public void A_set_is_withdrawn_once_and_offered_again()
    {
        var shelf = RuleSetShelf.Of("book");
        Assert.IsType<Failure.Refused>(shelf.Offer().Failure);
        Assert.True(shelf.Withdraw(Noon, null).IsSuccess);
        Assert.IsType<Failure.Refused>(shelf.Withdraw(Noon, null).Failure);
        Assert.True(shelf.Offer().IsSuccess);
        Assert.Null(shelf.WithdrawnAt);
    }

    private static RuleSetVersion Stored() =>
        RuleSetVersion.Store(new RuleSetVersionId(Guid.Empty), Set([Area]), 7, RuleSetOrigin.Edited, Noon, null);

    private static void Change(RuleSetVersion version, string property, object value) =>
        typeof(RuleSetVersion).GetProperty(property)!.SetValue(version, value);

    private static string Content(RuleSet set) => RuleSetContent.Write(RuleSetContent.Clean(set.Document));

    private static RuleSet Of(RuleSetDocument document) => RuleSet.From(document).Value;

    private static RuleSet Set(IReadOnlyList<RuleFigure> figures, string edition = "2026") =>
        Of(
            new RuleSetDocument(
                1,
                "book",
                1,
                "Sample body",
                "Sample book",
                edition,
                new DateOnly(2026, 1, 2),
                "Look it up.",
                figures
            )
        );
}
