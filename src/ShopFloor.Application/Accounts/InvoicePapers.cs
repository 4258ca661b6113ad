using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Accounts;

/// <summary>What issuing an invoice and writing a credit note share.</summary>
internal static class InvoicePapers
{
    /// <summary>Invoices and credit notes of a job in the order of issue.</summary>
    public static async Task<List<Invoice>> OfJobAsync(ShopDbContext db, JobId job, CancellationToken ct) =>
        InOrder(await db.Set<Invoice>().Where(i => i.JobId == job).ToListAsync(ct));

    /// <summary>By time of issue; in one instant an invoice comes before the note that takes it back.</summary>
    public static List<Invoice> InOrder(IEnumerable<Invoice> papers) =>
        [.. papers.OrderBy(i => i.IssuedAt).ThenBy(i => i.IsCredit).ThenBy(i => i.Number, StringComparer.Ordinal)];

    /// <summary>The stamp of the next paper of a series: takes its number.</summary>
    /// <param name="series">I for invoices, C for credit notes.</param>
    public static async Task<InvoiceStamp> StampAsync(
        CommandScope scope,
        JobAccount account,
        string series,
        DateOnly? suppliedOn = null
    )
    {
        var shop = await scope.ShopAsync();
        var today = shop.LocalDay(scope.Now);
        var customer = await scope
            .Db.Set<Customer>()
            .AsNoTracking()
            .SingleAsync(c => c.Id == account.CustomerId, scope.Cancellation);
        return new InvoiceStamp(
            scope.NewId<InvoiceId>(),
            await scope.NextNumberAsync(series),
            string.Join(", ", account.Charges.OrderBy(c => c.Number).Select(c => c.Reference)),
            suppliedOn ?? today,
            Parties(shop, customer),
            JobAccounts.Stamp(scope, today)
        );
    }

    /// <summary>What an invoice written now would not say and a tax invoice must.</summary>
    public static async Task<IReadOnlyList<string>> LacksAsync(
        ShopDbContext db,
        JobAccount account,
        CancellationToken ct
    )
    {
        var seller = await db.Shops.AsNoTracking().SingleAsync(ct);
        var customer = await db.Set<Customer>().AsNoTracking().SingleAsync(c => c.Id == account.CustomerId, ct);
        var lacks = new List<string>();
        if (seller.Address.Length == 0)
        {
            lacks.Add("The shop's address is missing; the owner fills it in under Settings.");
        }

        if (seller.TaxRegistration is null && account.Charges.Any(c => c.Counted.TaxMinor > 0))
        {
            lacks.Add(
                "The shop's tax registration is missing although tax is charged; the owner fills it in under Settings."
            );
        }

        if ((customer.Payer?.AddressLines ?? customer.AddressLines).Count == 0)
        {
            lacks.Add($"The address of {customer.BillTo} is missing; fill it in on the customer's page.");
        }

        return lacks;
    }

    /// <summary>Taxes of what is agreed whose rates in the price book are others today.</summary>
    public static async Task<IReadOnlyList<RateChange>> RateChangesAsync(
        ShopDbContext db,
        JobAccount account,
        DateOnly today,
        CancellationToken ct
    ) =>
        await PriceBooks.InForceAsync(db, today, ct) is { } edition
            ? RateChange.Of(account.Charges.SelectMany(c => c.Content.Taxes), edition.Book, today)
            : [];

    /// <summary>Keeps an issued paper and remembers it in the history.</summary>
    public static void Add(CommandScope scope, JobAccount account, Invoice paper)
    {
        scope.Db.Add(paper);
        scope.Record(
            new EventDraft(
                paper.IsCredit ? "invoice.credited" : "invoice.issued",
                "invoice",
                paper.Id.Value,
                account.Id,
                After: new
                {
                    paper.Number,
                    paper.Kind,
                    paper.CreditsNumber,
                    paper.TotalMinor,
                    Currency = account.Currency.Code,
                    paper.ContentHash,
                }
            )
        );
    }

    private static InvoiceParties Parties(Shop shop, Customer customer) =>
        new(
            new InvoiceParty(shop.LegalName, Lines(shop.Address), shop.TaxRegistration),
            customer.Payer is { } payer
                ? new InvoiceParty(payer.Name, payer.AddressLines, payer.TaxNumber)
                : new InvoiceParty(customer.Name, customer.AddressLines, customer.TaxNumber),
            customer.TaxExemption,
            Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16))
        );

    private static string[] Lines(string text) =>
        text.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
}
