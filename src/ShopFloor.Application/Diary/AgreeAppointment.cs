using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Diary;

/// <summary>When a car is brought or fetched, as it is agreed.</summary>
/// <param name="Id">Null before a day is agreed.</param>
/// <param name="Time">Such as 08:30, by the shop's clock; null: any time of the day.</param>
/// <param name="Moves">How often it was moved.</param>
/// <param name="Answer">What the customer said to it as it stands.</param>
/// <param name="ConfirmedBy">The name typed under a yes; null where the desk noted it.</param>
/// <param name="MayAgree">A day can be agreed or moved.</param>
/// <param name="MayAnswer">The customer can still say something to it.</param>
public sealed record AppointmentView(
    AppointmentId? Id,
    DateOnly? Day,
    string? Time,
    int Moves,
    AppointmentAnswer? Answer,
    DateTimeOffset? AnsweredAt,
    string? ConfirmedBy,
    bool MayAgree,
    bool MayAnswer,
    long Version
)
{
    public static AppointmentView None { get; } = Of(null, false, false);

    public static AppointmentView Of(Appointment? a, bool mayAgree, bool mayAnswer) =>
        new(
            a?.Id,
            a?.Day,
            a?.TimeText,
            a?.Moves ?? 0,
            a?.Answer,
            a?.AnsweredAt,
            a?.ConfirmedBy,
            mayAgree,
            mayAnswer,
            a?.Version ?? 0
        );
}

/// <summary>Agrees, or moves, the day on which a job's car is brought or fetched; the customer gets it with an entry for the calendar.</summary>
public sealed class AgreeAppointment(QueryRunner queries, CommandRunner runner, TimeProvider clock) : IUseCase
{
    /// <param name="Time">Such as 08:30, by the shop's clock; absent: any time of the day.</param>
    public sealed record Request(DateOnly? Day, string? Time = null);

    public Task<Outcome<AppointmentView>> ReadAsync(
        JobId id,
        AppointmentKind kind,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<AppointmentView>(
            Permission.SeeOffice,
            actor,
            async db =>
            {
                if (await db.Set<Job>().SingleOrDefaultAsync(j => j.Id == id, ct) is not { } job)
                {
                    return Failure.Missing("job");
                }

                var appointment = await AppointmentBook.FindAsync(db, id, kind, ct);
                var today = (await db.Shops.SingleAsync(ct)).LocalDay(clock.GetUtcNow());
                return AppointmentView.Of(
                    appointment,
                    await RefuseAsync(db, job, kind, ct) is null,
                    appointment is not null && await AppointmentBook.WhyOverAsync(db, appointment, today, ct) is null
                );
            },
            ct
        );

    public Task<Outcome<AppointmentView>> RunAsync(
        JobId id,
        AppointmentKind kind,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<AppointmentView>(
            Permission.BookIn,
            envelope,
            new
            {
                id,
                kind,
                request,
            },
            async scope =>
            {
                var (db, cancel) = (scope.Db, scope.Cancellation);
                if (await db.Set<Job>().SingleOrDefaultAsync(j => j.Id == id, cancel) is not { } job)
                {
                    return Failure.Missing("job");
                }

                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var read = Appointment.Read(request.Day, request.Time, today);
                if (!read.TryGet(out var wanted, out var failure))
                {
                    return failure;
                }

                if (await RefuseAsync(db, job, kind, cancel) is { } refused)
                {
                    return refused;
                }

                var appointment = await AppointmentBook.FindAsync(db, id, kind, cancel);
                var before = AppointmentBook.Facts(appointment);
                if (appointment is null)
                {
                    appointment = Appointment.Of(scope.NewId<AppointmentId>(), id, kind, wanted.Day, wanted.Time);
                    db.Add(appointment);
                }
                else if (scope.Stale(appointment) is { } stale)
                {
                    return stale;
                }
                else if (!appointment.Move(wanted.Day, wanted.Time))
                {
                    return AppointmentView.Of(appointment, true, true);
                }

                scope.Record(
                    new EventDraft(
                        AppointmentBook.EventOf(kind, isMove: before is not null),
                        "job",
                        id.Value,
                        id,
                        before,
                        AppointmentBook.Facts(appointment)
                    )
                );
                await scope.SaveAsync();
                return AppointmentView.Of(appointment, true, true);
            },
            ct
        );

    /// <summary>The customer said to the front desk that the time suits; a second time changes nothing.</summary>
    public Task<Outcome<AppointmentView>> ConfirmAsync(
        JobId id,
        AppointmentKind kind,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<AppointmentView>(
            Permission.BookIn,
            envelope,
            new { id, kind },
            async scope =>
            {
                var (db, cancel) = (scope.Db, scope.Cancellation);
                if (await AppointmentBook.FindAsync(db, id, kind, cancel) is not { } appointment)
                {
                    return Failure.Missing("appointment");
                }

                if (scope.Stale(appointment) is { } stale)
                {
                    return stale;
                }

                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                if (await AppointmentBook.WhyOverAsync(db, appointment, today, cancel) is { } over)
                {
                    return Failure.Because("over", over.Sentence());
                }

                if (appointment.Answer != AppointmentAnswer.Confirmed)
                {
                    var before = AppointmentBook.Facts(appointment);
                    appointment.ConfirmAtDesk(scope.Now);
                    scope.Record(
                        new EventDraft(
                            "appointment.confirmed",
                            "appointment",
                            appointment.Id.Value,
                            id,
                            before,
                            AppointmentBook.Facts(appointment)
                        )
                    );
                    await scope.SaveAsync();
                }

                return AppointmentView.Of(appointment, true, true);
            },
            ct
        );

    private static async Task<Failure?> RefuseAsync(
        ShopDbContext db,
        Job job,
        AppointmentKind kind,
        CancellationToken ct
    )
    {
        if (job.State != JobState.Open || !job.HasCarHere)
        {
            return kind == AppointmentKind.DropOff
                ? Failure.Because("noDropOff", "No car is brought for this job (any more).")
                : Failure.Because("noCollection", "No car is fetched for this job (any more).");
        }

        return kind == AppointmentKind.DropOff && await db.Set<DropOff>().AnyAsync(d => d.JobId == job.Id, ct)
            ? Failure.Because("hasCome", "The car is here already.")
            : null;
    }
}

/// <summary>Why an appointment waits for no answer any more.</summary>
internal enum AppointmentOver
{
    JobEnded,
    HasCome,
    DayPassed,
}

internal static class AppointmentOverWords
{
    public static string Sentence(this AppointmentOver why) =>
        why switch
        {
            AppointmentOver.JobEnded => "The job has ended: nothing is to be confirmed any more.",
            AppointmentOver.HasCome => "The car is here already.",
            _ => "The day is over. Agree on another one first.",
        };
}

/// <summary>How appointments are found, and what the history says of them.</summary>
internal static class AppointmentBook
{
    public const string DropOffAgreed = "dropOff.appointed";
    public const string DropOffMoved = "dropOff.moved";
    public const string CollectionAgreed = "collection.agreed";
    public const string CollectionMoved = "collection.moved";

    public static string EventOf(AppointmentKind kind, bool isMove) =>
        (kind, isMove) switch
        {
            (AppointmentKind.DropOff, false) => DropOffAgreed,
            (AppointmentKind.DropOff, true) => DropOffMoved,
            (_, false) => CollectionAgreed,
            _ => CollectionMoved,
        };

    public static Task<Appointment?> FindAsync(
        ShopDbContext db,
        JobId job,
        AppointmentKind kind,
        CancellationToken ct
    ) => db.Set<Appointment>().SingleOrDefaultAsync(a => a.JobId == job && a.Kind == kind, ct);

    /// <summary>Why nothing can be said to it any more; null while it can.</summary>
    public static async Task<AppointmentOver?> WhyOverAsync(
        ShopDbContext db,
        Appointment appointment,
        DateOnly today,
        CancellationToken ct
    )
    {
        if (!await db.Set<Job>().AnyAsync(j => j.Id == appointment.JobId && j.State == JobState.Open, ct))
        {
            return AppointmentOver.JobEnded;
        }

        var hasCome =
            appointment.Kind == AppointmentKind.DropOff
            && await db.Set<DropOff>().AnyAsync(d => d.JobId == appointment.JobId, ct);
        return hasCome ? AppointmentOver.HasCome
            : appointment.Day < today ? AppointmentOver.DayPassed
            : null;
    }

    public static object? Facts(Appointment? a) =>
        a is null
            ? null
            : new
            {
                day = a.Day,
                time = a.Time,
                answer = a.Answer,
            };
}
