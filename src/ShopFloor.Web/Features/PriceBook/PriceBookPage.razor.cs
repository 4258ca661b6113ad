using System.Globalization;
using Microsoft.AspNetCore.Components.Forms;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Features.Quotes;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>The current price book, to read.</summary>
public partial class PriceBookPage(GetPriceBook get, AdoptPriceBook adopt)
{
    private Book? book;
    private IReadOnlyList<FieldError> problems = [];
    private bool isBusy;

    private bool MayAdopt => Actor?.May(Permission.RunShop) == true;

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await get.RunAsync(Actor, Closing);
        book = outcome.IsSuccess ? outcome.Value : null;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "priceBook";

    private Task AdoptStarterAsync() => AdoptAsync(null);

    private async Task AdoptFileAsync(InputFileChangeEventArgs chosen)
    {
        problems = [];
        if (chosen.File.Size > PriceBookFile.LargestBytes)
        {
            problems =
            [
                new("", $"The file has {chosen.File.Size} bytes; at most {PriceBookFile.LargestBytes} are read."),
            ];
            return;
        }

        using var reader = new StreamReader(chosen.File.OpenReadStream(PriceBookFile.LargestBytes, Closing));
        if (PriceBookFile.Read(await reader.ReadToEndAsync(Closing)).TryGet(out var changed, out var failure))
        {
            await AdoptAsync(changed);
        }
        else
        {
            problems = ProblemsOf(failure);
        }
    }

    private async Task AdoptAsync(Book? changed)
    {
        isBusy = true;
        var outcome = await adopt.RunAsync(new AdoptPriceBook.Request(changed), Envelope(), Closing);
        isBusy = false;
        if (outcome.TryGet(out var adopted, out var failure))
        {
            Snackbar.Add($"Edition {adopted.Edition} is in use.", MudBlazor.Severity.Success);
            await ReloadAsync();
        }
        else
        {
            problems = ProblemsOf(failure);
        }
    }

    private static IReadOnlyList<FieldError> ProblemsOf(Failure failure) =>
        failure is Failure.Invalid invalid ? invalid.Errors : [new("", failure.Sentence)];

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
