using System.Globalization;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Accounts;

/// <summary>A file to download.</summary>
public sealed record JournalFile(string Name, string Content);

/// <summary>All postings of a period for a bookkeeper: one row each, every entry balanced, costs with the tax on them beside what is owed to the supplier.</summary>
public sealed class ExportJournal(QueryRunner runner) : IUseCase
{
    private static readonly string[] Head =
    [
        "day",
        "entry",
        "kind",
        "account",
        "tax",
        "debit",
        "credit",
        "currency",
        "number",
        "reference",
        "description",
        "recordedAt",
    ];

    public Task<Outcome<JournalFile>> RunAsync(DateOnly? from, DateOnly? to, Actor actor, CancellationToken ct) =>
        runner.RunAsync<JournalFile>(
            Permission.SeeFigures,
            actor,
            async db =>
            {
                if (!Period.Read(from, to).TryGet(out var period, out var failure))
                {
                    return failure;
                }

                var shop = await db.Shops.SingleAsync(ct);
                var jobs = await db.Set<Job>()
                    .Select(j => new { j.Id, j.Number })
                    .ToDictionaryAsync(j => j.Id, j => j.Number, ct);
                var rows = (await EntriesAsync(db, period, jobs, ct))
                    .Concat(await CostsAsync(db, period, jobs, shop, ct))
                    .OrderBy(r => r.Day)
                    .ThenBy(r => r.At)
                    .ThenBy(r => r.Entry, StringComparer.Ordinal);
                return new JournalFile(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"journal-{period.From:yyyy-MM-dd}-{period.To:yyyy-MM-dd}.csv"
                    ),
                    CsvText.Write(rows.SelectMany(r => Cells(r, shop.Currency)).Prepend(Head))
                );
            },
            ct
        );

    private static async Task<IEnumerable<Row>> EntriesAsync(
        ShopDbContext db,
        Period period,
        Dictionary<JobId, string> jobs,
        CancellationToken ct
    )
    {
        var entries = await db.Set<LedgerEntry>()
            .Where(e => e.On >= period.From && e.On <= period.To)
            .OrderBy(e => e.On)
            .ThenBy(e => e.RecordedAt)
            .ToListAsync(ct);
        var papers = await db.Set<Invoice>()
            .Where(i => i.IssuedOn >= period.From && i.IssuedOn <= period.To)
            .Select(i => new { i.Id, i.Number })
            .ToDictionaryAsync(i => i.Id, i => i.Number, ct);
        return entries.Select(e => new Row(
            e.On,
            e.RecordedAt,
            $"{jobs.GetValueOrDefault(e.JobId)}/{e.Sequence}",
            Camel(e.Kind.ToString()),
            [.. e.Postings.Select(p => (Camel(p.Account.ToString()), p.Tax, p.Minor))],
            e.Receipt ?? (e.Paper is { } paper ? papers.GetValueOrDefault(paper) : null),
            e.Reference,
            e.Description
        ));
    }

    private static async Task<IEnumerable<Row>> CostsAsync(
        ShopDbContext db,
        Period period,
        Dictionary<JobId, string> jobs,
        Shop shop,
        CancellationToken ct
    )
    {
        var costs = await db.Set<JobCost>().Where(c => c.On <= period.To).ToListAsync(ct);
        var rows = new List<Row>();
        foreach (var cost in costs)
        {
            rows.Add(Of(cost, cost.On, cost.BookedAt, 1));
            if (cost.ReversedAt is { } back)
            {
                rows.Add(Of(cost, shop.LocalDay(back), back, -1));
            }
        }

        return rows.Where(r => r.Day >= period.From && r.Day <= period.To);

        Row Of(JobCost cost, DateOnly day, DateTimeOffset at, int sign) =>
            new(
                day,
                at,
                $"{jobs.GetValueOrDefault(cost.JobId)}/{cost.Id}",
                sign > 0 ? Camel(cost.Kind.ToString()) : "reversal",
                [
                    ("costs", null, sign * cost.AmountMinor),
                    ("taxOnCosts", null, sign * cost.TaxMinor),
                    ("suppliers", null, -sign * (cost.AmountMinor + cost.TaxMinor)),
                ],
                null,
                cost.Reference,
                cost.Description is { } words ? $"{cost.Supplier}: {words}" : cost.Supplier
            );
    }

    /// <summary>One row for each posting; words that a spreadsheet would run are guarded, amounts are never below zero.</summary>
    private static IEnumerable<string?[]> Cells(Row row, Currency currency)
    {
        foreach (var (account, tax, minor) in row.Postings.Where(p => p.Minor != 0))
        {
            yield return
            [
                row.Day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
                row.Entry,
                row.Kind,
                account,
                Safe(tax),
                minor > 0 ? Major(minor) : null,
                minor < 0 ? Major(-minor) : null,
                currency.Code,
                row.Number,
                Safe(row.Reference),
                Safe(row.Description),
                row.At.UtcDateTime.ToString("yyyy-MM-ddTHH:mm:ss'Z'", CultureInfo.InvariantCulture),
            ];
        }

        string Major(long minor) =>
            ((decimal)minor / currency.MinorPerMajor).ToString("F" + currency.Exponent, CultureInfo.InvariantCulture);

        string? Safe(string? text) => text is null ? null : CsvText.Guard(text);
    }

    private static string Camel(string word) => JsonNamingPolicy.CamelCase.ConvertName(word);

    private sealed record Row(
        DateOnly Day,
        DateTimeOffset At,
        string Entry,
        string Kind,
        IReadOnlyList<(string Account, string? Tax, long Minor)> Postings,
        string? Number,
        string? Reference,
        string Description
    );
}
