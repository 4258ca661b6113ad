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
        CheckPrices(book, errors);
        CheckStandards(book, errors);
        CheckQuestions(book, errors);
        CheckMaterials(book, errors);
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
        TotalsRules.CheckPercent(book.DepositPercent, "depositPercent", "The deposit", errors);
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
        for (var i = 0; i < book.Taxes.Count; i++)
        {
            TotalsRules.CheckPercent(book.Taxes[i].RatePercent, $"taxes[{i}].ratePercent", "The rate", errors);
        }
    }

    private static void CheckCodes(
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

    private static void CheckPrices(PriceBook book, FieldErrors errors)
    {
        var priced = book
            .Kits.Select((k, i) => ($"kits[{i}].", "priceMinor", k.PriceMinor, k.TaxCodes))
            .Concat(book.HingeOptions.Select((h, i) => ($"hingeOptions[{i}].", "priceMinor", h.PriceMinor, h.TaxCodes)))
            .Concat(book.Skills.Select((s, i) => ($"skills[{i}].", "rateMinorPerHour", s.RateMinorPerHour, s.TaxCodes)))
            .Concat(book.Materials.Select((m, i) => ($"materials[{i}].", "priceMinor", m.PriceMinor, m.TaxCodes)));
        if (book.Freight is { } freight)
        {
            priced = priced.Append(("freight.", "priceMinor", freight.PriceMinor, freight.TaxCodes));
        }

        var taxes = book.Taxes.Select(t => t.Code).ToHashSet(StringComparer.Ordinal);
        foreach (var (path, field, minor, codes) in priced)
        {
            TotalsRules.CheckAmount(minor, path + field, "The price", errors);
            errors.AddIf(
                codes.Any(c => !taxes.Contains(c)) || codes.Distinct(StringComparer.Ordinal).Count() != codes.Count,
                path + "taxCodes",
                "Each tax code must be in the book's list of taxes, and be named once."
            );
        }
    }

    private static void CheckStandards(PriceBook book, FieldErrors errors)
    {
        for (var i = 0; i < book.Standards.Count; i++)
        {
            var s = book.Standards[i];
            TextRules.Required(s.Unit, $"standards[{i}].unit", "The unit", TextRules.Code, errors);
            errors.AddIf(
                s.LowMinutes < 0
                    || s.LikelyMinutes < s.LowMinutes
                    || s.HighMinutes < s.LikelyMinutes
                    || s.HighMinutes is <= 0 or > 100_000,
                $"standards[{i}]",
                "Minutes must rise from low over likely to high, the high ones over 0 and at most 100,000."
            );
        }
    }

    private static void CheckQuestions(PriceBook book, FieldErrors errors)
    {
        for (var i = 0; i < book.Questions.Count; i++)
        {
            var question = book.Questions[i];
            var path = $"questions[{i}]";
            CheckCodes(question.Answers.Select(a => (a.Code, a.Title)), path + ".answers", 1, errors);
            errors.AddIf(
                question.Answers.All(a => a.Code != question.Default),
                path + ".default",
                $"The default '{question.Default}' is none of the question's answers."
            );
            var factors = question.Answers.SelectMany((a, j) => a.Factors.Select(f => (f, j)));
            foreach (var (factor, j) in factors)
            {
                errors.AddIf(
                    book.FindStandard(factor.StandardCode) is null || factor.Multiplier is < 0.1m or > 10,
                    $"{path}.answers[{j}].factors",
                    "A factor names a labour standard of the book and multiplies it by 0.1 to 10."
                );
            }
        }
    }

    private static void CheckMaterials(PriceBook book, FieldErrors errors)
    {
        for (var i = 0; i < book.Materials.Count; i++)
        {
            var material = book.Materials[i];
            errors.AddIf(
                material.StandardCodes.Count == 0 || material.StandardCodes.Any(c => book.FindStandard(c) is null),
                $"materials[{i}].standardCodes",
                "A material names the labour standards whose work content it goes with."
            );
            errors.AddIf(
                material.ContentPerUnit is < 0.001m or > 1_000_000,
                $"materials[{i}].contentPerUnit",
                "Work content in one priced unit is from 0.001 to 1,000,000."
            );
        }
    }
}
