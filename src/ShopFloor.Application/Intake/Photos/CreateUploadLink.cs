using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Photos;

/// <summary>A link as handed out once: its token cannot be read again.</summary>
public sealed record UploadLinkTicket(UploadLinkId Id, string Token, DateTimeOffset ExpiresAt);

/// <summary>Makes a link by which a phone adds photos to one job for a few hours. A repeat with the same idempotency key makes another link: the answer is not remembered, since it holds the token.</summary>
public sealed class CreateUploadLink(CommandRunner runner) : IUseCase
{
    /// <param name="Kind">What the photos will be; absent: walk-round.</param>
    public sealed record Request(PhotoKind? Kind = null);

    public async Task<Outcome<UploadLinkTicket>> RunAsync(
        JobId jobId,
        Request request,
        Envelope envelope,
        CancellationToken ct
    )
    {
        var token = LinkTokens.New();
        // A repeat with the same key must not bring the token out of the idempotency record: what is remembered holds no secret.
        var made = await runner.RunAsync(
            Permission.AddPhotos,
            envelope with
            {
                IdempotencyKey = null,
            },
            request,
            async scope =>
            {
                var kind = request.Kind ?? PhotoKind.WalkRound;
                if (await OpenJobs.RefusePhotoAsync(scope, jobId, kind) is { } refused)
                {
                    return refused;
                }

                if (kind is not (PhotoKind.WalkRound or PhotoKind.HandOver))
                {
                    return Failure.Field("kind", "A link takes walk-round or hand-over photos only.");
                }

                var link = UploadLink.Create(
                    scope.NewId<UploadLinkId>(),
                    jobId,
                    kind,
                    LinkTokens.HashOf(token)!,
                    scope.Now
                );
                scope.Db.Add(link);
                scope.Record(
                    new EventDraft(
                        "uploadLink.made",
                        "uploadLink",
                        link.Id.Value,
                        jobId,
                        After: new { kind, link.ExpiresAt }
                    )
                );
                await scope.SaveAsync();
                return Outcome<UploadLink>.Success(link);
            },
            ct
        );
        return made.Then<UploadLinkTicket>(link => new UploadLinkTicket(link.Id, token, link.ExpiresAt));
    }
}
