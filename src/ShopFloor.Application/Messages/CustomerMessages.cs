using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Messages;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Messages;

/// <summary>Which messages a customer does not want.</summary>
/// <param name="Language">Of the texts that the customer gets: en or de, by the customer's language.</param>
public sealed record MessageChoicesView(long Version, IReadOnlyList<MessageKind> Refused, string Language);

/// <summary>Reads and changes a customer's choice of messages, at the front desk.</summary>
public sealed class ChooseMessages(QueryRunner queries, CommandRunner runner) : IUseCase
{
    public sealed record Request(IReadOnlyList<MessageKind>? Refused);

    public Task<Outcome<MessageChoicesView>> ReadAsync(CustomerId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<MessageChoicesView>(
            Permission.SeeOffice,
            actor,
            async db => await ViewAsync(db, id, ct) is { } view ? view : Failure.Missing("customer"),
            ct
        );

    public Task<Outcome<MessageChoicesView>> ChangeAsync(
        CustomerId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<MessageChoicesView>(
            Permission.KeepCustomers,
            envelope,
            new { id, request },
            async scope =>
            {
                if (request.Refused is null or { Count: > 20 })
                {
                    return Failure.Field("refused", "List the kinds of message that the customer does not want.");
                }

                return await MessageChoosing.RefuseAsync(scope, id, request.Refused) is { } failure
                    ? failure
                    : (await ViewAsync(scope.Db, id, scope.Cancellation))!;
            },
            ct
        );

    private static async Task<MessageChoicesView?> ViewAsync(ShopDbContext db, CustomerId id, CancellationToken ct)
    {
        if (await db.Set<Customer>().SingleOrDefaultAsync(c => c.Id == id, ct) is not { } customer)
        {
            return null;
        }

        var choices = await db.Set<MessageChoices>().SingleOrDefaultAsync(c => c.Id == id, ct);
        return new(choices?.Version ?? 0, choices?.Refused ?? [], MessageLanguages.For(customer.Language));
    }
}

internal static class MessageChoosing
{
    public static async Task<Failure?> RefuseAsync(
        CommandScope scope,
        CustomerId id,
        IReadOnlyCollection<MessageKind> refused
    )
    {
        if (
            await scope.Db.Set<Customer>().SingleOrDefaultAsync(c => c.Id == id, scope.Cancellation) is not { } customer
        )
        {
            return Failure.Missing("customer");
        }

        if (customer.ErasedAt is not null)
        {
            return Failure.Because("erased", "This customer's personal data was erased; no messages go out.");
        }

        var choices = await scope.Db.Set<MessageChoices>().SingleOrDefaultAsync(c => c.Id == id, scope.Cancellation);
        if (choices is null)
        {
            choices = MessageChoices.Of(id);
            scope.Db.Add(choices);
        }

        if ((scope.Stale(choices) ?? choices.Refuse(refused).Failure) is { } failure)
        {
            return failure;
        }

        scope.Record(
            new EventDraft("customer.messagesChosen", "customer", id.Value, After: new { refused = choices.Refused })
        );
        await scope.SaveAsync();
        return null;
    }
}

/// <summary>What a customer's own link may do: stop all messages that no contract needs, and want them again. Whoever holds the token may.</summary>
public sealed class ChooseByLink(CommandRunner runner, IDbContextFactory<ShopDbContext> contexts, MessageSeal seal)
    : IUseCase
{
    /// <param name="Language">The customer's.</param>
    /// <param name="IsStopped">No message goes out that no contract needs.</param>
    public sealed record View(string ShopName, string Language, bool IsStopped);

    /// <summary>Null for a wrong token and for a customer who was erased.</summary>
    public async Task<View?> ReadAsync(string token, CancellationToken ct)
    {
        if (seal.OpenToken(token) is not { } id)
        {
            return null;
        }

        await using var db = await contexts.CreateDbContextAsync(ct);
        var customer = await db.Set<Customer>().AsNoTracking().SingleOrDefaultAsync(c => c.Id == id, ct);
        if (customer is not { ErasedAt: null })
        {
            return null;
        }

        var choices = await db.Set<MessageChoices>().AsNoTracking().SingleOrDefaultAsync(c => c.Id == id, ct);
        var shop = await db.Shops.AsNoTracking().SingleAsync(ct);
        return new View(
            shop.Name,
            MessageLanguages.For(customer.Language),
            MessageKinds.Optional.All(k => choices?.Wants(k) == false)
        );
    }

    /// <summary>Stops the messages or lets them come again; false as for <see cref="ReadAsync"/>. Doing so twice is as once.</summary>
    public async Task<bool> ChooseAsync(string token, bool isStopped, CancellationToken ct)
    {
        if (seal.OpenToken(token) is not { } id)
        {
            return false;
        }

        var outcome = await runner.RunUncheckedAsync<Done>(
            Envelope.Of(Actor.OfLink(id.Value)),
            null,
            async scope =>
                await MessageChoosing.RefuseAsync(scope, id, isStopped ? MessageKinds.Optional : []) is { } failure
                    ? failure
                    : Outcome.Ok,
            ct
        );
        return outcome.IsSuccess;
    }
}

/// <summary>Agrees, or moves, the day on which a job's car is brought; the customer gets it with an entry for the calendar.</summary>
public sealed class AppointDropOff(QueryRunner queries, CommandRunner runner) : IUseCase
{
    internal const string Appointed = "dropOff.appointed";
    internal const string Moved = "dropOff.moved";

    /// <param name="Time">Such as 08:30, by the shop's clock; absent: any time of the day.</param>
    public sealed record Request(DateOnly? Day, string? Time = null);

    /// <param name="Moves">How often it was moved.</param>
    public sealed record View(DateOnly? Day, string? Time, int Moves, long Version);

    public Task<Outcome<View>> ReadAsync(JobId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<View>(
            Permission.SeeOffice,
            actor,
            async db =>
                await db.Set<Job>().AnyAsync(j => j.Id == id, ct)
                    ? ViewOf(await db.Set<DropOffAppointment>().SingleOrDefaultAsync(a => a.Id == id, ct))
                    : Failure.Missing("job"),
            ct
        );

    public Task<Outcome<View>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<View>(
            Permission.BookIn,
            envelope,
            new { id, request },
            async scope =>
            {
                if (await scope.Db.Set<Job>().SingleOrDefaultAsync(j => j.Id == id, scope.Cancellation) is not { } job)
                {
                    return Failure.Missing("job");
                }

                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var errors = new FieldErrors();
                errors.AddIf(
                    request.Day is not { } day || day < today || day > today.AddDays(JobOpener.MostDays),
                    "day",
                    "Agree on today or a day within the next five years."
                );
                var time = ReadTime(request.Time, errors);
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                if (job.State != JobState.Open || !job.HasCarHere)
                {
                    return Failure.Because("noDropOff", "No car is brought for this job (any more).");
                }

                var appointment = await scope
                    .Db.Set<DropOffAppointment>()
                    .SingleOrDefaultAsync(a => a.Id == id, scope.Cancellation);
                var before = ViewOf(appointment);
                if (appointment is null)
                {
                    appointment = DropOffAppointment.Of(id, request.Day!.Value, time);
                    scope.Db.Add(appointment);
                }
                else if (scope.Stale(appointment) is { } stale)
                {
                    return stale;
                }
                else if (!appointment.Move(request.Day!.Value, time))
                {
                    return before;
                }

                scope.Record(
                    new EventDraft(
                        before.Day is null ? Appointed : Moved,
                        "job",
                        id.Value,
                        id,
                        before.Day is null ? null : new { day = before.Day, time = before.Time },
                        new { day = appointment.Day, time = appointment.Time }
                    )
                );
                await scope.SaveAsync();
                return ViewOf(appointment);
            },
            ct
        );

    private static TimeOnly? ReadTime(string? text, FieldErrors errors)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            return null;
        }

        var isTime = TimeOnly.TryParseExact(
            text.Trim(),
            "HH:mm",
            System.Globalization.CultureInfo.InvariantCulture,
            System.Globalization.DateTimeStyles.None,
            out var time
        );
        errors.AddIf(!isTime, "time", "Give the time as hours and minutes, such as 08:30.");
        return isTime ? time : null;
    }

    private static View ViewOf(DropOffAppointment? a) =>
        new(
            a?.Day,
            a?.Time?.ToString("HH:mm", System.Globalization.CultureInfo.InvariantCulture),
            a?.Moves ?? 0,
            a?.Version ?? 0
        );
}
