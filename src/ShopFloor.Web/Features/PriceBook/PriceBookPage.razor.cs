using System.Globalization;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Features.Quotes;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>The current price book, to read.</summary>
public partial class PriceBookPage(GetPriceBook get)
{
    private Book? book;

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await get.RunAsync(Actor, Closing);
        book = outcome.IsSuccess ? outcome.Value : null;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "priceBook";

    private string Money(long minor) => QuoteWords.Money(minor, book!.CurrencyCode);

    private string Taxes(IReadOnlyList<string> codes) =>
        codes.Count == 0 ? "none" : string.Join(", ", codes.Select(c => book!.Taxes.First(t => t.Code == c).Title));

    private string Factors(Answer answer) =>
        answer.Factors.Count == 0
            ? "–"
            : string.Join(
                "; ",
                answer.Factors.Select(f => $"{book!.FindStandard(f.StandardCode)!.Title} × {Plain(f.Multiplier)}")
            );

    private static string Plain(decimal value) => value.ToString("0.####", CultureInfo.CurrentCulture);
}
