using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Photos;

/// <summary>Shuts an upload link before it expires.</summary>
public sealed class RevokeUploadLink(CommandRunner runner) : IUseCase
{
    public Task<Outcome<Done>> RunAsync(UploadLinkId id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync(
            Permission.AddPhotos,
            envelope,
            new { id },
            async scope =>
            {
                var link = await scope.Db.Set<UploadLink>().SingleOrDefaultAsync(l => l.Id == id, ct);
                if (link is null)
                {
                    return Failure.Missing("upload link");
                }

                if (link.RevokedAt is null)
                {
                    link.Revoke(scope.Now);
                    scope.Record(new EventDraft("uploadLink.revoked", "uploadLink", link.Id.Value, link.JobId));
                }

                return Outcome.Ok;
            },
            ct
        );
}
