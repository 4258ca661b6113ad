using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Accounts;

/// <summary>Books work or goods taken in exchange at the value both sides agreed, with who gave and who took them.</summary>
public sealed class TakeTradeCredit(AccountChange change) : IUseCase
{
    /// <param name="GivenBy">Who gives it; absent means the customer.</param>
    /// <param name="TakenBy">Who takes it for the shop; absent means whoever books it.</param>
    public sealed record Request(
        JobId JobId,
        long? AmountMinor,
        string? Description,
        DateOnly? On = null,
        string? GivenBy = null,
        string? TakenBy = null
    );

    public Task<Outcome<AccountView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        change.BookAsync(
            request.JobId,
            request.On,
            request,
            envelope,
            async (scope, account, stamp) =>
            {
                var errors = new FieldErrors();
                errors.AddIf(request.AmountMinor is null, "amountMinor", "The agreed value is needed, in minor units.");
                var description = TextRules.Required(
                    request.Description,
                    "description",
                    "What is given in exchange",
                    TextRules.ShortText,
                    errors
                );
                var givenBy = TextRules.Optional(
                    request.GivenBy,
                    "givenBy",
                    "The name of who gives it",
                    TextRules.Name,
                    errors
                );
                var takenBy = TextRules.Optional(
                    request.TakenBy,
                    "takenBy",
                    "The name of who takes it",
                    TextRules.Name,
                    errors
                );
                return errors.Any
                    ? errors.ToFailure()
                    : account.TakeTradeCredit(
                        stamp,
                        new GoodsTaken(
                            request.AmountMinor!.Value,
                            description,
                            givenBy ?? await CustomerAsync(scope, account),
                            takenBy ?? await BookerAsync(scope),
                            await scope.NextNumberAsync("R")
                        )
                    );
            },
            ct
        );

    private static Task<string> CustomerAsync(CommandScope scope, JobAccount account) =>
        scope
            .Db.Set<Customer>()
            .Where(c => c.Id == account.CustomerId)
            .Select(c => c.Name)
            .SingleAsync(scope.Cancellation);

    private static async Task<string> BookerAsync(CommandScope scope)
    {
        var person = scope.Actor.Person?.Value;
        var name = await scope
            .Db.Users.Where(u => u.Id == person)
            .Select(u => u.DisplayName)
            .SingleOrDefaultAsync(scope.Cancellation);
        return name ?? (await scope.ShopAsync()).Name;
    }
}
