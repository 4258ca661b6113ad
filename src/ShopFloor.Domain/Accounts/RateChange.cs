using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Accounts;

/// <summary>A tax that was agreed at one rate and has another in the price book now. An invoice charges what was agreed; which rate is due is decided by the law's tax point, so people are told and the program changes nothing by itself.</summary>
/// <param name="AgreedPercent">As in the accepted quote or an approved change.</param>
/// <param name="PresentPercent">As in the book on the day; null where it is no longer charged.</param>
public sealed record RateChange(string Title, decimal AgreedPercent, decimal? PresentPercent)
{
    /// <summary>For the person who writes the invoice.</summary>
    public string Sentence =>
        $"{Title} was agreed at {PlainFigures.Number(AgreedPercent)} %, and the price book now "
        + (PresentPercent is { } present ? $"has {PlainFigures.Number(present)} %." : "no longer charges it.");

    /// <summary>The agreed taxes whose rates differ from the book's on a day, each once; a tax that the book does not know counts as no longer charged.</summary>
    public static IReadOnlyList<RateChange> Of(IEnumerable<QuotedTax> agreed, PriceBook book, DateOnly day)
    {
        ArgumentNullException.ThrowIfNull(agreed);
        ArgumentNullException.ThrowIfNull(book);
        return
        [
            .. agreed
                .Select(t => new RateChange(
                    t.Title,
                    t.RatePercent,
                    book.FindTax(InvoiceContent.BookCodeOf(t))?.RateOn(day)
                ))
                .Where(c => c.AgreedPercent != c.PresentPercent)
                .Distinct(),
        ];
    }
}
