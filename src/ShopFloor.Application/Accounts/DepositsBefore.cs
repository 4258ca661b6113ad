using ShopFloor.Application.Common;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>Books what was paid before a half-built car was entered, within the command that enters it: as on the account's page, each with its own day and receipt.</summary>
internal static class DepositsBefore
{
    /// <summary>More than this many deposits on one car are a typing error.</summary>
    public const int Most = 20;

    /// <summary>Books all, or none: the errors lie behind <c>deposits[i].</c></summary>
    public static async Task<Outcome<Done>> BookAsync(
        CommandScope scope,
        JobId job,
        IReadOnlyList<MoneyRequest> deposits
    )
    {
        if (deposits.Count == 0)
        {
            return Outcome.Ok;
        }

        if (!scope.Actor.May(Permission.TakeMoney))
        {
            return new Failure.Forbidden("Deposits are booked by those who may take money. Ask the owner.");
        }

        if (deposits.Count > Most)
        {
            return Failure.Field("deposits", $"At most {Most} deposits can be listed; put several into one.");
        }

        if (await JobAccounts.FindAsync(scope.Db, job, scope.Cancellation) is not { } account)
        {
            return Failure.Missing("job account");
        }

        var errors = new FieldErrors();
        for (var i = 0; i < deposits.Count; i++)
        {
            var booked = await BookAsync(scope, account, deposits[i]);
            if (booked.Failure is { } failure and not Failure.Invalid)
            {
                return failure;
            }

            errors.Take(booked, $"deposits[{i}].");
        }

        return errors.Any ? errors.ToFailure() : Outcome.Ok;
    }

    private static async Task<Outcome<LedgerEntry>> BookAsync(
        CommandScope scope,
        JobAccount account,
        MoneyRequest deposit
    )
    {
        if (deposit.On is not { } on)
        {
            return Failure.Field("on", "Name the day on which it was paid.");
        }

        if ((await MoneyDays.OpenAsync(scope, on)).Failure is { } wrongDay)
        {
            return wrongDay;
        }

        if (!(await AccountChange.ReadAsync(scope, deposit)).TryGet(out var money, out var failure))
        {
            return failure;
        }

        var outcome = account.TakeDeposit(JobAccounts.Stamp(scope, on), money);
        if (outcome.TryGet(out var entry, out _))
        {
            scope.Db.Add(entry);
            JobAccounts.Record(scope, account, entry);
        }

        return outcome;
    }
}
