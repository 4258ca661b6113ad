using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>Builds views of quotes from rows.</summary>
internal static class QuoteReader
{
    internal static async Task<QuoteView> ViewAsync(ShopDbContext db, Quote quote, DateOnly today, CancellationToken ct)
    {
        var customer = await db.Set<Customer>()
            .Where(c => c.Id == quote.CustomerId)
            .Select(c => c.Name)
            .SingleAsync(ct);
        var car = quote.CarId is { } carId
            ? await db.Set<Car>().AsNoTracking().SingleAsync(c => c.Id == carId, ct)
            : null;
        var revisions = await db.Set<Quote>()
            .Where(q => q.Number == quote.Number)
            .OrderBy(q => q.Revision)
            .Select(q => new
            {
                q.Id,
                q.Revision,
                q.State,
                q.ValidUntil,
            })
            .ToListAsync(ct);
        return new QuoteView(
            quote.Id,
            quote.Version,
            quote.Number,
            quote.Revision,
            quote.StateOn(today),
            quote.CustomerId,
            customer,
            quote.CarId,
            car?.Title ?? quote.Scope.Kind.Title(),
            quote.Terms,
            quote.Priced,
            quote.CreatedAt,
            quote.SentAt,
            quote.ValidUntil,
            quote.ContentHash,
            quote.ClosedAt,
            quote.AcceptedBy,
            quote.LostReason,
            quote.DeclineReason,
            [.. revisions.Select(r => new QuoteRevision(r.Id, r.Revision, StateOn(r.State, r.ValidUntil, today)))],
            today
        );
    }

    /// <summary>The same rule as <see cref="Quote.StateOn"/>, for rows that were not loaded whole.</summary>
    internal static QuoteState StateOn(QuoteState stored, DateOnly? validUntil, DateOnly today) =>
        stored == QuoteState.Sent && today > validUntil ? QuoteState.Expired : stored;

    internal static Task<Quote?> FindAsync(ShopDbContext db, QuoteId id, CancellationToken ct) =>
        db.Set<Quote>().SingleOrDefaultAsync(q => q.Id == id, ct);
}
