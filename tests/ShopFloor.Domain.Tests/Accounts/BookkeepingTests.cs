using CsCheck;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Tests.Quoting;

namespace ShopFloor.Domain.Tests.Accounts;

/// <summary>Counting a day, and what a job costs.</summary>
public sealed class BookkeepingTests
{
    private static readonly Dictionary<PaymentMethod, long> Expected = new()
    {
        [PaymentMethod.Cash] = 500,
        [PaymentMethod.Card] = 0,
        [PaymentMethod.BankTransfer] = 0,
        [PaymentMethod.Cheque] = 0,
    };

    [Fact]
    public void Day_expects_by_way_to_pay_what_came_in_less_what_went_out()
    {
        var account = TestPapers.Open().Account;
        Assert.True(account.TakePayment(TestPapers.Stamp(), Moved(9_000, PaymentMethod.Cash)).IsSuccess);
        var mistake = account.TakePayment(TestPapers.Stamp(), Moved(700, PaymentMethod.Card)).Value;
        Assert.True(account.Reverse(TestPapers.Stamp(), mistake.Id, "Wrong job").IsSuccess);
        Assert.True(account.Refund(TestPapers.Stamp(), Moved(2_000, PaymentMethod.Cash), "Goodwill").IsSuccess);

        var expected = DayClose.Expected(account.Entries);

        Assert.Equal((7_000, 0), (expected[PaymentMethod.Cash], expected[PaymentMethod.Card]));
    }

    [Fact]
    public void Difference_needs_a_note_and_agreement_needs_none()
    {
        var differs = Close([new(PaymentMethod.Cash, 480, null)]).Failure;
        Assert.Equal("methods[0].note", Assert.IsType<Failure.Invalid>(differs).Errors[0].Path);

        var noted = Close([new(PaymentMethod.Cash, 480, "Wrong change")]).Value;
        Assert.Equal(-20, noted.Methods[0].DifferenceMinor);
        Assert.True(Close([new(PaymentMethod.Cash, 500, null)]).IsSuccess);
    }

    [Fact]
    public void Way_to_pay_with_money_expected_must_be_counted_and_a_day_to_come_is_not_closed()
    {
        Assert.Equal("methods", Assert.IsType<Failure.Invalid>(Close([]).Failure).Errors[0].Path);
        var future = Close([new(PaymentMethod.Cash, 500, null)], TestBook.Today.AddDays(1)).Failure;
        Assert.Equal("day", Assert.IsType<Failure.Invalid>(future).Errors[0].Path);
    }

    [Fact]
    public void Closed_days_difference_is_always_counted_less_expected() =>
        Gen.Long[-1_000_000, 1_000_000]
            .Sample(counted =>
            {
                var closed = Close([new(PaymentMethod.Cash, counted, "As counted")]).Value;
                Assert.Equal(counted - 500, closed.Methods[0].DifferenceMinor);
            });

    [Fact]
    public void Cost_counts_until_it_is_taken_back_and_is_not_changed_afterwards()
    {
        var cost = Book(Details).Value;
        Assert.True(cost.Counts);
        Assert.True(cost.Attach("hash").IsSuccess);

        Assert.True(cost.Reverse("Wrong car", default, null).IsSuccess);

        Assert.False(cost.Counts);
        Assert.IsType<Failure.Refused>(cost.Reverse("Again", default, null).Failure);
        Assert.IsType<Failure.Refused>(cost.Attach("other").Failure);
    }

    [Fact]
    public void Cost_names_all_that_is_wrong_at_once()
    {
        var failure = Book(
            new CostDetails(null, " ", null, -1, -1, TestBook.Today.AddDays(1), new string('x', 65), "999")
        ).Failure;

        Assert.Equal(
            ["kind", "supplier", "reference", "amountMinor", "taxMinor", "on", "operation"],
            Assert.IsType<Failure.Invalid>(failure).Errors.Select(e => e.Path)
        );
    }

    [Fact]
    public void The_same_part_of_a_bill_is_booked_once_and_a_bill_can_be_split()
    {
        var bill = Details with { Reference = "B-17" };
        var first = Book(bill).Value;

        Assert.Equal("reference", FieldOf(Book(bill with { Reference = "b-17", Supplier = "coating SHOP" }, first)));
        Assert.True(Book(bill with { Operation = "20" }, first).IsSuccess);
        Assert.True(Book(bill with { AmountMinor = 9_999 }, first).IsSuccess);
        Assert.True(Book(bill with { Supplier = "Tube dealer" }, first).IsSuccess);
        Assert.True(Book(Details, Book(Details).Value).IsSuccess);
        Assert.True(first.Reverse("Typed twice", TestBook.Clock.GetUtcNow(), null).IsSuccess);
        Assert.True(Book(bill, first).IsSuccess);
    }

    [Fact]
    public void Costs_of_a_job_stay_within_what_can_be_added_up()
    {
        var huge = Details with { AmountMinor = TotalsRules.LargestMinor };
        var first = Book(huge).Value;

        Assert.Equal("amountMinor", FieldOf(Book(Details with { AmountMinor = 1 }, first)));
    }

    private static string FieldOf(Outcome<JobCost> outcome) =>
        Assert.IsType<Failure.Invalid>(outcome.Failure).Errors[0].Path;

    private static readonly CostDetails Details = new(
        CostKind.OutsideWork,
        "Coating shop",
        null,
        10_000,
        null,
        TestBook.Today,
        null,
        "10"
    );

    private static Outcome<JobCost> Book(CostDetails details, params JobCost[] others) =>
        JobCost.Book(
            Ids.New<JobCostId>(TestBook.Clock),
            Ids.New<JobId>(TestBook.Clock),
            details,
            ["10", "20"],
            [.. others],
            TestPapers.Stamp()
        );

    private static Outcome<DayClose> Close(IReadOnlyList<MethodCount> counts, DateOnly? day = null) =>
        DayClose.Close(
            Ids.New<DayCloseId>(TestBook.Clock),
            day ?? TestBook.Today,
            TestBook.Today,
            Expected,
            counts,
            TestPapers.Stamp()
        );

    private static MoneyMoved Moved(long minor, PaymentMethod method) => new(minor, method, null, "R-2026-0001");
}
