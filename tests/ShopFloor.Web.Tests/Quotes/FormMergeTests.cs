using System.Reflection;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Features.Quotes;

namespace ShopFloor.Web.Tests.Quotes;

public sealed class FormMergeTests
{
    private static readonly PriceBook Book = StarterPriceBook.For(Currency.Of("EUR"));

    private static CounterForm With(Action<CounterForm> change)
    {
        var form = CounterForm.Of(Book);
        change(form);
        return form;
    }

    [Fact]
    public void What_only_one_of_two_changed_is_put_together()
    {
        var mine = With(f => f.CustomerNote = "Call before noon");
        var theirs = With(f => f.Condition["rust"] = "heavy");

        var merge = new FormMerge(Book, CounterForm.Of(Book), mine, theirs);

        Assert.Empty(merge.Choices);
        Assert.Contains("Rust: heavy", Assert.Single(merge.Taken), StringComparison.Ordinal);
        Assert.Equal(("Call before noon", "heavy"), (mine.CustomerNote, mine.Condition["rust"]));
    }

    [Fact]
    public void What_both_changed_is_asked_and_mine_stays_until_theirs_is_chosen()
    {
        var mine = With(f => f.DiscountPercent = 5);
        var theirs = With(f => f.DiscountPercent = 10);
        var merge = new FormMerge(Book, CounterForm.Of(Book), mine, theirs);

        var choice = Assert.Single(merge.Choices);
        Assert.Equal(("Discount", "5 %", "10 %"), (choice.Label, choice.Mine, choice.Theirs));
        merge.Apply();
        Assert.Equal(5, mine.DiscountPercent);
        choice.TakesTheirs = true;
        merge.Apply();
        Assert.Equal(10, mine.DiscountPercent);
    }

    [Fact]
    public void Another_customer_is_asked_about_in_words_and_not_by_ids()
    {
        var at = new DateTimeOffset(2026, 5, 6, 12, 0, 0, TimeSpan.Zero);
        var mine = With(f => f.Customer = Ids.New<CustomerId>(at));
        var theirs = With(f => f.Customer = Ids.New<CustomerId>(at));
        var chosen = theirs.Customer;

        var merge = new FormMerge(Book, CounterForm.Of(Book), mine, theirs);

        var choice = Assert.Single(merge.Choices);
        Assert.Equal(
            ("Customer and car", "as chosen here", "as saved by the other"),
            (choice.Label, choice.Mine, choice.Theirs)
        );
        choice.TakesTheirs = true;
        merge.Apply();
        Assert.Equal(chosen, mine.Customer);
    }

    [Fact]
    public void The_same_change_by_both_is_no_question()
    {
        var merge = new FormMerge(
            Book,
            CounterForm.Of(Book),
            With(f => f.KitCode = "four-point-half-bar"),
            With(f => f.KitCode = "four-point-half-bar")
        );

        Assert.Empty(merge.Choices);
        Assert.Empty(merge.Taken);
    }

    [Fact]
    public void Every_answer_on_the_form_takes_part()
    {
        foreach (var property in typeof(CounterForm).GetProperties(BindingFlags.Public | BindingFlags.Instance))
        {
            if (property.Name == nameof(CounterForm.HasKit))
            {
                continue;
            }

            var theirs = CounterForm.Of(Book);
            Change(property, theirs);
            var merge = new FormMerge(Book, CounterForm.Of(Book), CounterForm.Of(Book), theirs);
            Assert.True(merge.Taken.Count == 1, $"{property.Name} is not merged.");
        }
    }

    private static void Change(PropertyInfo property, CounterForm form)
    {
        switch (property.GetValue(form))
        {
            case HashSet<string> set:
                set.Add("another");
                break;
            case Dictionary<DoorSide, string?> doors:
                doors[DoorSide.Left] = "swing-out-pin";
                break;
            case Dictionary<string, string> answers:
                answers["rust"] = "heavy";
                break;
            case List<BenchRow> rows:
                rows.Add(
                    new BenchRow
                    {
                        Skill = "welder",
                        StandardCode = "notch",
                        Quantity = 2,
                    }
                );
                break;
            case List<LineRow> rows:
                rows.Add(new LineRow { Description = "Window net" });
                break;
            default:
                property.SetValue(form, Sample(property.PropertyType));
                break;
        }
    }

    private static object Sample(Type type) =>
        (Nullable.GetUnderlyingType(type) ?? type) switch
        {
            var t when t == typeof(string) => "another",
            var t when t == typeof(decimal) => 7m,
            var t when t == typeof(long) => 700L,
            var t when t == typeof(DateOnly) => new DateOnly(2026, 12, 1),
            var t when t == typeof(Guid) => Guid.Parse("019f0000-0000-7000-8000-000000000002"),
            var t when t == typeof(CustomerId) => CustomerId.From(Guid.Parse("019f0000-0000-7000-8000-000000000003")),
            var t when t == typeof(CarId) => CarId.From(Guid.Parse("019f0000-0000-7000-8000-000000000004")),
            var t when t == typeof(SaleKind) => SaleKind.Bench,
            var t => throw new InvalidOperationException($"No sample of {t}."),
        };
}
