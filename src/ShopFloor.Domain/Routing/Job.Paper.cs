using ShopFloor.Domain.Common;
using ShopFloor.Domain.Times;

namespace ShopFloor.Domain.Routing;

/// <content>What stood on paper while the server could not be reached. The taps' own rules decide; here is what paper asks besides.</content>
public sealed partial class Job
{
    /// <summary>Why a line from paper cannot be entered, before the rules of the taps are asked; null where nothing is against it.</summary>
    public Failure? PaperProblem(string code, Worker worker, PaperLine line, GateFacts facts)
    {
        ArgumentNullException.ThrowIfNull(line);
        ArgumentNullException.ThrowIfNull(facts);
        if (!OpenOperation(code).TryGet(out var operation, out var failure))
        {
            return failure;
        }

        var running = operation.Running.FirstOrDefault(t => t.Worker == worker);
        if (line.Start is { } start)
        {
            return running is not null
                ? Failure.Because(
                    "alreadyOnIt",
                    $"{facts.Name(worker)} is on {code} {operation.Title} since {facts.At(running.StartedAt)} already. Leave the beginning empty and give only the end.",
                    code
                )
                : Overlap(
                    operation,
                    worker,
                    default,
                    new SpellGiven(start, line.End ?? facts.Now, TimeEntry.PaperReason)
                );
        }

        return running is null && !line.IsDone
            ? Failure.Because(
                "notOnIt",
                $"{facts.Name(worker)} is not on {code} {operation.Title}, so there is nothing to end. Give the beginning too.",
                code
            )
            : null;
    }

    /// <summary>Hot work that the server did not see begin cannot be put in work afterwards: nobody watched over it here. Done, it is entered like a tap that says done already.</summary>
    public static Failure? HotWorkOnPaper(Operation operation, PaperLine line)
    {
        ArgumentNullException.ThrowIfNull(operation);
        ArgumentNullException.ThrowIfNull(line);
        return operation.Route.HotWork && line.Start is not null && !line.IsDone
            ? Failure.Because(
                "hotWorkOnPaper",
                $"{operation.Code} {operation.Title} is hot work, which is never begun from paper: the others, its permit and its watch did not know of it. Type it in when it is done, with its permit open; or start it on the tablet now.",
                operation.Code
            )
            : null;
    }

    /// <summary>Marks what a line from paper changed on an operation's times.</summary>
    /// <param name="operation">As it is after the line.</param>
    /// <param name="before">The ends of its times before the line, by their ids.</param>
    /// <param name="by">Who typed it in.</param>
    /// <param name="now">The server's time.</param>
    public static void MarkPaper(
        Operation operation,
        IReadOnlyDictionary<TimeEntryId, DateTimeOffset?> before,
        Worker by,
        DateTimeOffset now
    )
    {
        ArgumentNullException.ThrowIfNull(operation);
        ArgumentNullException.ThrowIfNull(before);
        foreach (var entry in operation.Times)
        {
            var part = (before.TryGetValue(entry.Id, out var end), entry.EndedAt) switch
            {
                (false, null) => PaperPart.Start,
                (false, _) => PaperPart.Whole,
                (true, { } ended) when end != ended => PaperPart.End,
                _ => PaperPart.None,
            };
            entry.MarkPaper(part, by, now);
        }
    }
}
