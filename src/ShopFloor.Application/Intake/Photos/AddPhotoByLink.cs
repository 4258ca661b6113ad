using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Data;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake.Photos;

/// <summary>What the phone page shows of an open link.</summary>
public sealed record OpenUploadLink(
    UploadLinkId Id,
    JobId JobId,
    string JobNumber,
    PhotoKind Kind,
    DateTimeOffset ExpiresAt,
    int PhotosTaken
);

/// <summary>A phone without an account looks at its link and adds photos; it can do nothing else and reads nothing back.</summary>
public sealed class AddPhotoByLink(
    CommandRunner runner,
    IImageProcessor images,
    IFileStore files,
    IDbContextFactory<ShopDbContext> contexts,
    TimeProvider clock
) : IUseCase
{
    /// <summary>The link behind a token. Wrong, expired and revoked tokens get the same answer.</summary>
    public async Task<Outcome<OpenUploadLink>> FindAsync(string? token, CancellationToken ct)
    {
        if (LinkTokens.HashOf(token) is not { } hash)
        {
            return Failure.Missing("page");
        }

        await using var db = await contexts.CreateDbContextAsync(ct);
        var link = await db.Set<UploadLink>().AsNoTracking().SingleOrDefaultAsync(l => l.TokenHash == hash, ct);
        if (link is null || !link.IsOpen(clock.GetUtcNow()))
        {
            return Failure.Missing("page");
        }

        var job = await db.Set<Job>().AsNoTracking().SingleAsync(j => j.Id == link.JobId, ct);
        return new OpenUploadLink(link.Id, link.JobId, job.Number, link.Kind, link.ExpiresAt, link.PhotosTaken);
    }

    public async Task<Outcome<PhotoView>> RunAsync(
        string? token,
        ReadOnlyMemory<byte> original,
        string? idempotencyKey,
        CancellationToken ct
    )
    {
        if (!(await FindAsync(token, ct)).TryGet(out var open, out var failure))
        {
            return failure;
        }

        if (!(await images.ProcessAsync(original, "file", ct)).TryGet(out var image, out failure))
        {
            return failure;
        }

        return await runner.RunUncheckedAsync(
            new Envelope(Actor.OfLink(open.Id.Value, "phone"), null, idempotencyKey, $"uploadLink {open.Id}"),
            new { image.OriginalSha256 },
            async scope =>
            {
                var link = await scope.Db.Set<UploadLink>().SingleAsync(l => l.Id == open.Id, ct);
                if (!link.TakePhoto(scope.Now).TryGet(out _, out var refused))
                {
                    return refused;
                }

                return await PhotoIntake.AddAsync(scope, files, link.JobId, new PhotoInput(link.Kind), image);
            },
            ct
        );
    }
}
