using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Quoting;

/// <summary>What a price book must satisfy before the shop adopts it: every code known, every figure in range.</summary>
public static class PriceBookRules
{
    public const int MostEntries = 200;
    private static readonly int[] Confidences = [50, 80, 85, 90, 95];

    public static Outcome<PriceBook> Check(PriceBook book)
    {
        ArgumentNullException.ThrowIfNull(book);
        var errors = new FieldErrors();
        CheckTerms(book, errors);
        CheckCodes(book.Uses.Select(u => (u.Code, u.Title)), "uses", 1, errors);
        CheckCodes(book.Kits.Select(k => (k.Code, k.Title)), "kits", 1, errors);
        CheckCodes(book.HingeOptions.Select(h => (h.Code, h.Title)), "hingeOptions", 0, errors);
        CheckCodes(book.Skills.Select(s => (s.Code, s.Title)), "skills", 1, errors);
        CheckCodes(book.Standards.Select(s => (s.Code, s.Title)), "standards", 1, errors);
        CheckCodes(book.Questions.Select(q => (q.Code, q.Title)), "questions", 0, errors);
        CheckCodes(book.Materials.Select(m => (m.Code, m.Title)), "materials", 0, errors);
        CheckCodes(book.Taxes.Select(t => (t.Code, t.Title)), "taxes", 0, errors);
        CheckCodes(book.OutsideWork.Select(o => (o.Code, o.Title)), "outsideWork", 0, errors);
        if (!errors.Any)
        {
            CheckPrices(book, errors);
            KitRules.Check(book, errors);
            LabourRules.Check(book, errors);
            ChargeRules.Check(book, errors);
        }

        return errors.Any ? errors.ToFailure() : book;
    }

    private static void CheckTerms(PriceBook book, FieldErrors errors)
    {
        TextRules.Required(book.Title, "title", "The title", TextRules.Name, errors);
        errors.AddIf(
            !Currency.TryParse(book.CurrencyCode, out _),
            "currencyCode",
            $"'{book.CurrencyCode}' is no currency code in use; give three capitals such as EUR."
        );
        TotalsRules.CheckPercent(book.Deposit.Percent, "deposit.percent", "The deposit", errors);
        TotalsRules.CheckAmount(book.Deposit.LeastMinor, "deposit.leastMinor", "The least deposit", errors);
        TotalsRules.CheckPercent(book.MarginTargetPercent, "marginTargetPercent", "The margin aimed at", errors);
        errors.AddIf(book.ValidityDays is < 1 or > 365, "validityDays", "Quotes are valid for 1 to 365 days.");
        errors.AddIf(book.PromiseDays is < 1 or > 730, "promiseDays", "The usual promise is 1 to 730 days ahead.");
        errors.AddIf(
            book.WholeCarSpread is < 0 or > 1,
            "wholeCarSpread",
            "The whole-car spread is a fraction of the hours, from 0 to 1."
        );
        errors.AddIf(
            !Confidences.Contains(book.ConfidencePercent),
            "confidencePercent",
            $"The shop prices at {string.Join(", ", Confidences)} % confidence; {book.ConfidencePercent} is none of them."
        );
    }

    internal static void CheckCodes(
        IEnumerable<(string Code, string Title)> entries,
        string path,
        int least,
        FieldErrors errors
    )
    {
        var list = entries.ToList();
        errors.AddIf(list.Count < least, path, $"A price book needs at least {least} entry in '{path}'.");
        errors.AddIf(list.Count > MostEntries, path, $"At most {MostEntries} entries are kept in '{path}'.");
        var seen = new HashSet<string>(StringComparer.Ordinal);
        for (var i = 0; i < list.Count && i < MostEntries; i++)
        {
            TextRules.Required(list[i].Code, $"{path}[{i}].code", "The code", TextRules.Code, errors);
            TextRules.Required(list[i].Title, $"{path}[{i}].title", "The title", TextRules.Name, errors);
            errors.AddIf(!seen.Add(list[i].Code), $"{path}[{i}].code", $"The code '{list[i].Code}' is used twice.");
        }
    }

    /// <summary>Every list has its maximum.</summary>
    internal static void CheckCount(int count, string path, FieldErrors errors) =>
        errors.AddIf(count > MostEntries, path, $"At most {MostEntries} entries are kept here.");

    private static void CheckPrices(PriceBook book, FieldErrors errors)
    {
        var taxes = book.Taxes.Select(t => t.Code).ToHashSet(StringComparer.Ordinal);
        foreach (var (path, field, minor, codes) in Priced(book))
        {
            TotalsRules.CheckAmount(minor, path + field, "The price", errors);
            errors.AddIf(
                codes.Any(c => !taxes.Contains(c)) || codes.Distinct(StringComparer.Ordinal).Count() != codes.Count,
                path + "taxCodes",
                "Each tax code must be in the book's list of taxes, and be named once."
            );
        }
    }

    private static IEnumerable<(string Path, string Field, long Minor, IReadOnlyList<string> TaxCodes)> Priced(
        PriceBook book
    )
    {
        var priced = book
            .Kits.Select((k, i) => ($"kits[{i}].", "priceMinor", k.PriceMinor, k.TaxCodes))
            .Concat(
                book.Kits.Select((k, i) => ($"kits[{i}].", "labourPriceMinor", k.LabourPriceMinor, k.LabourTaxCodes))
            )
            .Concat(book.HingeOptions.Select((h, i) => ($"hingeOptions[{i}].", "priceMinor", h.PriceMinor, h.TaxCodes)))
            .Concat(book.Skills.Select((s, i) => ($"skills[{i}].", "rateMinorPerHour", s.RateMinorPerHour, s.TaxCodes)))
            .Concat(book.Materials.Select((m, i) => ($"materials[{i}].", "priceMinor", m.PriceMinor, m.TaxCodes)))
            .Concat(book.OutsideWork.Select((o, i) => ($"outsideWork[{i}].", "priceMinor", o.PriceMinor, o.TaxCodes)));
        if (book.Freight is { } freight)
        {
            priced = priced.Append(("freight.", "priceMinor", 0, freight.TaxCodes));
        }

        return book.Minimum is { } minimum
            ? priced.Append(("minimum.", "priceMinor", minimum.PriceMinor, minimum.TaxCodes))
            : priced;
    }
}
