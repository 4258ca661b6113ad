using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Stock;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Stock;

/// <summary>One item: how it stands, its lots, what is set aside, what happened.</summary>
public partial class StockItemPage(
    ReadStock read,
    KeepStockItems keep,
    KeepSuppliers keepSuppliers,
    ReceiveStock receive
)
{
    private StockItemDetail? detail;
    private Page<StockMovementView>? movements;
    private IReadOnlyList<SupplierView> suppliers = [];
    private TypedFields? typed;
    private decimal? foundPieces;
    private decimal? foundLength;
    private string? foundMark;
    private string? foundPlace;
    private int page = 1;

    [Parameter]
    public Guid Id { get; set; }

    protected override Guid? Subject => Id;

    private string LabelsLink =>
        "stock/labels/pdf?" + string.Join('&', detail!.Lots.Take(PrintStock.MostLabels).Select(l => $"lot={l.Id}"));

    protected override async Task<Failure?> ReadAsync()
    {
        var id = StockItemId.From(Id);
        if (!(await read.ItemAsync(id, Actor, Closing)).TryGet(out var found, out var failure))
        {
            return failure;
        }

        var wanted = new PageRequest(page, 20);
        if (!(await read.MovementsAsync(id, wanted, Actor, Closing)).TryGet(out movements, out failure))
        {
            return failure;
        }

        detail = found;
        if (MayBuy)
        {
            suppliers = (await keepSuppliers.ListAsync(Actor, Closing)).Match(s => s, _ => []);
        }

        return null;
    }

    private string? Say(string path) => Errors.FirstOrDefault(e => e.Path == path)?.Text;

    private async Task TurnAsync(int to)
    {
        page = to;
        await ReloadAsync();
    }

    private async Task FoundAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        var request = new ReceiveStock.Request(Id, foundPieces, foundLength, foundMark, foundPlace);
        if (
            await DoAsync(
                () => receive.FoundAsync(request, Envelope(NewKey()), Closing),
                "Written down. Print its label and put it on."
            )
        )
        {
            (foundPieces, foundLength, foundMark) = (null, null, null);
        }
    }

    private Task<bool> ChangeAsync(StockItem.Details details) =>
        DoAsync(
            () => keep.ChangeAsync(StockItemId.From(Id), details, Envelope(NewKey(), detail!.Item.Version), Closing),
            "Saved."
        );

    private Task<bool> RetireAsync() =>
        DoAsync(
            () =>
                keep.RetireAsync(
                    StockItemId.From(Id),
                    !detail!.Item.IsRetired,
                    Envelope(NewKey(), detail.Item.Version),
                    Closing
                ),
            detail!.Item.IsRetired ? "It is on the lists again." : "It is on no list any more."
        );
}
