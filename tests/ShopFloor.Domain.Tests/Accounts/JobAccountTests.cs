using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Tests.Quoting;

namespace ShopFloor.Domain.Tests.Accounts;

public sealed class JobAccountTests
{
    private const long Total = 158_752;

    private static EntryStamp Stamp() =>
        new(Ids.New<LedgerEntryId>(TestBook.Clock), TestBook.Today, TestBook.Clock.GetUtcNow(), null);

    private static JobAccount Open(Func<QuoteTerms, QuoteTerms>? change = null) =>
        JobAccount.Open(Ids.New<JobId>(TestBook.Clock), TestBook.Accepted(change), Stamp);

    private static Dictionary<int, InvoiceContent> Done(InvoiceContent workDone) => new() { [1] = workDone };

    private static MoneyMoved Cash(long minor) => new(minor, PaymentMethod.Cash, null, "R-2026-0001");

    [Fact]
    public void New_account_owes_the_accepted_total()
    {
        var account = Open();

        Assert.Equal((Total, Total), (account.ChargedMinor, account.BalanceMinor));
        Assert.Equal(
            [(LedgerAccount.Customer, Total), (LedgerAccount.Agreed, -Total)],
            account.Entries[0].Postings.Select(p => (p.Account, p.Minor))
        );
    }

    [Fact]
    public void Agreed_trade_credit_lowers_the_balance_and_not_the_tax()
    {
        var account = Open(t => t with { TradeCreditMinor = 50_000, TradeCreditNote = "A set of wheels" });

        Assert.Equal(
            (Total, 50_000, Total - 50_000),
            (account.ChargedMinor, account.TradeCreditMinor, account.BalanceMinor)
        );
        var papers = new TestPapers(account);
        Assert.Equal(14_432, papers.Issue().Value.Content.TaxMinor);
        Assert.Equal(-14_432, papers.SumOf(LedgerAccount.Tax));
    }

    [Fact]
    public void Deposit_and_payment_bring_the_balance_to_nothing()
    {
        var account = Open();

        Assert.True(account.TakeDeposit(Stamp(), Cash(47_626)).IsSuccess);
        Assert.True(account.TakePayment(Stamp(), Cash(Total - 47_626)).IsSuccess);

        Assert.Equal((Total, 0), (account.PaidMinor, account.BalanceMinor));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-5)]
    [InlineData(Total + 1)]
    public void Payment_of_nothing_or_above_the_balance_is_refused(long minor)
    {
        var account = Open();

        Assert.IsType<Failure.Invalid>(account.TakePayment(Stamp(), Cash(minor)).Failure);
        Assert.Single(account.Entries);
    }

    [Fact]
    public void Refund_is_at_most_what_was_paid()
    {
        var account = Open();
        Assert.True(account.TakePayment(Stamp(), Cash(1_000)).IsSuccess);

        Assert.IsType<Failure.Invalid>(account.Refund(Stamp(), Cash(1_001), "Too much").Failure);
        Assert.True(account.Refund(Stamp(), Cash(1_000), "Wrong job").IsSuccess);
        Assert.Equal((0, Total), (account.PaidMinor, account.BalanceMinor));
    }

    [Fact]
    public void Mistake_is_taken_back_once_by_its_opposite_and_stays_readable()
    {
        var account = Open();
        var payment = account.TakePayment(Stamp(), Cash(5_000)).Value;

        var reversal = account.Reverse(Stamp(), payment.Id, "Booked on the wrong job").Value;

        Assert.Equal((payment.Id, Total, 0), (reversal.Reverses, account.BalanceMinor, account.PaidMinor));
        Assert.Equal(3, account.Entries.Count);
        Assert.IsType<Failure.Refused>(account.Reverse(Stamp(), payment.Id, "Again").Failure);
        Assert.IsType<Failure.Refused>(account.Reverse(Stamp(), reversal.Id, "Again").Failure);
        Assert.IsType<Failure.NotFound>(
            account.Reverse(Stamp(), Ids.New<LedgerEntryId>(TestBook.Clock), "None").Failure
        );
    }

    [Fact]
    public void Cancelled_job_charges_the_work_done_and_owes_the_rest()
    {
        var account = Open();
        Assert.True(account.TakeDeposit(Stamp(), Cash(47_626)).IsSuccess);
        var done = new Dictionary<string, decimal> { ["50"] = 1, ["70"] = 0.5m };

        var workDone = CancelledWork.Price(TestBook.Accepted().Priced, done, new HashSet<string>()).Value;
        Assert.True(account.SettleCancelled(Stamp, Done(workDone)).IsSuccess);

        // 2 h and half of 1.08 h of fitting at 60.00, with 10 % tax: 152.40 + 15.24.
        Assert.Equal(16_764, workDone.TotalMinor);
        Assert.Equal(16_764 - 47_626, account.BalanceMinor);
        Assert.True(account.Refund(Stamp(), Cash(47_626 - 16_764), "Cancelled").IsSuccess);
        Assert.Equal(0, account.BalanceMinor);
        Assert.IsType<Failure.Refused>(account.SettleCancelled(Stamp, Done(workDone)).Failure);
    }

    [Fact]
    public void Cancelled_before_anything_was_done_charges_nothing()
    {
        var workDone = CancelledWork
            .Price(TestBook.Accepted().Priced, new Dictionary<string, decimal>(), new HashSet<string>())
            .Value;
        var account = Open();
        Assert.True(account.SettleCancelled(Stamp, Done(workDone)).IsSuccess);

        Assert.Equal((0, 0), (workDone.TotalMinor, account.BalanceMinor));
    }

    [Fact]
    public void Everything_done_and_used_charges_the_whole_quote()
    {
        var priced = TestBook.Accepted(t => t with { Discount = new(10, null) }).Priced;
        var all = priced.Operations.ToDictionary(o => o.OperationCode, _ => 1m);
        var used = priced.Lines.Select(l => l.Code).ToHashSet();

        Assert.Equal(priced.TotalMinor, CancelledWork.Price(priced, all, used).Value.TotalMinor);
    }

    [Fact]
    public void Agreed_work_and_invoices_are_not_taken_back_by_hand()
    {
        var papers = TestPapers.Open();
        Assert.True(papers.Issue().IsSuccess);

        foreach (var entry in papers.Account.Entries.ToList())
        {
            var failure = papers.Account.Reverse(Stamp(), entry.Id, "Wrong").Failure;
            Assert.Equal("notMoney", Assert.IsType<Failure.Refused>(failure).Reasons[0].Code);
        }
    }

    [Fact]
    public void Payment_that_was_given_back_is_not_taken_back_before_its_refund()
    {
        var account = Open();
        var payment = account.TakePayment(Stamp(), Cash(1_000)).Value;
        var refund = account.Refund(Stamp(), Cash(1_000), "Goodwill").Value;

        var failure = account.Reverse(Stamp(), payment.Id, "Wrong").Failure;

        Assert.Equal("refunded", Assert.IsType<Failure.Refused>(failure).Reasons[0].Code);
        Assert.True(account.Reverse(Stamp(), refund.Id, "Wrong").IsSuccess);
        Assert.True(account.Reverse(Stamp(), payment.Id, "Wrong").IsSuccess);
    }

    [Fact]
    public void Work_waits_for_a_deposit_only_where_it_is_set_to_and_the_owner_may_waive_it()
    {
        var account = Open();
        Assert.False(account.WaitsForDeposit);
        Assert.True(account.WaitForDeposit(true).IsSuccess);
        Assert.Equal((true, 47_626), (account.WaitsForDeposit, account.DepositMissingMinor));

        Assert.True(account.TakeDeposit(Stamp(), Cash(47_625)).IsSuccess);
        Assert.True(account.WaitsForDeposit);
        Assert.True(account.TakeDeposit(Stamp(), Cash(1)).IsSuccess);
        Assert.False(account.WaitsForDeposit);
        Assert.IsType<Failure.Refused>(account.StartWithoutDeposit("Known customer", default, null).Failure);

        var other = Open();
        Assert.True(other.WaitForDeposit(true).IsSuccess);
        Assert.True(other.StartWithoutDeposit("Known customer", default, null).IsSuccess);
        Assert.False(other.WaitsForDeposit);
    }

    [Fact]
    public void Decision_to_let_the_car_go_holds_for_the_balance_it_was_made_on()
    {
        var account = Open();
        Assert.False(account.MayGo);
        Assert.True(account.TakePayment(Stamp(), Cash(Total - 100)).IsSuccess);
        Assert.True(account.HandOverWithBalance("Pays on Friday", default, null).IsSuccess);
        Assert.True(account.MayGo);

        Assert.True(account.Refund(Stamp(), Cash(50), "Goodwill").IsSuccess);

        Assert.False(account.MayGo);
        Assert.True(account.TakePayment(Stamp(), Cash(150)).IsSuccess);
        Assert.True(account.MayGo);
        Assert.IsType<Failure.Refused>(account.HandOverWithBalance("Nothing owed", default, null).Failure);
    }
}
