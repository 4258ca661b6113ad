using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>A tax at one rate in a period.</summary>
/// <param name="TaxableMinor">Invoiced less credited, without tax.</param>
/// <param name="TaxMinor">Invoiced less credited.</param>
public sealed record TaxRow(
    string Code,
    string Title,
    decimal RatePercent,
    long InvoicedTaxableMinor,
    long InvoicedTaxMinor,
    long CreditedTaxableMinor,
    long CreditedTaxMinor,
    long TaxableMinor,
    long TaxMinor
);

/// <summary>An invoice or credit note of the period.</summary>
/// <param name="TotalMinor">With tax; below zero for credit notes.</param>
public sealed record IssuedRow(
    InvoiceId Id,
    string Number,
    InvoiceKind Kind,
    DateOnly IssuedOn,
    JobId JobId,
    string? CreditsNumber,
    long TaxMinor,
    long TotalMinor
);

/// <summary>What was invoiced and credited in a period, by tax and rate. Counted by the day of issue.</summary>
/// <param name="UntaxedMinor">Lines without tax, invoiced less credited.</param>
/// <param name="TotalMinor">Invoices less credit notes, tax included.</param>
/// <param name="Papers">In the order of issue.</param>
public sealed record TaxReport(
    DateOnly From,
    DateOnly To,
    string Currency,
    int InvoiceCount,
    int CreditNoteCount,
    IReadOnlyList<TaxRow> Taxes,
    long UntaxedMinor,
    long TaxMinor,
    long TotalMinor,
    IReadOnlyList<IssuedRow> Papers
);

public sealed class GetTaxReport(QueryRunner runner) : IUseCase
{
    public Task<Outcome<TaxReport>> RunAsync(DateOnly? from, DateOnly? to, Actor actor, CancellationToken ct) =>
        runner.RunAsync<TaxReport>(
            Permission.SeeFigures,
            actor,
            async db =>
            {
                if (!Period.Read(from, to).TryGet(out var period, out var failure))
                {
                    return failure;
                }

                var papers = await db.Set<Invoice>()
                    .Where(i => i.IssuedOn >= period.From && i.IssuedOn <= period.To)
                    .ToListAsync(ct);
                return Of(period, papers, (await db.Shops.SingleAsync(ct)).Currency.Code);
            },
            ct
        );

    private static TaxReport Of(Period period, List<Invoice> papers, string currency)
    {
        var taxes = papers
            .SelectMany(p => p.Content.Taxes.Select(t => (p.IsCredit, Tax: t)))
            .GroupBy(t => (t.Tax.Code, t.Tax.RatePercent))
            .OrderBy(g => g.Key.Code, StringComparer.Ordinal)
            .ThenBy(g => g.Key.RatePercent)
            .Select(g =>
            {
                var invoiced = g.Where(t => !t.IsCredit).Select(t => t.Tax).ToList();
                var credited = g.Where(t => t.IsCredit).Select(t => t.Tax).ToList();
                return new TaxRow(
                    g.Key.Code,
                    g.First().Tax.Title,
                    g.Key.RatePercent,
                    invoiced.Sum(t => t.TaxableMinor),
                    invoiced.Sum(t => t.TaxMinor),
                    credited.Sum(t => t.TaxableMinor),
                    credited.Sum(t => t.TaxMinor),
                    invoiced.Sum(t => t.TaxableMinor) - credited.Sum(t => t.TaxableMinor),
                    invoiced.Sum(t => t.TaxMinor) - credited.Sum(t => t.TaxMinor)
                );
            })
            .ToList();
        return new TaxReport(
            period.From,
            period.To,
            currency,
            papers.Count(p => !p.IsCredit),
            papers.Count(p => p.IsCredit),
            taxes,
            papers.Sum(p => p.Sign * p.Content.Lines.Where(l => l.TaxCodes.Count == 0).Sum(l => l.AmountMinor)),
            taxes.Sum(t => t.TaxMinor),
            papers.Sum(p => p.Sign * p.TotalMinor),
            [
                .. InvoicePapers
                    .InOrder(papers)
                    .Select(p => new IssuedRow(
                        p.Id,
                        p.Number,
                        p.Kind,
                        p.IssuedOn,
                        p.JobId,
                        p.CreditsNumber,
                        p.Sign * p.Content.TaxMinor,
                        p.Sign * p.TotalMinor
                    )),
            ]
        );
    }
}
