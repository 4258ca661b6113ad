using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.History;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Accounts;

/// <summary>Adds up what is stored: hashes of sent quotes and of invoices, both sides of every ledger. Nothing is priced again.</summary>
public sealed class MoneyVerifier : IVerifier
{
    /// <summary>A sentence for each difference; empty when all is as it was written.</summary>
    public async Task<IReadOnlyList<string>> VerifyAsync(ShopDbContext db, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(db);
        var differences = new List<string>();
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

        await foreach (
            var invoice in db.Set<Invoice>()
                .AsNoTracking()
                .OrderBy(i => i.Number)
                .AsAsyncEnumerable()
                .WithCancellation(ct)
        )
        {
            if (CanonicalJson.Sha256(invoice.Snapshot) != invoice.ContentHash)
            {
                differences.Add($"Invoice {invoice.Number} is not what was issued: its hash differs.");
            }
        }

        await foreach (var account in db.Set<JobAccount>().AsNoTracking().AsAsyncEnumerable().WithCancellation(ct))
        {
            differences.AddRange(account.Audit());
        }

        return differences;
    }
}
