using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Decisions;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Decisions;
using ShopFloor.Domain.Messages;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Messages;

/// <summary>The link on which a quote is accepted or a change order approved. Sending the one or offering the other is what releases it; it is listed and revoked beside those that the office makes.</summary>
public sealed class DecisionMessageLink(PublicAddress address) : IMessageLink
{
    public IReadOnlyCollection<MessageKind> Kinds { get; } = [MessageKind.QuoteSent, MessageKind.ChangeToApprove];

    public async Task<string?> IssueAsync(CommandScope scope, OutboxMessage message)
    {
        ArgumentNullException.ThrowIfNull(scope);
        ArgumentNullException.ThrowIfNull(message);
        var made =
            message.Kind == MessageKind.QuoteSent
                ? await OfQuoteAsync(scope, QuoteId.From(message.SubjectId))
                : await OfChangeAsync(scope, ChangeOrderId.From(message.SubjectId));
        if (made is not { } link)
        {
            return null;
        }

        scope.Db.Add(link.Link);
        scope.Record(DecisionEvents.Of("decisionLink.created", link.Link));
        return $"{address.Root}/d/{link.Token}";
    }

    private static async Task<(DecisionLink Link, string Token)?> OfQuoteAsync(CommandScope scope, QuoteId id)
    {
        var today = (await scope.ShopAsync()).LocalDay(scope.Now);
        var quote = await scope.Db.Set<Quote>().AsNoTracking().SingleAsync(q => q.Id == id, scope.Cancellation);
        return quote.StateOn(today) == QuoteState.Sent
            ? DecisionLink.Create(DecisionKind.Quote, quote.CustomerId, null, [id.Value], null, scope.Now).Value
            : null;
    }

    private static async Task<(DecisionLink Link, string Token)?> OfChangeAsync(CommandScope scope, ChangeOrderId id)
    {
        var change = await scope.Db.Set<ChangeOrder>().AsNoTracking().SingleAsync(c => c.Id == id, scope.Cancellation);
        var customer = await scope
            .Db.Set<Job>()
            .Where(j => j.Id == change.JobId)
            .Select(j => j.CustomerId)
            .SingleAsync(scope.Cancellation);
        return change.State == ChangeState.Offered
            ? DecisionLink.Create(DecisionKind.Change, customer, change.JobId, [id.Value], null, scope.Now).Value
            : null;
    }
}
