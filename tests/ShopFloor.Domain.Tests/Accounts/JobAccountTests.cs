using CsCheck;
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

    private static MoneyMoved Cash(long minor) => new(minor, PaymentMethod.Cash, null, "R-2026-0001");

    [Fact]
    public void New_account_owes_the_accepted_total()
    {
        var account = Open();

        Assert.Equal((Total, Total), (account.ChargedMinor, account.BalanceMinor));
        Assert.Equal(
            [(LedgerAccount.Customer, Total), (LedgerAccount.Sales, -144_320L), (LedgerAccount.Tax, -14_432L)],
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
        Assert.Equal(
            -14_432,
            account.Entries.SelectMany(e => e.Postings).Where(p => p.Account == LedgerAccount.Tax).Sum(p => p.Minor)
        );
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
        Assert.True(account.SettleCancelled(Stamp, workDone).IsSuccess);

        // 2 h and half of 1.08 h of fitting at 60.00, with 10 % tax: 152.40 + 15.24.
        Assert.Equal(16_764, workDone.TotalMinor);
        Assert.Equal(16_764 - 47_626, account.BalanceMinor);
        Assert.True(account.Refund(Stamp(), Cash(47_626 - 16_764), "Cancelled").IsSuccess);
        Assert.Equal(0, account.BalanceMinor);
        Assert.IsType<Failure.Refused>(account.SettleCancelled(Stamp, workDone).Failure);
    }

    [Fact]
    public void Cancelled_before_anything_was_done_charges_nothing()
    {
        var workDone = CancelledWork
            .Price(TestBook.Accepted().Priced, new Dictionary<string, decimal>(), new HashSet<string>())
            .Value;
        var account = Open();
        Assert.True(account.SettleCancelled(Stamp, workDone).IsSuccess);

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
    public void Both_sides_stay_equal_whatever_is_booked() =>
        Gen.Select(Gen.Int[0, 4], Gen.Long[-10, 60_000])
            .List[0, 20]
            .Sample(steps =>
            {
                var account = Open();
                foreach (var (kind, minor) in steps)
                {
                    _ = kind switch
                    {
                        0 => account.TakeDeposit(Stamp(), Cash(minor)).IsSuccess,
                        1 => account.TakePayment(Stamp(), Cash(minor)).IsSuccess,
                        2 => account.Refund(Stamp(), Cash(minor), "Back").IsSuccess,
                        3 => account.TakeTradeCredit(Stamp(), minor, "Goods", "R-2026-0002").IsSuccess,
                        _ => account.Reverse(Stamp(), account.Entries[^1].Id, "Mistake").IsSuccess,
                    };
                }

                Assert.Empty(account.Audit());
                Assert.Equal(account.ChargedMinor - account.PaidMinor - account.TradeCreditMinor, account.BalanceMinor);
                Assert.Equal(Enumerable.Range(1, account.Entries.Count), account.Entries.Select(e => e.Sequence));
            });
}
