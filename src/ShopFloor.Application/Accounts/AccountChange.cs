using ShopFloor.Application.Common;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>Money that changes hands, as typed in.</summary>
/// <param name="AmountMinor">Over 0, in minor units of the shop's currency.</param>
/// <param name="Method">cash, card, bankTransfer or cheque.</param>
/// <param name="On">The local day it happened; absent means today. Not in the future, at most two years ago.</param>
public sealed record MoneyRequest(
    JobId JobId,
    long? AmountMinor,
    string? Method,
    string? Reference = null,
    DateOnly? On = null,
    string? Reason = null
);

/// <summary>What all entries on an account have in common: find it, refuse a stale one, act, record, show.</summary>
internal static class AccountChange
{
    private const int OldestDays = 2 * 366;

    internal static Task<Outcome<AccountView>> RunAsync(
        CommandRunner runner,
        JobId job,
        DateOnly? on,
        object content,
        Envelope envelope,
        Func<CommandScope, JobAccount, EntryStamp, Task<Outcome<LedgerEntry>>> act,
        CancellationToken ct
    ) =>
        runner.RunAsync<AccountView>(
            Permission.TakeMoney,
            envelope,
            content,
            async scope =>
            {
                if (await JobAccounts.FindAsync(scope.Db, job, scope.Cancellation) is not { } account)
                {
                    return Failure.Missing("job account");
                }

                if (scope.Stale(account) is { } stale)
                {
                    return stale;
                }

                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                if (CheckDay(on, today) is { } wrongDay)
                {
                    return wrongDay;
                }

                var outcome = await act(scope, account, JobAccounts.Stamp(scope, on ?? today));
                if (!outcome.TryGet(out var entry, out var failure))
                {
                    return failure;
                }

                scope.Db.Add(entry);
                JobAccounts.Record(scope, account, entry);
                await scope.SaveAsync();
                return await AccountView.OfAsync(scope.Db, account, scope.Cancellation);
            },
            ct
        );

    internal static Failure? CheckDay(DateOnly? on, DateOnly today) =>
        on > today || on < today.AddDays(-OldestDays)
            ? Failure.Field("on", "The day must not lie in the future or more than two years back.")
            : null;

    /// <summary>Reads amount, method and reference; takes the receipt number only when they are right.</summary>
    internal static async Task<Outcome<MoneyMoved>> ReadAsync(CommandScope scope, MoneyRequest request)
    {
        var errors = new FieldErrors();
        errors.AddIf(request.AmountMinor is null, "amountMinor", "The amount is needed, in whole minor units.");
        PaymentMethod? method = request.Method switch
        {
            "cash" => PaymentMethod.Cash,
            "card" => PaymentMethod.Card,
            "bankTransfer" => PaymentMethod.BankTransfer,
            "cheque" => PaymentMethod.Cheque,
            _ => null,
        };
        errors.AddIf(method is null, "method", "Say how it was paid: cash, card, bankTransfer or cheque.");
        var reference = TextRules.Optional(
            request.Reference,
            "reference",
            "The reference",
            TextRules.ShortText,
            errors
        );
        return errors.Any
            ? errors.ToFailure()
            : new MoneyMoved(request.AmountMinor!.Value, method!.Value, reference, await scope.NextNumberAsync("R"));
    }
}
