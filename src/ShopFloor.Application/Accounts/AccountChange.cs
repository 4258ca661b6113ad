using ShopFloor.Application.Common;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>Money that changes hands, as typed in.</summary>
/// <param name="AmountMinor">Over 0, in minor units of the shop's currency.</param>
/// <param name="Method">cash, card, bankTransfer or cheque.</param>
/// <param name="On">The local day it happened; absent means today, or the next day where today is closed. Not in the future, at most two years ago, not on a closed day.</param>
public sealed record MoneyRequest(
    JobId JobId,
    long? AmountMinor,
    string? Method,
    string? Reference = null,
    DateOnly? On = null,
    string? Reason = null
);

/// <summary>What all entries on an account have in common: find it, refuse a stale one, act, record, show.</summary>
public sealed class AccountChange(CommandRunner runner) : IUseCase
{
    /// <summary>Runs a change of the account that may write entries.</summary>
    internal Task<Outcome<AccountView>> RunAsync(
        Permission permission,
        JobId job,
        object content,
        Envelope envelope,
        Func<CommandScope, JobAccount, Task<Outcome<Done>>> act,
        CancellationToken ct
    ) =>
        runner.RunAsync<AccountView>(
            permission,
            envelope,
            content,
            async scope =>
            {
                // Before the account is read: two who book at once take turns and both see what the other booked.
                await MoneyDays.LockAsync(scope);
                if (await JobAccounts.FindAsync(scope.Db, job, scope.Cancellation) is not { } account)
                {
                    return Failure.Missing("job account");
                }

                if (scope.Stale(account) is { } stale)
                {
                    return stale;
                }

                var before = account.EntryCount;
                if (!(await act(scope, account)).TryGet(out _, out var failure))
                {
                    return failure;
                }

                JobAccounts.Append(scope, account, before);
                await scope.SaveAsync();
                return await AccountView.OfAsync(scope.Db, account, scope.Now, scope.Cancellation);
            },
            ct
        );

    /// <summary>Runs a change that writes one entry about money or goods on a day that is still open.</summary>
    internal Task<Outcome<AccountView>> BookAsync(
        JobId job,
        DateOnly? on,
        object content,
        Envelope envelope,
        Func<CommandScope, JobAccount, EntryStamp, Task<Outcome<LedgerEntry>>> act,
        CancellationToken ct
    ) =>
        RunAsync(
            Permission.TakeMoney,
            job,
            content,
            envelope,
            async (scope, account) =>
            {
                if (!(await MoneyDays.OpenAsync(scope, on)).TryGet(out var day, out var failure))
                {
                    return failure;
                }

                return (await act(scope, account, JobAccounts.Stamp(scope, day))).Then(_ => Outcome.Ok);
            },
            ct
        );

    /// <summary>Runs a change by which money changes hands, with its receipt.</summary>
    internal Task<Outcome<AccountView>> MoveAsync(
        MoneyRequest request,
        Envelope envelope,
        Func<JobAccount, EntryStamp, MoneyMoved, Outcome<LedgerEntry>> act,
        CancellationToken ct
    ) =>
        BookAsync(
            request.JobId,
            request.On,
            request,
            envelope,
            async (scope, account, stamp) =>
                (await ReadAsync(scope, request)).Then(money => act(account, stamp, money)),
            ct
        );

    /// <summary>Reads amount, method and reference; takes the receipt number only when they are right.</summary>
    internal static async Task<Outcome<MoneyMoved>> ReadAsync(CommandScope scope, MoneyRequest request)
    {
        var errors = new FieldErrors();
        errors.AddIf(request.AmountMinor is null, "amountMinor", "The amount is needed.");
        var method = MoneyWords.Method(request.Method);
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

    /// <summary>Reads the reason that a change needs.</summary>
    internal static Outcome<string> Reason(string? text)
    {
        var errors = new FieldErrors();
        var reason = TextRules.Required(text, "reason", "The reason", TextRules.ShortText, errors);
        return errors.Any ? errors.ToFailure() : reason;
    }
}
