using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Changes;
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
        var account = JobAccount.Open(
            job,
            quote,
            () => Stamp(scope, today),
            await DepositFirst.ByBookAsync(scope.Db, quote, scope.Cancellation)
        );
        scope.Db.Add(account);
        foreach (var entry in account.Entries)
        {
            Record(scope, account, entry);
        }

        return account;
    }

    /// <summary>Charges an approved change on a job's account, in the command that approves it. The job's total is the accepted quote and these.</summary>
    /// <param name="reference">Number of the change, e.g. <c>CO-2026-0001</c>.</param>
    public static async Task<Outcome<AgreedCharge>> ChargeChangeAsync(
        CommandScope scope,
        JobId job,
        string reference,
        InvoiceContent content
    )
    {
        ArgumentNullException.ThrowIfNull(scope);
        if (await FindAsync(scope.Db, job, scope.Cancellation) is not { } account)
        {
            return Failure.Missing("job account");
        }

        var today = (await scope.ShopAsync()).LocalDay(scope.Now);
        var before = account.EntryCount;
        var charged = account.Charge(() => Stamp(scope, today), reference, content);
        if (charged.IsSuccess)
        {
            scope.Db.Add(charged.Value);
            Append(scope, account, before);
        }

        return charged;
    }

    /// <summary>Settles the account of a cancelled job: charges the work done and the material used instead of the quote.</summary>
    /// <param name="doneShares">Operation code to the part of it that was done, 0 to 1.</param>
    /// <param name="usedLineCodes">Codes of lines other than labour that were used up.</param>
    /// <param name="approved">The approved changes; a charge that they do not explain counts for nothing.</param>
    public static async Task<Outcome<JobAccount>> SettleCancelledAsync(
        CommandScope scope,
        JobId job,
        IReadOnlyDictionary<string, decimal> doneShares,
        IReadOnlySet<string> usedLineCodes,
        IReadOnlyList<ChangeOrder>? approved = null
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
        var workDone = new Dictionary<int, InvoiceContent>();
        foreach (var charge in account.Charges)
        {
            var change = approved?.SingleOrDefault(c => c.Number == charge.Reference);
            if (charge.Number > 1 && change is null)
            {
                continue;
            }

            var content = change is null
                ? CancelledWork.Price(quote.Priced, doneShares, usedLineCodes)
                : ChangeCharge.Done(change, doneShares, UsedOf(change, usedLineCodes));
            if (!content.TryGet(out var done, out var wrong))
            {
                return wrong;
            }

            workDone[charge.Number] = done;
        }

        if (!account.SettleCancelled(() => Stamp(scope, today), workDone).TryGet(out _, out var failure))
        {
            return failure;
        }

        await CreditExcessAsync(scope, account);
        Append(scope, account, before);
        return account;
    }

    /// <summary>A condition found otherwise prices the quote's own lines; further lines have the change's number before their codes.</summary>
    private static HashSet<string> UsedOf(ChangeOrder change, IReadOnlySet<string> used)
    {
        var mine = change.Number + "/";
        return change.Terms.Basis == ChangeBasis.ConditionFound
            ? used.ToHashSet(StringComparer.Ordinal)
            : used.Where(c => c.StartsWith(mine, StringComparison.Ordinal))
                .Select(c => c[mine.Length..])
                .ToHashSet(StringComparer.Ordinal);
    }

    /// <summary>Writes credit notes for what was invoiced and will not be supplied.</summary>
    private static async Task CreditExcessAsync(CommandScope scope, JobAccount account)
    {
        var papers = await InvoicePapers.OfJobAsync(scope.Db, account.Id, scope.Cancellation);
        foreach (var (invoice, content) in Billing.Of(account, papers).Excess())
        {
            var note = account.Credit(
                await InvoicePapers.StampAsync(scope, account, "C"),
                invoice,
                content,
                "The job was cancelled; this was not supplied."
            );
            InvoicePapers.Add(scope, account, note);
        }
    }

    /// <summary>Keeps the entries written since and remembers them in the history.</summary>
    internal static void Append(CommandScope scope, JobAccount account, int before)
    {
        foreach (var entry in account.Entries.Where(e => e.Sequence > before))
        {
            scope.Db.Add(entry);
            Record(scope, account, entry);
        }
    }

    public static Task<JobAccount?> FindAsync(ShopDbContext db, JobId job, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(db);
        return Whole(db).SingleOrDefaultAsync(a => a.Id == job, ct);
    }

    /// <summary>Accounts with their entries and charges, each read by a query of its own.</summary>
    internal static IQueryable<JobAccount> Whole(ShopDbContext db) => db.Set<JobAccount>().AsSplitQuery();

    /// <summary>What each of the jobs owes; jobs without an account are left out.</summary>
    public static async Task<IReadOnlyDictionary<JobId, long>> BalancesAsync(
        ShopDbContext db,
        IReadOnlyCollection<JobId> jobs,
        CancellationToken ct
    )
    {
        ArgumentNullException.ThrowIfNull(db);
        var accounts = await Whole(db).Where(a => jobs.Contains(a.Id)).ToListAsync(ct);
        return accounts.ToDictionary(a => a.Id, a => a.BalanceMinor);
    }

    /// <summary>Those of the jobs that neither are settled nor may go with what is due; jobs without an account owe nothing.</summary>
    internal static async Task<IReadOnlySet<JobId>> NotSettledAsync(
        ShopDbContext db,
        IReadOnlyCollection<JobId> jobs,
        CancellationToken ct
    )
    {
        var accounts = await Whole(db).AsNoTracking().Where(a => jobs.Contains(a.Id)).ToListAsync(ct);
        return accounts.Where(a => !a.MayGo).Select(a => a.Id).ToHashSet();
    }

    /// <summary>What is missing of the deposit, in words, of those jobs whose work waits for it.</summary>
    internal static async Task<IReadOnlyDictionary<JobId, string>> MissingDepositsAsync(
        ShopDbContext db,
        IReadOnlyCollection<JobId> jobs,
        CancellationToken ct
    )
    {
        var accounts = await Whole(db).AsNoTracking().Where(a => a.DepositFirst && jobs.Contains(a.Id)).ToListAsync(ct);
        return accounts
            .Where(a => a.WaitsForDeposit)
            .ToDictionary(
                a => a.Id,
                a =>
                    new Money(a.DepositMissingMinor, a.Currency).ToString(
                        System.Globalization.CultureInfo.InvariantCulture
                    )
            );
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
