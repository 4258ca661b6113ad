using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>The price book in force, and what is to come.</summary>
public partial class PriceBookPage(GetPriceBook get, ReadEditions read, AdoptPriceBook adopt)
{
    private Book? book;
    private IReadOnlyList<EditionRow> editions = [];
    private bool isBusy;

    private bool MayAdopt => Actor?.May(Permission.RunShop) == true;

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await get.RunAsync(Actor, Closing);
        book = outcome.IsSuccess ? outcome.Value : null;
        var list = await read.ListAsync(PageRequest.First, Actor, Closing);
        editions = list.IsSuccess ? list.Value.Editions : [];
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Type == "priceBook.adopted";

    private async Task AdoptStarterAsync()
    {
        isBusy = true;
        var outcome = await adopt.RunAsync(new AdoptPriceBook.Request(null), Envelope(), Closing);
        isBusy = false;
        if (Accepted(outcome, out var adopted))
        {
            Snackbar.Add($"Edition {adopted.Edition} is in force.", MudBlazor.Severity.Success);
            await ReloadAsync();
        }
    }
}
