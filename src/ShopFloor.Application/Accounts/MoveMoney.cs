using ShopFloor.Application.Common;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>Takes a deposit and writes its receipt.</summary>
public sealed class TakeDeposit(CommandRunner runner) : IUseCase
{
    public Task<Outcome<AccountView>> RunAsync(MoneyRequest request, Envelope envelope, CancellationToken ct) =>
        AccountChange.RunAsync(
            runner,
            request.JobId,
            request.On,
            request,
            envelope,
            async (scope, account, stamp) =>
                (await AccountChange.ReadAsync(scope, request)).Then(money => account.TakeDeposit(stamp, money)),
            ct
        );
}

/// <summary>Takes a payment and writes its receipt.</summary>
public sealed class TakePayment(CommandRunner runner) : IUseCase
{
    public Task<Outcome<AccountView>> RunAsync(MoneyRequest request, Envelope envelope, CancellationToken ct) =>
        AccountChange.RunAsync(
            runner,
            request.JobId,
            request.On,
            request,
            envelope,
            async (scope, account, stamp) =>
                (await AccountChange.ReadAsync(scope, request)).Then(money => account.TakePayment(stamp, money)),
            ct
        );
}

/// <summary>Gives money back, with its receipt.</summary>
public sealed class GiveRefund(CommandRunner runner) : IUseCase
{
    public Task<Outcome<AccountView>> RunAsync(MoneyRequest request, Envelope envelope, CancellationToken ct) =>
        AccountChange.RunAsync(
            runner,
            request.JobId,
            request.On,
            request,
            envelope,
            async (scope, account, stamp) =>
            {
                var errors = new FieldErrors();
                var reason = TextRules.Required(request.Reason, "reason", "The reason", TextRules.ShortText, errors);
                return errors.Any
                    ? errors.ToFailure()
                    : (await AccountChange.ReadAsync(scope, request)).Then(money =>
                        account.Refund(stamp, money, reason)
                    );
            },
            ct
        );
}

/// <summary>Books work or goods taken in exchange at the value both sides agreed.</summary>
public sealed class TakeTradeCredit(CommandRunner runner) : IUseCase
{
    public sealed record Request(JobId JobId, long? AmountMinor, string? Description, DateOnly? On = null);

    public Task<Outcome<AccountView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        AccountChange.RunAsync(
            runner,
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
                return errors.Any
                    ? errors.ToFailure()
                    : account.TakeTradeCredit(
                        stamp,
                        request.AmountMinor!.Value,
                        description,
                        await scope.NextNumberAsync("R")
                    );
            },
            ct
        );
}

/// <summary>Takes a wrong entry back by its opposite; both stay readable.</summary>
public sealed class ReverseEntry(CommandRunner runner) : IUseCase
{
    public sealed record Request(JobId JobId, LedgerEntryId EntryId, string? Reason);

    public Task<Outcome<AccountView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        AccountChange.RunAsync(
            runner,
            request.JobId,
            null,
            request,
            envelope,
            (_, account, stamp) =>
            {
                var errors = new FieldErrors();
                var reason = TextRules.Required(request.Reason, "reason", "The reason", TextRules.ShortText, errors);
                return Task.FromResult<Outcome<LedgerEntry>>(
                    errors.Any ? errors.ToFailure() : account.Reverse(stamp, request.EntryId, reason)
                );
            },
            ct
        );
}
