using System.Globalization;
using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Application.Quoting;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Accounts;

/// <summary>All that happened on a job's account, as a PDF.</summary>
public sealed class PrintStatement(QueryRunner runner, PaperHeads heads, IPapers papers, TimeProvider clock) : IUseCase
{
    public Task<Outcome<PrintedPaper>> RunAsync(JobId id, PaperSize? size, Actor actor, CancellationToken ct) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                if (await MoneyPaper.ReadAsync(db, heads, id, ct) is not { } money)
                {
                    return Failure.Missing("job account");
                }

                var now = clock.GetUtcNow();
                var number = money.JobNumber ?? money.Quote.Number;
                return new PrintedPaper(
                    papers.Statement(
                        Paper(money, number, money.Shop.LocalDay(now)),
                        PaperHeads.SettingsOf(money.Shop, size, now)
                    ),
                    $"statement-{number}.pdf"
                );
            },
            ct
        );

    private static StatementPaper Paper(MoneyPaper money, string number, DateOnly until)
    {
        var account = money.Account;
        var rows = new List<StatementRow>();
        long balance = 0;
        foreach (var entry in account.Entries.Where(e => e.CustomerMinor != 0).OrderBy(e => e.Sequence))
        {
            balance += entry.CustomerMinor;
            rows.Add(
                new StatementRow(
                    entry.On,
                    Words(entry),
                    entry.Receipt ?? entry.Reference,
                    money.Money(Math.Max(0, entry.CustomerMinor)),
                    money.Money(Math.Max(0, -entry.CustomerMinor)),
                    money.Money(balance)
                )
            );
        }

        return new StatementPaper(
            money.Letterhead,
            PaperHeads.Of(money.Customer),
            money.Car,
            number,
            until,
            rows,
            money.Money(account.BalanceMinor),
            [
                .. money.Papers.Select(p => new PaperAmount(
                    $"{MoneyWords.Of(p.Kind)} {p.Number}, {p.IssuedOn.ToString("d MMMM yyyy", CultureInfo.InvariantCulture)}",
                    money.Money(p.Sign * p.TotalMinor)
                )),
            ],
            account.TradeCreditMinor > 0 ? [MoneyCautions.TradeCredit] : []
        );
    }

    private static string Words(LedgerEntry entry) =>
        entry.Kind switch
        {
            EntryKind.Charge => entry.Description,
            EntryKind.TradeCredit => "Work or goods in exchange: " + entry.Description,
            EntryKind.Reversal => "Taken back: " + entry.Description,
            _ => MoneyWords.Of(entry.Kind) + MoneyWords.In(entry.Method),
        };
}

/// <summary>What was agreed, as a PDF for the customer.</summary>
public sealed class PrintOrder(QueryRunner runner, PaperHeads heads, IPapers papers, TimeProvider clock) : IUseCase
{
    public Task<Outcome<PrintedPaper>> RunAsync(JobId id, PaperSize? size, Actor actor, CancellationToken ct) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                if (
                    await MoneyPaper.ReadAsync(db, heads, id, ct) is not { } money
                    || await db.FindAsync<Job>([id], ct) is not { } job
                )
                {
                    return Failure.Missing("job");
                }

                if (money.Account.IsSettled)
                {
                    return Failure.Because("cancelled", "This job was cancelled; print its statement instead.");
                }

                var settings = PaperHeads.SettingsOf(money.Shop, size, clock.GetUtcNow());
                return new PrintedPaper(papers.Order(Paper(money, job, settings), settings), $"order-{job.Number}.pdf");
            },
            ct
        );

    private static OrderPaper Paper(MoneyPaper money, Job job, PaperSettings settings)
    {
        var (account, quote) = (money.Account, money.Quote);
        var agreed = InvoiceContent.Join([.. account.Charges.OrderBy(c => c.Number).Select(c => c.Counted)]);
        return new OrderPaper(
            money.Letterhead,
            PaperHeads.Of(money.Customer),
            money.Car,
            job.Number,
            money.Shop.LocalDay(job.OpenedAt),
            job.PromisedOn,
            quote.AcceptedBy is { } name && quote.ClosedAt is { } at
                ? new PaperSignature(name, TimeZoneInfo.ConvertTime(at, money.Shop.Zone))
                : null,
            money.Lines(agreed, settings.Culture),
            money.Totals(agreed) with
            {
                TradeCredit = money.Money(account.TradeCreditMinor),
                AmountDue = money.Money(agreed.TotalMinor - account.TradeCreditMinor),
            },
            [
                .. account
                    .Charges.OrderBy(c => c.Number)
                    .Select(c => new PaperAmount(c.Reference, money.Money(c.Counted.TotalMinor))),
            ],
            [.. Terms(money, settings.Culture)],
            quote.ContentHash is { } hash
                ? [new PaperFact($"Content hash (SHA-256) of quote {quote.Number}, revision {quote.Revision}", hash)]
                : []
        );
    }

    private static IEnumerable<string> Terms(MoneyPaper money, CultureInfo culture)
    {
        var account = money.Account;
        if (account.DepositMinor > 0)
        {
            var deposit = money.Money(account.DepositMinor).ToString(culture);
            yield return account.DepositFirst
                ? $"Deposit: {deposit}. Work begins when it has been paid."
                : $"Deposit: {deposit}.";
        }

        if (money.Quote.Terms.CustomerNote is { } note)
        {
            yield return note;
        }

        if (account.TradeCreditMinor > 0)
        {
            yield return MoneyCautions.TradeCredit;
        }

        yield return Cautions.WhoDecides;
    }
}
