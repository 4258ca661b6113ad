using ShopFloor.Application.Common;
using ShopFloor.Application.Stock;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Web.Features.Stock;

/// <summary>What the shop keeps in store.</summary>
public partial class StockListPage(ReadStock read, KeepStockItems keep, KeepSuppliers keepSuppliers)
{
    private Page<StockItemView>? list;
    private StockValue? value;
    private IReadOnlyList<SupplierView> suppliers = [];
    private StockItemForm? form;
    private string? search;
    private string? label;
    private StockKind? kind;
    private bool isRetiredToo;
    private int page = 1;

    protected override async Task<Failure?> ReadAsync()
    {
        var wanted = new PageRequest(page, PageRequest.DefaultSize);
        var filter = new ReadStock.Filter(kind, search, isRetiredToo);
        if (!(await read.ListAsync(filter, wanted, Actor, Closing)).TryGet(out var found, out var failure))
        {
            return failure;
        }

        list = found;
        if (MayBuy)
        {
            value = (await read.ValueAsync(Actor, Closing)).Match<StockValue?>(v => v, _ => null);
            suppliers = (await keepSuppliers.ListAsync(Actor, Closing)).Match(s => s, _ => []);
        }

        return null;
    }

    private async Task SearchAsync(string? text)
    {
        (search, page) = (string.IsNullOrWhiteSpace(text) ? null : text, 1);
        await ReloadAsync();
    }

    private async Task TurnAsync(int to)
    {
        page = to;
        await ReloadAsync();
    }

    private async Task AddAsync(StockItem.Details details)
    {
        if (await DoAsync(() => keep.AddAsync(details, Envelope(NewKey()), Closing), $"{details.Code} is added."))
        {
            form?.Clear();
        }
    }

    private async Task FindLotAsync()
    {
        if (Accepted(await read.FindLotAsync(label, Actor, Closing), out var lot))
        {
            Navigation.NavigateTo($"stock/lots/{lot}");
        }
    }
}
