using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting;

public sealed class QuoteDifferenceTests
{
    [Fact]
    public void Car_as_assumed_makes_no_difference()
    {
        var difference = Between(new() { ["rust"] = "none", ["filler"] = "some" });

        Assert.True(difference.IsNone);
        Assert.Equal((0m, 0L), (difference.HoursMore, difference.TotalMinorMore));
    }

    [Fact]
    public void Rust_found_is_said_in_hours_and_money()
    {
        var difference = Between(new() { ["rust"] = "light" });

        // Seams take 3 h instead of 2: one hour of fitting at 60.00 and 10 % tax.
        Assert.Equal((1m, 6_600L), (difference.HoursMore, difference.TotalMinorMore));
        Assert.Equal(
            "Rust: light found, none assumed: 1 h and 66.00 EUR more.",
            Assert.Single(difference.Answers).Sentence
        );
    }

    [Fact]
    public void Effects_of_several_answers_add_up_to_the_whole_difference()
    {
        var difference = Between(new() { ["rust"] = "heavy", ["filler"] = "none" });

        Assert.Equal(2, difference.Answers.Count);
        Assert.Equal(difference.TotalMinorMore, difference.Answers.Sum(a => a.TotalMinorMore));
        Assert.Equal(difference.HoursMore, difference.Answers.Sum(a => a.HoursMore));
        Assert.Equal(["Look before welding."], difference.Precautions);
        Assert.Contains("less", difference.Answers[1].Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Answer_that_changes_the_work_itself_counts_too()
    {
        var difference = QuoteDifference
            .Between(
                TestBook.Book,
                TestBook.Input,
                new Dictionary<string, string> { ["filler"] = "none" },
                scope =>
                    scope.Condition.GetValueOrDefault("filler") == "none"
                        ? TestBook.Content.Skip(1).ToList()
                        : TestBook.Content
            )
            .Value;

        Assert.Equal(-2, difference.HoursMore);
    }

    [Fact]
    public void Unknown_answer_is_refused() =>
        Assert.IsType<Failure.Invalid>(
            QuoteDifference
                .Between(
                    TestBook.Book,
                    TestBook.Input,
                    new Dictionary<string, string> { ["rust"] = "purple" },
                    _ => TestBook.Content
                )
                .Failure
        );

    private static ConditionDifference Between(Dictionary<string, string> found) =>
        QuoteDifference.Between(TestBook.Book, TestBook.Input, found, _ => TestBook.Content).Value;
}
