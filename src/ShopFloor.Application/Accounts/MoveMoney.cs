using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>Takes a deposit and writes its receipt.</summary>
public sealed class TakeDeposit(AccountChange change) : IUseCase
{
    public Task<Outcome<AccountView>> RunAsync(MoneyRequest request, Envelope envelope, CancellationToken ct) =>
        change.MoveAsync(request, envelope, (account, stamp, money) => account.TakeDeposit(stamp, money), ct);
}

/// <summary>Takes a payment and writes its receipt.</summary>
public sealed class TakePayment(AccountChange change) : IUseCase
{
    public Task<Outcome<AccountView>> RunAsync(MoneyRequest request, Envelope envelope, CancellationToken ct) =>
        change.MoveAsync(request, envelope, (account, stamp, money) => account.TakePayment(stamp, money), ct);
}

/// <summary>Gives money back, with its receipt.</summary>
public sealed class GiveRefund(AccountChange change) : IUseCase
{
    public Task<Outcome<AccountView>> RunAsync(MoneyRequest request, Envelope envelope, CancellationToken ct) =>
        change.MoveAsync(
            request,
            envelope,
            (account, stamp, money) =>
                AccountChange.Reason(request.Reason).Then(reason => account.Refund(stamp, money, reason)),
            ct
        );
}

/// <summary>Takes a wrong entry back by its opposite; both stay readable.</summary>
public sealed class ReverseEntry(AccountChange change) : IUseCase
{
    public sealed record Request(JobId JobId, LedgerEntryId EntryId, string? Reason);

    public Task<Outcome<AccountView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        change.BookAsync(
            request.JobId,
            null,
            request,
            envelope,
            (_, account, stamp) =>
                Task.FromResult(
                    AccountChange.Reason(request.Reason).Then(reason => account.Reverse(stamp, request.EntryId, reason))
                ),
            ct
        );
}
