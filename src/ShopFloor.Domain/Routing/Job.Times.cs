using ShopFloor.Domain.Common;
using ShopFloor.Domain.Times;

namespace ShopFloor.Domain.Routing;

/// <content>Time that is put right afterwards, and people who leave their work for a while.</content>
public sealed partial class Job
{
    /// <summary>Beginning and end of a spell are put right; what stood before stays. A running one ends by it. Refused on a cancelled job, whose work was charged by its times.</summary>
    public Outcome<Operation> CorrectTime(TimeEntryId id, SpellGiven given, Worker by, DateTimeOffset now)
    {
        var operation = operations.Find(o => o.Times.Any(t => t.Id == id));
        if (operation is null)
        {
            return Failure.Missing($"time on {Number}");
        }

        var entry = operation.Times.First(t => t.Id == id);
        if ((TimesAreSettled() ?? Overlap(operation, entry.Worker, id, given)) is { } refused)
        {
            return refused;
        }

        if (entry.Corrections.Count >= TimeEntry.MostCorrections)
        {
            return TimeEntry.TooOften();
        }

        operation.Correct(entry, given, by, now);
        return operation;
    }

    /// <summary>Time that nobody tapped is entered afterwards and marked as such. The operation must have begun: time alone starts no work.</summary>
    public Outcome<Operation> AddTime(
        string code,
        TimeEntryId id,
        Worker worker,
        SpellGiven given,
        Worker by,
        DateTimeOffset now
    )
    {
        if (Operation(code) is not { } operation)
        {
            return Failure.Missing($"operation as {code} on {Number}");
        }

        if (operation.BegunAt is null)
        {
            return Failure.Because(
                "notBegun",
                $"{code} {operation.Title} has not begun. Start or finish it first; then its time can be entered.",
                code
            );
        }

        if ((TimesAreSettled() ?? Overlap(operation, worker, id, given)) is { } refused)
        {
            return refused;
        }

        operation.Add(TimeEntry.EnterLater(id, operation.Id, worker, given, by, now));
        return operation;
    }

    /// <summary>Whoever is on it says that they still are, so that their timer is not taken for forgotten.</summary>
    public Outcome<Operation> ConfirmTime(string code, Worker worker, DateTimeOffset now)
    {
        if (!OpenOperation(code).TryGet(out var operation, out var failure))
        {
            return failure;
        }

        if (operation.Running.FirstOrDefault(t => t.Worker == worker) is not { } entry)
        {
            return Failure.Because("notOnIt", $"You are not on {code} {operation.Title} any more.", code);
        }

        entry.Confirm(now);
        return operation;
    }

    /// <summary>Whoever is on it says when they really stopped: the timer ends then, with its trace.</summary>
    public Outcome<Operation> StopTimeAt(string code, Worker worker, DateTimeOffset at, DateTimeOffset now)
    {
        if (Operation(code)?.Running.FirstOrDefault(t => t.Worker == worker) is not { } entry)
        {
            return Failure.Because("notOnIt", $"You are not on {code} any more, so there is nothing to stop.", code);
        }

        if (at < entry.StartedAt || at > now)
        {
            return Failure.Field("stoppedAt", "Give a time between the start of the timer and now.");
        }

        return CorrectTime(
            entry.Id,
            new SpellGiven(entry.StartedAt, at, "The timer was forgotten; its person gave the time."),
            worker,
            now
        );
    }

    /// <summary>Somebody leaves everything they are on, for a break or to go home; the times stay. The operations they left.</summary>
    public IReadOnlyList<Operation> Leave(Worker worker, DateTimeOffset at, DateTimeOffset now)
    {
        var left = Operations.Where(o => o.IsOn(worker)).ToList();
        foreach (var operation in left)
        {
            operation.Leave(worker, at, now);
        }

        return left;
    }

    private Failure? TimesAreSettled() =>
        State == JobState.Cancelled
            ? Failure.Because(
                "jobCancelled",
                $"{Number} was cancelled and its work charged by the times it had; they stay as they are."
            )
            : null;

    private static Failure? Overlap(Operation operation, Worker worker, TimeEntryId except, SpellGiven given) =>
        operation.Times.Any(t => t.Id != except && t.Worker == worker && given.Overlaps(t.StartedAt, t.EndedAt))
            ? Failure.Because(
                "timesOverlap",
                $"This person has another time on {operation.Code} {operation.Title} then. Correct that one instead, so that no minute counts twice.",
                operation.Code
            )
            : null;
}
