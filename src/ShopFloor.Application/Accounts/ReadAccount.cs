using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>A job's account with its entries, balance and invoices.</summary>
public sealed class GetAccount(QueryRunner runner, TimeProvider clock) : IUseCase
{
    public Task<Outcome<AccountView>> RunAsync(JobId job, Actor actor, CancellationToken ct) =>
        runner.RunAsync<AccountView>(
            Permission.SeeMoney,
            actor,
            async db =>
                await JobAccounts.FindAsync(db, job, ct) is { } account
                    ? await AccountView.OfAsync(db, account, clock.GetUtcNow(), ct)
                    : Failure.Missing("job account"),
            ct
        );
}
