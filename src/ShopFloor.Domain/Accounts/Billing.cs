using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Accounts;

/// <summary>How much of what is left is wanted: one of the three, or nothing for all of it.</summary>
/// <param name="Percent">Over 0 to 100, up to 4 decimals, of what is left.</param>
/// <param name="AmountMinor">Total with tax, over 0 and at most what is left.</param>
/// <param name="LineKeys">Keys of lines, each taken with all that is left of it.</param>
public sealed record BillPart(decimal? Percent = null, long? AmountMinor = null, IReadOnlyList<string>? LineKeys = null)
{
    public static readonly BillPart All = new();
}

/// <summary>An agreed line with what was invoiced of it.</summary>
/// <param name="InvoicedMinor">Before tax where prices are without; credit notes taken off.</param>
public sealed record BilledLine(InvoiceLine Line, long InvoicedMinor)
{
    public long LeftMinor => Line.AmountMinor - InvoicedMinor;

    /// <summary>More was invoiced than agreed; of a reduction, which lies below zero, less.</summary>
    public bool IsOverInvoiced =>
        Line.AmountMinor >= 0 ? LeftMinor < 0 : InvoicedMinor > 0 || InvoicedMinor < Line.AmountMinor;
}

/// <summary>What of a job is agreed, invoiced and credited, and what the next paper may hold. Derived from the papers each time; nothing is stored.</summary>
public sealed class Billing
{
    private readonly InvoiceContent agreed;
    private readonly IReadOnlyList<Invoice> papers;
    private readonly Taken invoiced;

    private Billing(InvoiceContent agreed, IReadOnlyList<Invoice> papers)
    {
        this.agreed = agreed;
        this.papers = papers;
        invoiced = Taken.Of(papers.Select(p => (p.Content, p.Sign)));
    }

    public static Billing Of(JobAccount account, IReadOnlyList<Invoice> papers)
    {
        ArgumentNullException.ThrowIfNull(account);
        return new Billing(
            InvoiceContent.Join([.. account.Charges.OrderBy(c => c.Number).Select(c => c.Counted)]),
            papers
        );
    }

    public IReadOnlyList<BilledLine> Lines => [.. agreed.Lines.Select(l => new BilledLine(l, invoiced.Of(l.Key)))];

    /// <summary>Total of what is not invoiced, tax included.</summary>
    public long LeftMinor => agreed.TotalMinor - papers.Sum(p => p.Sign * p.TotalMinor);

    /// <summary>Content and kind of the next invoice.</summary>
    public Outcome<(InvoiceContent Content, InvoiceKind Kind)> Next(BillPart part)
    {
        var portions = new Portions(agreed, invoiced);
        var rest = portions.Rest();
        var isFirst = invoiced.IsNothing;
        if (rest.TotalMinor <= 0 && !(isFirst && rest.Lines.Count > 0))
        {
            return Failure.Because(
                "invoiced",
                "All that is agreed on this job is invoiced already"
                    + (papers.LastOrDefault(p => !p.IsCredit) is { } last ? $" (last by {last.Number})." : ".")
            );
        }

        return Cut(portions, agreed, rest, part, "is left to be invoiced")
            .Then<(InvoiceContent, InvoiceKind)>(content =>
                content.TotalMinor > rest.TotalMinor
                    ? Failure.Field(
                        part.LineKeys is null ? "percent" : "lines",
                        $"A reduction was agreed meanwhile: {new Money(rest.TotalMinor, Currency.Of(rest.CurrencyCode))} is left, less than this part. Invoice all that is left, or an amount up to it."
                    )
                    : (
                        content,
                        content.TotalMinor != rest.TotalMinor || content.Lines.Count != rest.Lines.Count
                            ? InvoiceKind.Part
                        : isFirst ? InvoiceKind.Whole
                        : InvoiceKind.Final
                    )
            );
    }

    /// <summary>Content of a credit note for a part of an invoice, or for all that was not credited yet.</summary>
    public Outcome<InvoiceContent> Credit(Invoice invoice, BillPart part)
    {
        ArgumentNullException.ThrowIfNull(invoice);
        if (invoice.IsCredit)
        {
            return Failure.Because("credited", $"{invoice.Number} is a credit note; only invoices are credited.");
        }

        var portions = new Portions(invoice.Content, CreditedOf(invoice));
        var rest = portions.Rest();
        return rest.TotalMinor <= 0
            ? Failure.Because("credited", $"All of {invoice.Number} was credited already.")
            : Cut(portions, invoice.Content, rest, part, $"of {invoice.Number} is not credited yet");
    }

    /// <summary>Total of an invoice that was not credited.</summary>
    public long LeftOf(Invoice invoice) =>
        invoice.TotalMinor - papers.Where(p => p.Credits == invoice.Id).Sum(p => p.TotalMinor);

    /// <summary>What was invoiced but is no longer agreed, as contents of credit notes, the newest invoice first; empty where there is nothing of the kind.</summary>
    public IReadOnlyList<(Invoice Invoice, InvoiceContent Content)> Excess()
    {
        var tooMuch = agreed
            .Lines.Select(l => (l.Key, Minor: invoiced.Of(l.Key) - l.AmountMinor))
            .Concat(
                papers
                    .SelectMany(p => p.Content.Lines)
                    .Select(l => l.Key)
                    .Distinct()
                    .Where(k => !agreed.Lines.Any(l => l.Key == k))
                    .Select(k => (Key: k, Minor: invoiced.Of(k)))
            )
            .Where(l => l.Minor > 0)
            .ToDictionary(l => l.Key, l => l.Minor);
        var credits = new List<(Invoice Invoice, InvoiceContent Content)>();
        foreach (var invoice in papers.Where(p => !p.IsCredit).Reverse())
        {
            var credited = CreditedOf(invoice);
            var amounts = invoice
                .Content.Lines.Where(l => tooMuch.GetValueOrDefault(l.Key) > 0)
                .ToDictionary(l => l.Key, l => Math.Min(tooMuch[l.Key], l.AmountMinor - credited.Of(l.Key)));
            foreach (var (key, minor) in amounts)
            {
                tooMuch[key] -= minor;
            }

            if (amounts.Values.Any(a => a > 0))
            {
                credits.Add((invoice, new Portions(invoice.Content, credited).Of(amounts)));
            }
        }

        return WithExactTax(credits);
    }

    private Taken CreditedOf(Invoice invoice) =>
        Taken.Of(papers.Where(p => p.Credits == invoice.Id).Select(p => (p.Content, 1)));

    /// <summary>Where a tax's base is then invoiced to the last unit, its tax is so too: the credit notes take the unit that rounding left.</summary>
    private List<(Invoice Invoice, InvoiceContent Content)> WithExactTax(
        List<(Invoice Invoice, InvoiceContent Content)> credits
    )
    {
        foreach (var code in credits.SelectMany(c => c.Content.Taxes).Select(t => t.Code).Distinct().ToList())
        {
            var after = Taken.Of(papers.Select(p => (p.Content, p.Sign)).Concat(credits.Select(c => (c.Content, -1))));
            var carrying = agreed.Lines.Where(l => l.TaxCodes.Contains(code)).ToList();
            var wanted = agreed.Taxes.SingleOrDefault(t => t.Code == code)?.TaxMinor ?? 0;
            var over = after.OfTax(code).Tax - wanted;
            if (carrying.Exists(l => after.Of(l.Key) != l.AmountMinor))
            {
                // More follows: the rest's tax must only not fall below nothing.
                over = Math.Max(0, over);
            }

            for (var i = 0; i < credits.Count && over != 0; i++)
            {
                var (invoice, content) = credits[i];
                if (agreed.PricesIncludeTax && IsRestOf(invoice, content))
                {
                    // The total does not depend on it, and an invoice that is taken back whole leaves no tax behind.
                    continue;
                }

                var most =
                    (invoice.Content.Taxes.SingleOrDefault(t => t.Code == code)?.TaxMinor ?? 0)
                    - CreditedOf(invoice).OfTax(code).Tax;
                credits[i] = (invoice, Shift(content, code, over, most, out var done));
                over -= done;
            }
        }

        return credits;
    }

    private bool IsRestOf(Invoice invoice, InvoiceContent content) => LeftOf(invoice) == content.TotalMinor;

    private static InvoiceContent Shift(InvoiceContent content, string code, long by, long most, out long done)
    {
        var taxes = content.Taxes.ToList();
        var at = taxes.FindIndex(t => t.Code == code);
        done = at < 0 ? 0 : Math.Clamp(taxes[at].TaxMinor + by, 0, most) - taxes[at].TaxMinor;
        if (done == 0)
        {
            return content;
        }

        taxes[at] = taxes[at] with
        {
            TaxMinor = taxes[at].TaxMinor + done,
            TaxableMinor = taxes[at].TaxableMinor - (content.PricesIncludeTax ? done : 0),
        };
        return InvoiceContent.Sum(content.CurrencyCode, content.PricesIncludeTax, content.Lines, taxes);
    }

    private static Outcome<InvoiceContent> Cut(
        Portions portions,
        InvoiceContent whole,
        InvoiceContent rest,
        BillPart part,
        string whatIsLeft
    )
    {
        var ways =
            (part.Percent is null ? 0 : 1) + (part.AmountMinor is null ? 0 : 1) + (part.LineKeys is null ? 0 : 1);
        if (ways > 1)
        {
            return Failure.Field("percent", "Give a percentage, an amount or lines: one of them, not several.");
        }

        return part switch
        {
            { Percent: { } percent } => OfPercent(portions, percent),
            { AmountMinor: { } amount } => OfAmount(portions, rest, amount, whatIsLeft),
            { LineKeys: { } keys } => OfLines(portions, whole, keys),
            _ => rest,
        };
    }

    private static Outcome<InvoiceContent> OfPercent(Portions portions, decimal percent)
    {
        var errors = new FieldErrors();
        TotalsRules.CheckPercent(percent, "percent", "The percentage", errors);
        errors.AddIf(percent == 0, "percent", "0 % is nothing; give a percentage over 0.");
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var content = portions.OfPercent(percent);
        return content.TotalMinor > 0
            ? content
            : Failure.Field(
                "percent",
                $"{percent.ToString(CultureInfo.InvariantCulture)} % of what is left is less than the smallest coin; give more."
            );
    }

    private static Outcome<InvoiceContent> OfAmount(
        Portions portions,
        InvoiceContent rest,
        long amount,
        string whatIsLeft
    )
    {
        var currency = Currency.Of(rest.CurrencyCode);
        if (amount <= 0 || amount > rest.TotalMinor)
        {
            var left = new Money(rest.TotalMinor, currency);
            return Failure.Field(
                "amountMinor",
                amount <= 0
                    ? "The amount must be over 0."
                    : $"{new Money(amount, currency)} is too much: {left} {whatIsLeft}."
            );
        }

        return amount == rest.TotalMinor ? rest
            : portions.OfTotal(amount) is { } content ? content
            : Failure.Field(
                "amountMinor",
                "With its taxes rounded, no part comes to exactly this amount; give one unit more or less."
            );
    }

    private static Outcome<InvoiceContent> OfLines(Portions portions, InvoiceContent whole, IReadOnlyList<string> keys)
    {
        var errors = new FieldErrors();
        errors.AddIf(keys.Count == 0, "lines", "Choose at least one line.");
        errors.AddIf(keys.Count > TotalsRules.MostLines, "lines", "These are too many lines.");
        for (var i = 0; i < keys.Count && !errors.Any; i++)
        {
            var line = whole.Lines.FirstOrDefault(l => l.Key == keys[i]);
            errors.AddIf(line is null, $"lines[{i}]", $"There is no line '{keys[i]}' here.");
            errors.AddIf(
                line is not null && portions.Left(line) <= 0,
                $"lines[{i}]",
                $"Nothing is left of '{line?.Description}'."
            );
        }

        return errors.Any ? errors.ToFailure() : portions.Of(keys.ToHashSet(StringComparer.Ordinal));
    }
}
