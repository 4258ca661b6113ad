using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>One thing that a job waits for now from somebody, or from time.</summary>
/// <param name="Kind">Which gate, or <c>hold</c> for an operation on hold.</param>
/// <param name="Whom">From whom, as people say it.</param>
/// <param name="Operations">The operations that wait for it.</param>
/// <param name="Since">Since when.</param>
/// <param name="DueOn">When it should be there, where a day was named.</param>
public sealed record JobWait(
    string Kind,
    string Whom,
    string Text,
    IReadOnlyList<string> Operations,
    DateTimeOffset Since,
    DateOnly? DueOn
);

/// <summary>Lists what a job waits for: what stands before the operations that are next, with since when. Earlier operations and ways are the floor's own affair and no news.</summary>
public static class JobWaits
{
    public static IReadOnlyList<JobWait> Of(Job job, GateFacts facts)
    {
        ArgumentNullException.ThrowIfNull(job);
        ArgumentNullException.ThrowIfNull(facts);
        if (job.State != JobState.Open)
        {
            return [];
        }

        var found = new List<JobWait>();
        foreach (var operation in job.Operations.Where(o => !o.IsOver))
        {
            if (operation.CurrentHold is { } hold)
            {
                found.Add(
                    new JobWait(
                        "hold",
                        hold.Reason.Whom ?? "the shop",
                        $"{operation.Code} {operation.Title} is on hold: {hold.Words()}. Whoever has cleared it up resumes it.",
                        [operation.Code],
                        hold.From,
                        null
                    )
                );
            }
            else if (
                operation.Progress is OperationProgress.NotBegun or OperationProgress.Paused
                && operation.Route.After.All(code => job.Operation(code)!.IsOver)
            )
            {
                found.AddRange(
                    job.Gates(operation, facts)
                        .Where(g => !g.IsMet && g.Kind is not (GateKind.Operation or GateKind.AccessWay))
                        .Select(g => new JobWait(
                            g.Code,
                            g.Whom ?? "the shop",
                            g.Text,
                            [operation.Code],
                            g.Since ?? FreeSince(job, operation),
                            g.DueOn
                        ))
                );
            }
        }

        if (PaymentWords(job, facts) is { } unpaid)
        {
            found.Add(
                new JobWait(
                    "balanceDue",
                    "the customer",
                    unpaid,
                    [job.Release!.Code],
                    FreeSince(job, job.Release),
                    null
                )
            );
        }

        found.AddRange(
            facts.FailedSinceSignOff.Select(l => new JobWait(
                "failedSinceSignOff",
                "an inspector",
                FailedWords(l),
                [l.Operation],
                l.At,
                null
            ))
        );
        return
        [
            .. found
                .GroupBy(w => (w.Kind, w.Text))
                .Select(g =>
                    g.First() with
                    {
                        Operations = [.. g.SelectMany(w => w.Operations)],
                        Since = g.Min(w => w.Since),
                    }
                )
                .OrderBy(w => w.Since),
        ];
    }

    /// <summary>What is said where nothing but the sign-off is left and the account is not settled; null otherwise.</summary>
    public static string? PaymentWords(Job job, GateFacts facts)
    {
        ArgumentNullException.ThrowIfNull(job);
        ArgumentNullException.ThrowIfNull(facts);
        return
            facts.IsBalanceDue
            && job.Release is { IsOver: false } release
            && job.Operations.All(o => o.IsOver || o == release)
            ? $"The sign-off waits for the payment. {JobAccount.HowItMayGo}"
            : null;
    }

    /// <summary>When the last of the operations before it was over; the opening of the job where there is none.</summary>
    private static DateTimeOffset FreeSince(Job job, Operation operation) =>
        operation.Route.After.Select(code => job.Operation(code)!.FinishRecordedAt).Where(at => at is not null).Max()
        ?? job.OpenedAt;

    /// <summary>What is said of a line that failed after the car was signed off.</summary>
    public static string FailedWords(FailedLine line)
    {
        ArgumentNullException.ThrowIfNull(line);
        return $"Signed off, but {line.Title} ({line.Operation}) failed since. An inspector looks again: mend it and pass the line, or withdraw the sign-off.";
    }
}
