using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.HotWork;
using ShopFloor.Application.People;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Times;

namespace ShopFloor.Application.Times;

/// <summary>The office types in what stood on paper while the server could not be reached: the rules are those of the taps, the times are back-dated and marked.</summary>
/// <remarks>A line is taken whole or not at all. Who wrote the line is the worker, who types it in stands in the history.</remarks>
public sealed class EnterFromPaper(CommandRunner runner) : IUseCase
{
    /// <param name="Operation">Code of the operation.</param>
    /// <param name="PersonId">Who worked.</param>
    /// <param name="On">The local day that stands on the paper.</param>
    /// <param name="BeganAtClock">By the shop's clock, such as <c>09:10</c>; absent where it began before.</param>
    /// <param name="EndedAtClock">The same of the end; earlier than the beginning means the next day. Absent where the person is still on it.</param>
    /// <param name="IsDone">The box is ticked: the operation is done.</param>
    public sealed record Request(
        string? Operation = null,
        Guid? PersonId = null,
        DateOnly? On = null,
        string? BeganAtClock = null,
        string? EndedAtClock = null,
        bool? IsDone = null
    );

    /// <summary>One line on its way.</summary>
    private sealed record Entry(
        CommandScope Scope,
        Job Job,
        Operation Operation,
        Actor Person,
        PaperLine Line,
        GateFacts Facts
    )
    {
        public Worker Worker => Worker.Of(Person);

        public Job.Tap TapAt(DateTimeOffset at) => new(Worker, at, Scope.NewId<TimeEntryId>());

        /// <summary>Does what a tap would do and writes it down as one from paper.</summary>
        public Failure? Do(string type, DateTimeOffset at, Func<Outcome<Operation>> act)
        {
            var before = OperationChange.Snapshot.Of(Operation);
            if (act().Failure is { } failure)
            {
                return failure;
            }

            Scope.Record(
                new EventDraft(
                    type,
                    "operation",
                    Operation.Id.Value,
                    Job.Id,
                    before,
                    new { state = OperationChange.Snapshot.Of(Operation), paper = new { person = Person.Person } },
                    at
                )
            );
            var isUnbegun = Operation.BegunByFinish && Operation.FinishRecordedAt == Scope.Now;
            HotWorkLoading.Follow(Scope, Facts.HotWork, Job, isUnbegun ? Operation : null);
            return null;
        }
    }

    public Task<Outcome<OperationChanged>> RunAsync(
        JobId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<OperationChanged>(
            Permission.KeepTimes,
            envelope,
            new { id, request },
            async scope =>
            {
                var job = await scope.Db.JobsWhole().SingleOrDefaultAsync(j => j.Id == id, scope.Cancellation);
                if (job is null)
                {
                    return Failure.Missing("job");
                }

                if (!(await ReadAsync(scope, job, request)).TryGet(out var entry, out var failure))
                {
                    return failure;
                }

                var ends = entry.Operation.Times.ToDictionary(t => t.Id, t => t.EndedAt);
                if (Act(entry) is { } refused)
                {
                    return refused;
                }

                Job.MarkPaper(entry.Operation, ends, Worker.Of(scope.Actor), scope.Now);
                scope.Db.Touch(job);
                if (entry.Operation.Running.Any(t => t.Worker == entry.Worker))
                {
                    await EndActivityAsync(entry);
                }

                await scope.SaveAsync();
                return new OperationChanged(job.Id, job.Version, JobViews.Of(job, entry.Operation, entry.Facts));
            },
            ct
        );

    private static async Task<Outcome<Entry>> ReadAsync(CommandScope scope, Job job, Request request)
    {
        var errors = new FieldErrors();
        var shop = await scope.ShopAsync();
        var code = TextRules.Required(request.Operation, "operation", "The operation", TextRules.Code, errors);
        var line = PaperLine.Read(
            request.On,
            request.BeganAtClock,
            request.EndedAtClock,
            request.IsDone ?? false,
            shop,
            scope.Now
        );
        errors.Take(line);
        var roles = request.PersonId is { } wanted
            ? await PersonRoles.OfAsync(scope.Db, new PersonId(wanted), scope.Cancellation)
            : null;
        errors.AddIf(roles is null, "personId", "Say who worked: somebody of this shop.");
        var operation = job.Operation(code);
        errors.AddIf(
            operation is null && !errors.Any,
            "operation",
            $"There is no operation {code} on {job.Number}. Look at its number on the traveller."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        await scope.LockSeriesAsync(HotWorkLoading.Series);
        var person = Actor.OfPerson(new PersonId(request.PersonId!.Value), roles!);
        var name = await scope
            .Db.Users.Where(u => u.Id == request.PersonId)
            .Select(u => u.DisplayName)
            .SingleAsync(scope.Cancellation);
        var facts = await JobFacts.OfAsync(scope.Db, job, shop, scope.Now, scope.Cancellation);
        var others = facts.NameOf;
        facts = facts with { NameOf = p => p == person.Person ? name : others(p) };
        return OperationChange.MayWorkOn(person, operation)
            ? new Entry(scope, job, operation!, person, line.Value, facts)
            : Failure.Because(
                "notTheirs",
                $"{name} does not have the role that {code} {operation!.Title} needs. Look who did it.",
                code
            );
    }

    private static Failure? Act(Entry entry)
    {
        var (job, code, line) = (entry.Job, entry.Operation.Code, entry.Line);
        if (
            (job.PaperProblem(code, entry.Worker, line, entry.Facts) ?? Job.HotWorkOnPaper(entry.Operation, line)) is
            { } problem
        )
        {
            return problem;
        }

        if (entry.Operation.Route.HotWork && line is { Start: { } from, End: { } until })
        {
            return Finish(entry, until)
                ?? entry.Do(
                    "time.added",
                    from,
                    () => AddTime(entry, new SpellGiven(from, until, TimeEntry.PaperReason))
                );
        }

        if (line.Start is { } start)
        {
            var tap = entry.TapAt(start);
            if (entry.Do("operation.started", start, () => job.Start(code, tap, entry.Facts)) is { } refused)
            {
                return refused;
            }
        }

        return line.End is not { } end ? null
            : line.IsDone ? Finish(entry, end)
            : entry.Do("operation.stopped", end, () => job.Stop(code, entry.TapAt(end), entry.Facts));
    }

    private static Outcome<Operation> AddTime(Entry entry, SpellGiven given) =>
        entry.Job.AddTime(
            entry.Operation.Code,
            entry.Scope.NewId<TimeEntryId>(),
            entry.Worker,
            given,
            Worker.Of(entry.Scope.Actor),
            entry.Scope.Now
        );

    private static Failure? Finish(Entry entry, DateTimeOffset at) =>
        FinishOperation.InspectionFirst(entry.Person, entry.Job, entry.Facts, entry.Operation.Code)
        ?? entry.Do(
            "operation.finished",
            at,
            () => entry.Job.Finish(entry.Operation.Code, entry.TapAt(at), entry.Facts)
        );

    /// <summary>Whoever is still on a car is on no break since then.</summary>
    private static async Task EndActivityAsync(Entry entry)
    {
        var activity = await ShopTimes.RunningAsync(entry.Scope, entry.Person.Person!.Value, isAttendance: false);
        if (activity is not null)
        {
            activity.End(entry.Line.Start ?? entry.Scope.Now, entry.Scope.Now);
            entry.Scope.Record(ShopTimes.Event("time.ended", activity));
        }
    }
}
