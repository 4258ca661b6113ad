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
