using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Accounts;

/// <summary>Opens and settles job accounts within the commands that open and cancel jobs.</summary>
public static class JobAccounts
{
    /// <summary>Opens the account of a new job: charges the accepted quote and books the trade credit agreed in it.</summary>
    public static async Task<JobAccount> OpenAsync(CommandScope scope, JobId job, Quote quote)
    {
        ArgumentNullException.ThrowIfNull(scope);
        ArgumentNullException.ThrowIfNull(quote);
        var today = (await scope.ShopAsync()).LocalDay(scope.Now);
        var account = JobAccount.Open(job, quote, () => Stamp(scope, today));
        scope.Db.Add(account);
        foreach (var entry in account.Entries)
        {
            Record(scope, account, entry);
        }

        return account;
    }

    /// <summary>Settles the account of a cancelled job: charges the work done and the material used instead of the quote.</summary>
    /// <param name="doneShares">Operation code to the part of it that was done, 0 to 1.</param>
    /// <param name="usedLineCodes">Codes of the quote's lines other than labour that were used up.</param>
    public static async Task<Outcome<JobAccount>> SettleCancelledAsync(
        CommandScope scope,
        JobId job,
        IReadOnlyDictionary<string, decimal> doneShares,
        IReadOnlySet<string> usedLineCodes
    )
    {
        ArgumentNullException.ThrowIfNull(scope);
        if (await FindAsync(scope.Db, job, scope.Cancellation) is not { } account)
        {
            return Failure.Missing("job account");
        }

        var quote = await scope.Db.Set<Quote>().SingleAsync(q => q.Id == account.QuoteId, scope.Cancellation);
        var today = (await scope.ShopAsync()).LocalDay(scope.Now);
        var before = account.EntryCount;
        var settled = CancelledWork
            .Price(quote.Priced, doneShares, usedLineCodes)
            .Then(workDone => account.SettleCancelled(() => Stamp(scope, today), workDone));
        if (!settled.TryGet(out _, out var failure))
        {
            return failure;
        }

        foreach (var entry in account.Entries.Where(e => e.Sequence > before))
        {
            scope.Db.Add(entry);
            Record(scope, account, entry);
        }

        return account;
    }

    public static Task<JobAccount?> FindAsync(ShopDbContext db, JobId job, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(db);
        return db.Set<JobAccount>().SingleOrDefaultAsync(a => a.Id == job, ct);
    }

    /// <summary>What each of the jobs owes; jobs without an account are left out.</summary>
    public static async Task<IReadOnlyDictionary<JobId, long>> BalancesAsync(
        ShopDbContext db,
        IReadOnlyCollection<JobId> jobs,
        CancellationToken ct
    )
    {
        ArgumentNullException.ThrowIfNull(db);
        var accounts = await db.Set<JobAccount>().Where(a => jobs.Contains(a.Id)).ToListAsync(ct);
        return accounts.ToDictionary(a => a.Id, a => a.BalanceMinor);
    }

    internal static EntryStamp Stamp(CommandScope scope, DateOnly on) =>
        new(scope.NewId<LedgerEntryId>(), on, scope.Now, scope.Actor.Person);

    internal static void Record(CommandScope scope, JobAccount account, LedgerEntry entry) =>
        scope.Record(
            new EventDraft(
                "account." + Camel(entry.Kind.ToString()),
                "account",
                account.Id.Value,
                account.Id,
                After: new
                {
                    Entry = entry.Id.Value,
                    entry.Sequence,
                    entry.CustomerMinor,
                    Currency = account.Currency.Code,
                    account.BalanceMinor,
                    entry.Receipt,
                    entry.Method,
                    Reverses = entry.Reverses?.Value,
                }
            )
        );

    private static string Camel(string word) => char.ToLowerInvariant(word[0]) + word[1..];
}
