using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting;

public sealed class WhatIfTests
{
    private static IReadOnlyList<Alternative> Of(PriceInput input) =>
        WhatIf.Of(TestBook.Book, input, _ => TestBook.Content);

    [Fact]
    public void Both_doors_fixed_is_said_in_one_sentence_that_opens_to_its_lines()
    {
        var fixedDoors = Assert.Single(
            Of(TestBook.Input),
            a => a.Sentence.StartsWith("Both doors fixed", StringComparison.Ordinal)
        );

        // 90.00 less and the tax on it; the test book counts no hours for hinges.
        Assert.Equal("Both doors fixed: 99.00 EUR less, the same hours.", fixedDoors.Sentence);
        Assert.Equal(new LineChange("door:L", "Left door bar: swing-out", 9_000, 0), Assert.Single(fixedDoors.Lines));
    }

    [Fact]
    public void Every_alternative_is_what_the_engine_says_of_it()
    {
        var now = TestBook.Price(TestBook.Input);
        var alternatives = Of(TestBook.Input);

        Assert.Equal(6, alternatives.Count);
        foreach (var alternative in alternatives)
        {
            var then = TestBook.Price(TestBook.Input with { Scope = alternative.Scope });
            Assert.Equal(then.TotalMinor - now.TotalMinor, alternative.TotalMinorMore);
            Assert.Equal(then.Hours.Priced - now.Hours.Priced, alternative.HoursMore);
            var lines = alternative.Lines.Sum(l => l.AfterMinor - l.BeforeMinor);
            Assert.Equal(then.SubtotalMinor - now.SubtotalMinor, lines);
        }
    }

    [Fact]
    public void Answer_of_the_condition_that_changes_hours_says_both()
    {
        var heavy = Assert.Single(
            Of(TestBook.Input),
            a => a.Sentence.StartsWith("Rust: heavy instead of none", StringComparison.Ordinal)
        );

        Assert.Matches("^Rust: heavy instead of none: 2.54 h and [0-9.]+ EUR more.$", heavy.Sentence);
    }

    [Fact]
    public void What_cannot_be_priced_has_no_alternatives() =>
        Assert.Empty(Of(TestBook.Input with { Scope = TestBook.Scope with { KitCode = "none" } }));
}
