using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Accounts;

public sealed partial class JobAccount
{
    /// <summary>As far back as money can be booked.</summary>
    public const int MostYearsSinceSupply = 2;

    /// <summary>Invoices all or a part of what is left: moves it from agreed to sales and taxes.</summary>
    /// <param name="papers">All invoices and credit notes of this job so far, in the order of issue.</param>
    public Outcome<Invoice> Issue(InvoiceStamp stamp, IReadOnlyList<Invoice> papers, BillPart part)
    {
        ArgumentNullException.ThrowIfNull(stamp);
        if (stamp.SuppliedOn > stamp.Entry.On)
        {
            return Failure.Field(
                "suppliedOn",
                "The supply date lies after the invoice date; give the day the work was done."
            );
        }

        if (stamp.SuppliedOn < stamp.Entry.On.AddYears(-MostYearsSinceSupply))
        {
            return Failure.Field(
                "suppliedOn",
                $"The supply date lies more than {MostYearsSinceSupply} years back; check it."
            );
        }

        return Billing
            .Of(this, papers)
            .Next(part)
            .Then<Invoice>(next =>
            {
                var invoice = Invoice.Issue(stamp, next.Kind, this, next.Content);
                Book(stamp.Entry, invoice, EntryKind.Invoice, $"Invoice {invoice.Number}");
                return invoice;
            });
    }

    /// <summary>Writes a credit note for all or a part of an invoice: moves it back from sales and taxes to agreed.</summary>
    /// <param name="papers">All invoices and credit notes of this job so far, in the order of issue.</param>
    public Outcome<Invoice> Credit(
        InvoiceStamp stamp,
        IReadOnlyList<Invoice> papers,
        Invoice invoice,
        BillPart part,
        string reason
    ) =>
        Billing
            .Of(this, papers)
            .Credit(invoice, part)
            .Then<Invoice>(content => Credit(stamp, invoice, content, reason));

    /// <summary>Writes a credit note whose content <see cref="Billing"/> has worked out.</summary>
    public Invoice Credit(InvoiceStamp stamp, Invoice invoice, InvoiceContent content, string reason)
    {
        ArgumentNullException.ThrowIfNull(stamp);
        ArgumentNullException.ThrowIfNull(invoice);
        var note = Invoice.Issue(
            stamp with
            {
                SuppliedOn = invoice.SuppliedOn,
                References = invoice.QuoteReference,
            },
            InvoiceKind.Credit,
            this,
            content,
            invoice,
            reason
        );
        Book(stamp.Entry, note, EntryKind.CreditNote, $"Credit note {note.Number} for {invoice.Number}");
        return note;
    }

    /// <summary>What differs from a sound ledger; empty when all adds up.</summary>
    public IReadOnlyList<string> Audit() =>
        [
            .. entries
                .Where(e => e.Postings.Sum(p => p.Minor) != 0)
                .Select(e => $"Entry {e.Sequence} of job {Id} is lopsided."),
            .. entries
                .OrderBy(e => e.Sequence)
                .Where((e, i) => e.Sequence != i + 1)
                .Select(e => $"Entry {e.Sequence} of job {Id} is out of order."),
            .. EntryCount == entries.Count
                ? Array.Empty<string>()
                : [$"Job {Id} has {entries.Count} entries instead of {EntryCount}."],
            .. entries
                .Where(e => !IsReversalRight(e))
                .Select(e => $"Entry {e.Sequence} of job {Id} is not the opposite of what it takes back."),
            .. charges
                .Where(c =>
                    entries
                        .Where(e => e.Kind == EntryKind.Charge && e.Charge == c.Number && !IsReversed(e))
                        .Sum(e => e.CustomerMinor) != c.Counted.TotalMinor
                )
                .Select(c => $"Job {Id} charges another amount than was agreed by {c.Reference}."),
            .. charges.SelectMany(c =>
                c.Counted.Differences().Select(d => $"What job {Id} agreed by {c.Reference} does not add up: {d}.")
            ),
        ];

    /// <summary>What differs between the ledger and the papers it booked; empty when all adds up.</summary>
    /// <param name="papers">All invoices and credit notes of this job.</param>
    public IReadOnlyList<string> Audit(IReadOnlyList<Invoice> papers)
    {
        ArgumentNullException.ThrowIfNull(papers);
        var found = new List<string>();
        foreach (var paper in papers)
        {
            var booked = entries.Where(e => e.Paper == paper.Id).ToList();
            if (booked.Count != 1 || !SamePostings(booked[0].Postings, PostingsOf(paper)))
            {
                found.Add($"{paper.Number} is booked otherwise than it reads.");
            }

            if (paper.IsCredit && !papers.Any(p => p.Id == paper.Credits && p.Number == paper.CreditsNumber))
            {
                found.Add($"{paper.Number} takes back an invoice that is not there.");
            }
        }

        found.AddRange(
            entries
                .Where(e => e.Kind is EntryKind.Invoice or EntryKind.CreditNote)
                .Where(e => !papers.Any(p => p.Id == e.Paper))
                .Select(e => $"Entry {e.Sequence} of job {Id} books a paper that is not there.")
        );
        var billing = Billing.Of(this, papers);
        found.AddRange(
            billing
                .Lines.Where(l => l.IsOverInvoiced)
                .Select(l => $"More of '{l.Line.Description}' on job {Id} was invoiced than agreed.")
        );
        if (billing.LeftMinor != NotInvoicedMinor)
        {
            found.Add($"What job {Id} has left to invoice is not what its ledger says.");
        }

        return found;
    }

    private bool IsReversalRight(LedgerEntry entry) =>
        entry.Reverses is null
        || (
            entries.Find(e => e.Id == entry.Reverses) is { } other
            && SamePostings(entry.Postings, [.. other.Postings.Select(p => p with { Minor = -p.Minor })])
        );

    private void Book(EntryStamp stamp, Invoice paper, EntryKind kind, string description) =>
        Append(stamp, kind, description, PostingsOf(paper)).Booking(paper.Id);

    private static List<Posting> PostingsOf(Invoice paper)
    {
        var sign = paper.Sign;
        return
        [
            new(LedgerAccount.Agreed, sign * paper.TotalMinor),
            new(LedgerAccount.Sales, -sign * (paper.TotalMinor - paper.Content.TaxMinor)),
            .. paper.Content.Taxes.Select(t => new Posting(LedgerAccount.Tax, -sign * t.TaxMinor, t.Code)),
        ];
    }

    private static bool SamePostings(IReadOnlyList<Posting> a, IReadOnlyList<Posting> b) =>
        a.Where(p => p.Minor != 0).SequenceEqual(b.Where(p => p.Minor != 0));
}
