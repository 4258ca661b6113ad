using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Tests.Quoting;

namespace ShopFloor.Domain.Tests.Accounts;

/// <summary>Accounts with invoices for tests: numbers them as the program does.</summary>
internal sealed class TestPapers
{
    private static readonly InvoiceParties Parties = new(
        new("Test Works Ltd", ["1 Test Lane"], "T-1"),
        new("A. Customer", ["2 Test Lane"], null),
        null,
        "salt"
    );

    private readonly List<Invoice> papers = [];

    public TestPapers(JobAccount account) => Account = account;

    public JobAccount Account { get; }

    public IReadOnlyList<Invoice> All => papers;

    public Billing Billing => Billing.Of(Account, papers);

    public static EntryStamp Stamp() =>
        new(Ids.New<LedgerEntryId>(TestBook.Clock), TestBook.Today, TestBook.Clock.GetUtcNow(), null);

    public static TestPapers Open(Func<QuoteTerms, QuoteTerms>? change = null) =>
        new(JobAccount.Open(Ids.New<JobId>(TestBook.Clock), TestBook.Accepted(change), Stamp));

    public Outcome<Invoice> Issue(BillPart? part = null, DateOnly? suppliedOn = null) =>
        Keep(Account.Issue(Next("I", suppliedOn), papers, part ?? BillPart.All));

    public Outcome<Invoice> Credit(Invoice invoice, BillPart? part = null) =>
        Keep(Account.Credit(Next("C"), papers, invoice, part ?? BillPart.All, "As agreed"));

    /// <summary>Cancels and credits what was not supplied, as the program does.</summary>
    public void Cancel(InvoiceContent? workDone = null)
    {
        var done = new Dictionary<int, InvoiceContent>();
        if (workDone is not null)
        {
            done[1] = workDone;
        }

        Assert.True(Account.SettleCancelled(Stamp, done).IsSuccess);
        foreach (var (invoice, content) in Billing.Excess())
        {
            papers.Add(Account.Credit(Next("C"), invoice, content, "Not supplied"));
        }
    }

    public long SumOf(LedgerAccount account) => Account.Entries.Sum(e => e.Sum(account));

    public void AssertSound()
    {
        Assert.Empty(Account.Audit());
        Assert.Empty(Account.Audit(papers));
        Assert.Empty(papers.SelectMany(p => p.Audit()));
    }

    private InvoiceStamp Next(string series, DateOnly? suppliedOn = null) =>
        new(
            Ids.New<InvoiceId>(TestBook.Clock),
            $"{series}-2026-{papers.Count(p => p.Number[..1] == series) + 1:0000}",
            "Q-2026-0001 revision 1",
            suppliedOn ?? TestBook.Today,
            Parties,
            Stamp()
        );

    private Outcome<Invoice> Keep(Outcome<Invoice> issued)
    {
        if (issued.IsSuccess)
        {
            papers.Add(issued.Value);
        }

        return issued;
    }
}
