using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Diary;

/// <summary>A reminder as shown.</summary>
public sealed record ReminderView(
    ReminderId Id,
    long Version,
    string Text,
    DateOnly Day,
    string? Time,
    JobId? JobId,
    CustomerId? CustomerId,
    DateTimeOffset? DoneAt
)
{
    public static ReminderView Of(Reminder r) =>
        new(
            r.Id,
            r.Version,
            r.Text,
            r.Day,
            r.Time?.ToString(Appointment.Clock, System.Globalization.CultureInfo.InvariantCulture),
            r.JobId,
            r.CustomerId,
            r.DoneAt
        );
}

/// <summary>Writes, moves and ticks off what the front desk wants to think of. The history keeps days and states, not the words.</summary>
public sealed class KeepReminders(CommandRunner runner) : IUseCase
{
    /// <summary>Open reminders of a shop.</summary>
    public const int MostOpen = 1000;

    /// <param name="JobId">The job it belongs to; the customer is then the job's.</param>
    /// <param name="CustomerId">The customer it is about, where there is no job.</param>
    public sealed record WriteRequest(
        string? Text,
        DateOnly? Day,
        string? Time = null,
        Guid? JobId = null,
        Guid? CustomerId = null
    );

    /// <param name="IsDone">True ticks it off, false takes the tick back; absent leaves it.</param>
    public sealed record ChangeRequest(
        string? Text = null,
        DateOnly? Day = null,
        string? Time = null,
        bool? IsDone = null
    );

    public Task<Outcome<ReminderView>> WriteAsync(WriteRequest request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<ReminderView>(
            Permission.BookIn,
            envelope,
            request,
            async scope =>
            {
                var cancel = scope.Cancellation;
                if (await scope.Db.Set<Reminder>().CountAsync(r => r.DoneAt == null, cancel) >= MostOpen)
                {
                    return Failure.Because(
                        "tooMany",
                        $"{MostOpen} reminders are open. Tick some off before more are written."
                    );
                }

                if (!(await AboutAsync(scope, request)).TryGet(out var about, out var failure))
                {
                    return failure;
                }

                var written = Reminder.Write(
                    scope.NewId<ReminderId>(),
                    new Reminder.Details(request.Text, request.Day, request.Time),
                    about.Job,
                    about.Customer,
                    scope.Actor.Person,
                    (await scope.ShopAsync()).LocalDay(scope.Now)
                );
                if (!written.TryGet(out var reminder, out failure))
                {
                    return failure;
                }

                scope.Db.Add(reminder);
                scope.Record(Event("reminder.written", reminder, null));
                await scope.SaveAsync();
                return ReminderView.Of(reminder);
            },
            ct
        );

    public Task<Outcome<ReminderView>> ChangeAsync(
        ReminderId id,
        ChangeRequest request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<ReminderView>(
            Permission.BookIn,
            envelope,
            new { id, request },
            async scope =>
            {
                if (
                    await scope.Db.Set<Reminder>().SingleOrDefaultAsync(r => r.Id == id, scope.Cancellation)
                    is not { } reminder
                )
                {
                    return Failure.Missing("reminder");
                }

                if (scope.Stale(reminder) is { } stale)
                {
                    return stale;
                }

                var before = Facts(reminder);
                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                if (!Change(reminder, request, today).TryGet(out var isOther, out var failure))
                {
                    return failure;
                }

                var isTicked = request.IsDone switch
                {
                    true => reminder.Settle(scope.Actor.Person, scope.Now),
                    false => reminder.Reopen(),
                    null => false,
                };
                if (isOther || isTicked)
                {
                    scope.Record(Event(isTicked ? "reminder.ticked" : "reminder.changed", reminder, before));
                    await scope.SaveAsync();
                }

                return ReminderView.Of(reminder);
            },
            ct
        );

    private static Outcome<bool> Change(Reminder reminder, ChangeRequest request, DateOnly today)
    {
        if (request is { Text: null, Day: null, Time: null })
        {
            return false;
        }

        // An absent time keeps the one there is; an empty one takes it away.
        var time = request.Time ?? ReminderView.Of(reminder).Time;
        return reminder.Change(
            new Reminder.Details(request.Text ?? reminder.Text, request.Day ?? reminder.Day, time),
            today
        );
    }

    private static async Task<Outcome<(JobId? Job, CustomerId? Customer)>> AboutAsync(
        CommandScope scope,
        WriteRequest request
    )
    {
        if (request.JobId is { } jobId)
        {
            var id = JobId.From(jobId);
            var job = await scope
                .Db.Set<Job>()
                .Where(j => j.Id == id)
                .Select(j => new { j.CustomerId })
                .SingleOrDefaultAsync(scope.Cancellation);
            return job is null
                ? Failure.Field("jobId", "There is no such job.")
                : ((JobId?)id, (CustomerId?)job.CustomerId);
        }

        if (request.CustomerId is not { } customerId)
        {
            return ((JobId?)null, (CustomerId?)null);
        }

        var customer = CustomerId.From(customerId);
        return await scope.Db.Set<Customer>().AnyAsync(c => c.Id == customer, scope.Cancellation)
            ? ((JobId?)null, (CustomerId?)customer)
            : Failure.Field("customerId", "There is no such customer.");
    }

    private static object Facts(Reminder r) =>
        new
        {
            day = r.Day,
            time = r.Time,
            isDone = r.DoneAt is not null,
            length = r.Text.Length,
        };

    private static EventDraft Event(string type, Reminder reminder, object? before) =>
        new(type, "reminder", reminder.Id.Value, reminder.JobId, before, Facts(reminder));
}

/// <summary>What was to be thought of about a customer goes with the customer.</summary>
public static class DiaryErasure
{
    public static async Task EraseAsync(CommandScope scope, CustomerId customer, IReadOnlyCollection<JobId> jobs)
    {
        ArgumentNullException.ThrowIfNull(scope);
        var reminders = await scope
            .Db.Set<Reminder>()
            .Where(r => r.CustomerId == customer)
            .ToListAsync(scope.Cancellation);
        reminders.ForEach(r => r.Erase(scope.Now));
        var appointments = await scope
            .Db.Set<Appointment>()
            .Where(a => jobs.Contains(a.JobId))
            .ToListAsync(scope.Cancellation);
        appointments.ForEach(a => a.Erase());
    }
}
