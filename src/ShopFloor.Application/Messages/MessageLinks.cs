using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;
using ShopFloor.Domain.Progress;

namespace ShopFloor.Application.Messages;

/// <summary>Makes the secret link of a message at the time it is written. The link's token is kept nowhere but in the encrypted mail, and there only until it was sent.</summary>
public interface IMessageLink : IHook
{
    /// <summary>Kinds of message that it makes links for.</summary>
    IReadOnlyCollection<MessageKind> Kinds { get; }

    /// <summary>The placeholder that it fills.</summary>
    string Placeholder => MessageKinds.Link.Name;

    /// <summary>The whole address; null where the shop has released nothing for it.</summary>
    Task<string?> IssueAsync(CommandScope scope, OutboxMessage message);
}

/// <summary>A job's progress page. Released means: the shop has made a link for the job that is still valid; a message's own link lives no longer than that one, and is listed and revoked beside it.</summary>
public sealed class ProgressMessageLink(PublicAddress address) : IMessageLink
{
    public IReadOnlyCollection<MessageKind> Kinds { get; } =
    [
        MessageKind.BookedIn,
        MessageKind.WaitingForPart,
        MessageKind.DateMoved,
        MessageKind.ReadyForCollection,
        MessageKind.CollectionAgreed,
    ];

    public async Task<string?> IssueAsync(CommandScope scope, OutboxMessage message)
    {
        ArgumentNullException.ThrowIfNull(scope);
        ArgumentNullException.ThrowIfNull(message);
        if (message.JobId is not { } job)
        {
            return null;
        }

        var released = (
            await scope
                .Db.Set<ProgressLink>()
                .Where(l => l.JobId == job && l.RevokedAt == null)
                .ToListAsync(scope.Cancellation)
        )
            .Where(l => l.IsValidAt(scope.Now))
            .MaxBy(l => l.ExpiresAt);
        if (released is null)
        {
            return null;
        }

        var days = Math.Max(ProgressLink.LeastDays, (int)(released.ExpiresAt - scope.Now).TotalDays);
        var (link, token) = ProgressLink.Create(job, days, scope.Now).Value;
        scope.Db.Add(link);
        scope.Record(
            new EventDraft(
                "progressLink.created",
                "progressLink",
                link.Id.Value,
                job,
                After: new { expiresAt = link.ExpiresAt, message = message.Id }
            )
        );
        return $"{address.Root}/p/{token}";
    }
}
