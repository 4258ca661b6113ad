using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Tests.Quoting;

namespace ShopFloor.Domain.Tests.Accounts;

public sealed class InvoiceTests
{
    private static EntryStamp Stamp() =>
        new(Ids.New<LedgerEntryId>(TestBook.Clock), TestBook.Today, TestBook.Clock.GetUtcNow(), null);

    [Fact]
    public void Invoice_is_frozen_with_its_hash_and_says_what_the_quote_said()
    {
        var quote = TestBook.Accepted();
        var account = JobAccount.Open(Ids.New<JobId>(TestBook.Clock), quote, Stamp);

        var invoice = Issue(account, InvoiceContent.Of(quote.Priced), TestBook.Today).Value;

        Assert.Equal(quote.TotalMinor, invoice.TotalMinor);
        Assert.Equal(CanonicalJson.Sha256(invoice.Snapshot), invoice.ContentHash);
        Assert.Contains("I-2026-0001", invoice.Snapshot, StringComparison.Ordinal);
    }

    [Fact]
    public void Supply_after_the_invoice_date_is_refused()
    {
        var quote = TestBook.Accepted();
        var account = JobAccount.Open(Ids.New<JobId>(TestBook.Clock), quote, Stamp);

        var failure = Issue(account, InvoiceContent.Of(quote.Priced), TestBook.Today.AddDays(1)).Failure;

        Assert.Equal("suppliedOn", Assert.IsType<Failure.Invalid>(failure).Errors[0].Path);
    }

    [Fact]
    public void Invoice_over_another_amount_than_the_account_charges_is_refused()
    {
        var quote = TestBook.Accepted();
        var account = JobAccount.Open(Ids.New<JobId>(TestBook.Clock), quote, Stamp);
        Assert.True(account.Reverse(Stamp(), account.Entries[0].Id, "Wrong").IsSuccess);

        Assert.IsType<Failure.Refused>(Issue(account, InvoiceContent.Of(quote.Priced), TestBook.Today).Failure);
    }

    private static Outcome<Invoice> Issue(JobAccount account, InvoiceContent content, DateOnly suppliedOn) =>
        Invoice.Issue(
            Ids.New<InvoiceId>(TestBook.Clock),
            "I-2026-0001",
            account,
            "Q-2026-0001 revision 1",
            content,
            suppliedOn,
            Stamp()
        );
}
