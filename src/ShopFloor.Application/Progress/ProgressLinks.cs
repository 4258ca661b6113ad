using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Progress;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Progress;

/// <summary>A link as handed out once: its token cannot be read again.</summary>
public sealed record ProgressTicket(ProgressLinkId Id, string Token, DateTimeOffset ExpiresAt);

/// <summary>Makes a link by which the customer follows one job. A repeat with the same idempotency key makes another link: the answer is not remembered, since it holds the token.</summary>
public sealed class CreateProgressLink(CommandRunner runner) : IUseCase
{
    /// <param name="ValidDays">1 to 365; absent: 90.</param>
    /// <param name="EndsOthers">True ends the job's other links in the same moment: whoever had one needs the new one.</param>
    public sealed record Request(int? ValidDays = null, bool? EndsOthers = null);

    public Task<Outcome<ProgressTicket>> RunAsync(
        JobId job,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<ProgressTicket>(
            Permission.ShareProgress,
            // No repeat by key: remembering the answer would store the secret.
            envelope with
            {
                IdempotencyKey = null,
            },
            new { job, request },
            async scope =>
            {
                if (!await scope.Db.Set<Job>().AnyAsync(j => j.Id == job, scope.Cancellation))
                {
                    return Failure.Missing("job");
                }

                if (!ProgressLink.Create(job, request.ValidDays, scope.Now).TryGet(out var created, out var failure))
                {
                    return failure;
                }

                if (request.EndsOthers == true)
                {
                    foreach (
                        var old in await scope
                            .Db.Set<ProgressLink>()
                            .Where(l => l.JobId == job && l.RevokedAt == null && l.ExpiresAt > scope.Now)
                            .ToListAsync(scope.Cancellation)
                    )
                    {
                        old.Revoke(scope.Now);
                        scope.Record(new EventDraft("progressLink.revoked", "progressLink", old.Id.Value, job));
                    }
                }

                scope.Db.Add(created.Link);
                scope.Record(
                    new EventDraft(
                        "progressLink.created",
                        "progressLink",
                        created.Link.Id.Value,
                        job,
                        After: new { expiresAt = created.Link.ExpiresAt }
                    )
                );
                return new ProgressTicket(created.Link.Id, created.Token, created.Link.ExpiresAt);
            },
            ct
        );
}

/// <summary>Ends a link's life: its page answers like one that never was.</summary>
public sealed class RevokeProgressLink(CommandRunner runner) : IUseCase
{
    public Task<Outcome<Done>> RunAsync(ProgressLinkId id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.ShareProgress,
            envelope,
            new { id },
            async scope =>
            {
                var link = await scope.Db.Set<ProgressLink>().SingleOrDefaultAsync(l => l.Id == id, scope.Cancellation);
                if (link is null)
                {
                    return Failure.Missing("progress link");
                }

                if (link.RevokedAt is null)
                {
                    link.Revoke(scope.Now);
                    scope.Record(new EventDraft("progressLink.revoked", "progressLink", id.Value, link.JobId));
                }

                return default(Done);
            },
            ct
        );
}

/// <summary>A link as the office lists it.</summary>
/// <param name="IsValid">It opens the page now.</param>
/// <param name="Opened">How often the page was opened, up to half a minute ago.</param>
public sealed record ProgressLinkView(
    ProgressLinkId Id,
    DateTimeOffset CreatedAt,
    DateTimeOffset ExpiresAt,
    DateTimeOffset? RevokedAt,
    bool IsValid,
    long Opened,
    DateTimeOffset? LastOpenedAt
);

/// <summary>Lists a job's links, newest first.</summary>
public sealed class ListProgressLinks(QueryRunner queries, TimeProvider clock) : IUseCase
{
    public Task<Outcome<IReadOnlyList<ProgressLinkView>>> RunAsync(JobId job, Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<ProgressLinkView>>(
            Permission.ShareProgress,
            actor,
            async db =>
            {
                if (!await db.Set<Job>().AnyAsync(j => j.Id == job, ct))
                {
                    return Failure.Missing("job");
                }

                var now = clock.GetUtcNow();
                var links = await db.Set<ProgressLink>()
                    .Where(l => l.JobId == job)
                    .OrderByDescending(l => l.CreatedAt)
                    .ToListAsync(ct);
                return links
                    .Select(l => new ProgressLinkView(
                        l.Id,
                        l.CreatedAt,
                        l.ExpiresAt,
                        l.RevokedAt,
                        l.IsValidAt(now),
                        l.Opened,
                        l.LastOpenedAt
                    ))
                    .ToList();
            },
            ct
        );
}
