using System.Globalization;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.History;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Accounts;

/// <summary>Adds up what is stored: sent quotes, ledgers, invoices and credit notes, number series, closed days. Nothing is priced again.</summary>
public sealed class MoneyVerifier : IVerifier
{
    /// <summary>A sentence for each difference; empty when all is as it was written.</summary>
    public async Task<IReadOnlyList<string>> VerifyAsync(ShopDbContext db, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(db);
        var differences = new List<string>();
        await QuotesAsync(db, differences, ct);
        try
        {
            await BooksAsync(db, differences, ct);
        }
        catch (JsonException exception)
        {
            differences.Add($"A row of an account or invoice cannot be read any more: {exception.Message}");
        }

        return differences;
    }

    private static async Task BooksAsync(ShopDbContext db, List<string> differences, CancellationToken ct)
    {
        var papers = await db.Set<Invoice>().AsNoTracking().ToListAsync(ct);
        differences.AddRange(papers.OrderBy(p => p.Number, StringComparer.Ordinal).SelectMany(p => p.Audit()));
        var accounts = await JobAccounts.Whole(db).AsNoTracking().ToListAsync(ct);
        var byJob = papers.ToLookup(p => p.JobId);
        foreach (var account in accounts)
        {
            differences.AddRange(account.Audit());
            differences.AddRange(account.Audit(InvoicePapers.InOrder(byJob[account.Id])));
        }

        var entries = accounts.SelectMany(a => a.Entries).ToList();
        await NumberSeriesCheck.AddAsync(
            db,
            "I",
            "invoices",
            papers.Where(p => !p.IsCredit).Select(p => p.Number),
            differences,
            ct
        );
        await NumberSeriesCheck.AddAsync(
            db,
            "C",
            "credit notes",
            papers.Where(p => p.IsCredit).Select(p => p.Number),
            differences,
            ct
        );
        await NumberSeriesCheck.AddAsync(
            db,
            "R",
            "receipts",
            entries.Select(e => e.Receipt).OfType<string>(),
            differences,
            ct
        );
        await DaysAsync(db, entries, differences, ct);
    }

    private static async Task QuotesAsync(ShopDbContext db, List<string> differences, CancellationToken ct)
    {
        var quotes = db.Set<Quote>()
            .AsNoTracking()
            .Where(q => q.Snapshot != null)
            .OrderBy(q => q.Number)
            .Select(q => new
            {
                q.Number,
                q.Revision,
                q.Snapshot,
                q.ContentHash,
            });
        await foreach (var q in quotes.AsAsyncEnumerable().WithCancellation(ct))
        {
            if (q.ContentHash is null || !QuoteSnapshot.IsIntact(q.Snapshot!, q.ContentHash))
            {
                differences.Add($"Quote {q.Number} revision {q.Revision} is not what was sent: its hash differs.");
            }
        }
    }

    private static async Task DaysAsync(
        ShopDbContext db,
        List<LedgerEntry> entries,
        List<string> differences,
        CancellationToken ct
    )
    {
        var byDay = entries.ToLookup(e => e.On);
        foreach (var day in await db.Set<DayClose>().AsNoTracking().OrderBy(d => d.Day).ToListAsync(ct))
        {
            var expected = DayClose.Expected(byDay[day.Day]);
            differences.AddRange(
                expected
                    .Where(e => (day.Methods.SingleOrDefault(m => m.Method == e.Key)?.ExpectedMinor ?? 0) != e.Value)
                    .Select(e =>
                        FormattableString.Invariant(
                            $"{day.Day:yyyy-MM-dd} was closed with another sum of {MoneyWords.Of(e.Key).ToLowerInvariant()} than its entries have now."
                        )
                    )
            );
        }
    }
}
