using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake.DropOffs;

/// <summary>The customer authorises cutting and welding, having read the notice and seen what the condition as found changes.</summary>
public sealed class AuthoriseWork(CommandRunner runner, QuotePricer pricer) : IUseCase
{
    /// <param name="Signature">Who signed, and how.</param>
    /// <param name="NoticeHash">Hash of the notice that was shown; absent means the one in use.</param>
    public sealed record Request(SignatureDetails? Signature = null, string? NoticeHash = null);

    public Task<Outcome<DropOffView>> RunAsync(JobId jobId, Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync(
            Permission.BookIn,
            envelope,
            request,
            async scope =>
            {
                if (await OpenJobs.RefuseAsync(scope, jobId) is { } refused)
                {
                    return refused;
                }

                var dropOff = await scope.Db.Set<DropOff>().SingleOrDefaultAsync(d => d.JobId == jobId, ct);
                if (dropOff is null)
                {
                    return Failure.Because("dropOff", "The car has not been booked in yet. Record the drop-off first.");
                }

                if (scope.Stale(dropOff) is { } stale)
                {
                    return stale;
                }

                var notice = AuthorisationNotice.Current;
                if (request.NoticeHash is { } shown && shown != notice.Hash)
                {
                    return Failure.Because(
                        "noticeHash",
                        "The notice was reworded after it was shown. Load it again and let the customer read it before signing."
                    );
                }

                var job = await scope.Db.Set<Job>().AsNoTracking().SingleAsync(j => j.Id == jobId, ct);
                var (quote, _) = await ConditionComparison.LoadAsync(scope.Db, job, ct);
                if (
                    !(
                        await ConditionComparison.CompareAsync(pricer, scope.Db, quote, dropOff.ConditionFound, ct)
                    ).TryGet(out var difference, out var failure)
                )
                {
                    return failure;
                }

                var shownDifference = difference.IsNone
                    ? null
                    : new ShownDifference(difference.TotalMinorMore, difference.Currency, difference.HoursMore);
                if (
                    !dropOff
                        .Authorise(request.Signature, notice, shownDifference, scope.OccurredAt)
                        .TryGet(out _, out failure)
                )
                {
                    return failure;
                }

                scope.Record(
                    new EventDraft(
                        "work.authorised",
                        "dropOff",
                        dropOff.Id.Value,
                        jobId,
                        After: new
                        {
                            kind = dropOff.Authorisation!.Signature.Kind,
                            noticeHash = notice.Hash,
                            priceMinorMore = shownDifference?.PriceMinor,
                            hoursMore = shownDifference?.HoursMore.ToString(
                                System.Globalization.CultureInfo.InvariantCulture
                            ),
                        }
                    )
                );
                await scope.SaveAsync();
                return Outcome<DropOffView>.Success(DropOffView.Of(dropOff));
            },
            ct
        );
}
