using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Accounts;

/// <summary>Whether a new job's work waits for its deposit.</summary>
internal static class DepositFirst
{
    /// <summary>The rule of the price book by which the quote was priced.</summary>
    public static async Task<bool> ByBookAsync(ShopDbContext db, Quote quote, CancellationToken ct) =>
        quote.Priced.DepositMinor > 0
        && (await db.Set<PriceBookEdition>().AsNoTracking().SingleOrDefaultAsync(b => b.Id == quote.PriceBookId, ct))
            is { Book.Deposit.BeforeStart: true };
}

/// <summary>Sets whether a job's work waits for its deposit.</summary>
public sealed class SetDepositFirst(AccountChange change) : IUseCase
{
    public sealed record Request(JobId JobId, bool? First);

    public Task<Outcome<AccountView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.TakeMoney,
            request.JobId,
            request,
            envelope,
            (scope, account) =>
            {
                var was = account.DepositFirst;
                var outcome = request.First is { } first
                    ? account.WaitForDeposit(first)
                    : Failure.Field("first", "Say whether work waits for the deposit: true or false.");
                scope.Db.Touch(account);
                scope.Record(
                    new EventDraft(
                        "account.depositFirst",
                        "account",
                        account.Id.Value,
                        account.Id,
                        new { depositFirst = was },
                        new { account.DepositFirst }
                    )
                );
                return Task.FromResult(outcome);
            },
            ct
        );
}

/// <summary>The owner's decisions about money that is not there yet; the reason is kept.</summary>
public sealed class DecideOnMoney(AccountChange change) : IUseCase
{
    public sealed record Request(JobId JobId, string? Reason);

    /// <summary>Work may start without the deposit.</summary>
    public Task<Outcome<AccountView>> StartWithoutDepositAsync(
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        DecideAsync(
            request,
            envelope,
            (scope, account, reason) => account.StartWithoutDeposit(reason, scope.Now, scope.Actor.Person),
            ct
        );

    /// <summary>The car may go although the customer still owes something.</summary>
    public Task<Outcome<AccountView>> HandOverWithBalanceAsync(
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        DecideAsync(
            request,
            envelope,
            (scope, account, reason) => account.HandOverWithBalance(reason, scope.Now, scope.Actor.Person),
            ct
        );

    private Task<Outcome<AccountView>> DecideAsync(
        Request request,
        Envelope envelope,
        Func<CommandScope, JobAccount, string, Outcome<MoneyDecision>> decide,
        CancellationToken ct
    ) =>
        change.RunAsync(
            Permission.DecideOnMoney,
            request.JobId,
            request,
            envelope,
            (scope, account) =>
                Task.FromResult(
                    AccountChange
                        .Reason(request.Reason)
                        .Then(reason => decide(scope, account, reason))
                        .Then(decision => Remember(scope, account, decision))
                ),
            ct
        );

    private static Outcome<Done> Remember(CommandScope scope, JobAccount account, MoneyDecision decision)
    {
        scope.Record(
            new EventDraft(
                "account.decided",
                "account",
                account.Id.Value,
                account.Id,
                After: new
                {
                    decision.Kind,
                    decision.OpenMinor,
                    Currency = account.Currency.Code,
                }
            )
        );
        return Outcome.Ok;
    }
}
