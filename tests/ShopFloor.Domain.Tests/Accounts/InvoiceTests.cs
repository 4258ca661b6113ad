using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Tests.Quoting;

namespace ShopFloor.Domain.Tests.Accounts;

public sealed class InvoiceTests
{
    private const long Total = 158_752;

    [Fact]
    public void Invoice_is_frozen_with_its_hash_and_says_what_the_quote_said()
    {
        var job = TestPapers.Open();

        var invoice = job.Issue().Value;

        Assert.Equal((Total, InvoiceKind.Whole), (invoice.TotalMinor, invoice.Kind));
        Assert.Equal(CanonicalJson.Sha256(invoice.Snapshot), invoice.ContentHash);
        Assert.Contains("I-2026-0001", invoice.Snapshot, StringComparison.Ordinal);
        Assert.All(invoice.Content.Lines, l => Assert.Null(l.PartOf));
        job.AssertSound();
    }

    [Fact]
    public void Issuing_moves_the_agreed_work_to_sales_and_tax_and_leaves_the_customers_balance()
    {
        var job = TestPapers.Open();
        Assert.Equal((Total, -Total), (job.SumOf(LedgerAccount.Customer), job.SumOf(LedgerAccount.Agreed)));

        Assert.True(job.Issue().IsSuccess);

        Assert.Equal((Total, 0), (job.SumOf(LedgerAccount.Customer), job.SumOf(LedgerAccount.Agreed)));
        Assert.Equal((-144_320, -14_432), (job.SumOf(LedgerAccount.Sales), job.SumOf(LedgerAccount.Tax)));
        Assert.Equal("t", job.Account.Entries[^1].Postings.Single(p => p.Account == LedgerAccount.Tax).Tax);
    }

    [Fact]
    public void Names_are_not_in_the_frozen_text_so_that_they_can_be_erased()
    {
        var invoice = TestPapers.Open().Issue().Value;
        Assert.DoesNotContain("A. Customer", invoice.Snapshot, StringComparison.Ordinal);

        invoice.ForgetPerson();

        Assert.Empty(invoice.Audit());
        Assert.Null(invoice.Parties);
    }

    [Fact]
    public void Supply_after_the_invoice_date_is_refused()
    {
        var failure = TestPapers.Open().Issue(suppliedOn: TestBook.Today.AddDays(1)).Failure;

        Assert.Equal("suppliedOn", Assert.IsType<Failure.Invalid>(failure).Errors[0].Path);
    }

    [Fact]
    public void Supply_more_than_two_years_back_is_refused()
    {
        var job = TestPapers.Open();
        var failure = job.Issue(suppliedOn: TestBook.Today.AddYears(-2).AddDays(-1)).Failure;

        Assert.Equal("suppliedOn", Assert.IsType<Failure.Invalid>(failure).Errors[0].Path);
        Assert.True(job.Issue(suppliedOn: TestBook.Today.AddYears(-2)).IsSuccess);
    }

    [Fact]
    public void Nothing_is_invoiced_twice()
    {
        var job = TestPapers.Open();
        Assert.True(job.Issue().IsSuccess);

        var failure = Assert.IsType<Failure.Refused>(job.Issue().Failure);

        Assert.Equal("invoiced", failure.Reasons[0].Code);
        Assert.Single(job.All);
    }

    [Fact]
    public void Parts_by_percent_amount_and_lines_sum_to_the_whole_and_the_last_is_the_final_one()
    {
        var job = TestPapers.Open();

        var third = job.Issue(new BillPart(Percent: 33.3333m)).Value;
        var amount = job.Issue(new BillPart(AmountMinor: 50_001)).Value;
        var lines = job.Issue(new BillPart(LineKeys: ["1.1"])).Value;
        var last = job.Issue().Value;

        Assert.Equal(50_001, amount.TotalMinor);
        Assert.Equal(["1.1"], lines.Content.Lines.Select(l => l.Key));
        Assert.Equal(
            [InvoiceKind.Part, InvoiceKind.Part, InvoiceKind.Part, InvoiceKind.Final],
            job.All.Select(p => p.Kind)
        );
        Assert.Equal(Total, third.TotalMinor + amount.TotalMinor + lines.TotalMinor + last.TotalMinor);
        Assert.Equal(14_432, job.All.Sum(p => p.Content.TaxMinor));
        Assert.Equal(144_320, job.All.Sum(p => p.Content.Taxes.Sum(t => t.TaxableMinor)));
        Assert.Equal(0, job.Account.NotInvoicedMinor);
        job.AssertSound();
    }

    [Fact]
    public void Part_of_a_line_says_what_it_is_a_part_of()
    {
        var job = TestPapers.Open();

        var line = job.Issue(new BillPart(Percent: 50)).Value.Content.Lines[0];

        Assert.Equal((1m, 50_000), (line.Quantity, line.NetMinor));
        Assert.Equal(new LinePart(1, "piece", 100_000, 100_000), line.PartOf);
    }

    [Theory]
    [InlineData(0.0, null, "percent")]
    [InlineData(100.5, null, "percent")]
    [InlineData(0.00001, null, "percent")]
    [InlineData(null, 0L, "amountMinor")]
    [InlineData(null, Total + 1, "amountMinor")]
    [InlineData(10.0, 100L, "percent")]
    public void Part_that_cannot_be_is_refused_at_its_field(double? percent, long? amount, string path)
    {
        var job = TestPapers.Open();

        var failure = job.Issue(new BillPart((decimal?)percent, amount)).Failure;

        Assert.Equal(path, Assert.IsType<Failure.Invalid>(failure).Errors[0].Path);
        Assert.Equal(Total, job.Account.NotInvoicedMinor);
    }

    [Fact]
    public void Lines_that_are_unknown_or_used_up_are_named()
    {
        var job = TestPapers.Open();
        Assert.True(job.Issue(new BillPart(LineKeys: ["1.1"])).IsSuccess);

        var failure = Assert.IsType<Failure.Invalid>(job.Issue(new BillPart(LineKeys: ["1.1"])).Failure);

        Assert.Equal("lines[0]", failure.Errors[0].Path);
        Assert.IsType<Failure.Invalid>(job.Issue(new BillPart(LineKeys: ["9.9"])).Failure);
        Assert.IsType<Failure.Invalid>(job.Issue(new BillPart(LineKeys: [])).Failure);
    }

    [Fact]
    public void Credit_note_takes_an_invoice_back_and_it_can_be_invoiced_anew()
    {
        var job = TestPapers.Open();
        var invoice = job.Issue().Value;

        var note = job.Credit(invoice).Value;

        Assert.Equal(("C-2026-0001", invoice.Id, "I-2026-0001"), (note.Number, note.Credits, note.CreditsNumber));
        Assert.Equal((Total, Total), (note.TotalMinor, job.Account.NotInvoicedMinor));
        Assert.Equal((0, 0), (job.SumOf(LedgerAccount.Sales), job.SumOf(LedgerAccount.Tax)));
        Assert.Equal("credited", Assert.IsType<Failure.Refused>(job.Credit(invoice).Failure).Reasons[0].Code);
        Assert.IsType<Failure.Refused>(job.Credit(note).Failure);
        Assert.Equal(Total, job.Issue().Value.TotalMinor);
        job.AssertSound();
    }

    [Fact]
    public void Credit_of_lines_and_of_an_amount_is_at_most_what_was_invoiced()
    {
        var job = TestPapers.Open();
        var invoice = job.Issue().Value;

        Assert.Equal(110_000, job.Credit(invoice, new BillPart(LineKeys: ["1.1"])).Value.TotalMinor);
        Assert.Equal(10_000, job.Credit(invoice, new BillPart(AmountMinor: 10_000)).Value.TotalMinor);
        var over = job.Credit(invoice, new BillPart(AmountMinor: Total)).Failure;

        Assert.Equal("amountMinor", Assert.IsType<Failure.Invalid>(over).Errors[0].Path);
        Assert.Equal(Total - 120_000, job.Credit(invoice).Value.TotalMinor);
        job.AssertSound();
    }

    [Fact]
    public void Change_that_was_agreed_later_is_charged_and_invoiced_with_the_rest()
    {
        var job = TestPapers.Open();
        Assert.True(job.Issue(new BillPart(Percent: 40)).IsSuccess);
        var change = InvoiceContent.Of(TestBook.Price(TestBook.With(("rust", "heavy"))));

        Assert.True(job.Account.Charge(TestPapers.Stamp, "CO-2026-0001", change).IsSuccess);
        var last = job.Issue().Value;

        Assert.Equal(Total + change.TotalMinor, job.Account.ChargedMinor);
        Assert.Equal(Total + change.TotalMinor, job.All.Sum(p => p.TotalMinor));
        Assert.Equal(InvoiceKind.Final, last.Kind);
        job.AssertSound();
    }

    [Fact]
    public void Same_tax_at_another_rate_is_kept_apart()
    {
        var job = TestPapers.Open();
        var change = InvoiceContent.Of(TestBook.Price(TestBook.Input));
        var tax = change.Taxes[0] with { RatePercent = 12, TaxMinor = 17_318 };
        change = InvoiceContent.Sum("EUR", false, change.Lines, [tax]);

        Assert.True(job.Account.Charge(TestPapers.Stamp, "CO-2026-0001", change).IsSuccess);
        var invoice = job.Issue().Value;

        Assert.Equal(
            [("t", 10m, 14_432L), ("t 12%", 12m, 17_318L)],
            invoice.Content.Taxes.Select(t => (t.Code, t.RatePercent, t.TaxMinor))
        );
        job.AssertSound();
    }
}
