using ShopFloor.Application.Common;
using ShopFloor.Application.Stock;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Stock;

/// <summary>What falls below its level, by supplier, made into orders; and the orders there are.</summary>
public partial class BuyPage(ReadStock read, StockOrders stockOrders, KeepSuppliers keepSuppliers)
{
    private IReadOnlyList<ToBuyList> lists = [];
    private IReadOnlyList<SupplierView> suppliers = [];
    private IReadOnlyList<StockItemView> items = [];
    private Page<StockOrderView>? orders;
    private readonly List<Draft> drafts = [];
    private TypedFields? typed;
    private Draft? failing;
    private int page = 1;
    private int begun;

    /// <summary>An order being written.</summary>
    private sealed class Draft
    {
        public string Key { get; init; } = "";
        public string Title { get; init; } = "";
        public string Supplier { get; set; } = "";
        public DateOnly? Day { get; set; }
        public List<DraftLine> Lines { get; init; } = [];

        /// <summary>What it began with, to be told apart from what somebody made of it.</summary>
        public string Begun { get; set; } = "";

        public bool IsTouched => Begun != Written;

        public string Written =>
            string.Join('|', Lines.Select(l => $"{l.Item.Id} {l.Pieces} {l.Cost}").Append($"{Supplier} {Day}"));
    }

    private sealed class DraftLine
    {
        public required StockItemView Item { get; init; }
        public decimal Missing { get; init; }
        public Explanation? Why { get; init; }
        public decimal? Pieces { get; set; }
        public long? Cost { get; set; }
    }

    protected override async Task<Failure?> ReadAsync()
    {
        if (!(await read.ToBuyAsync(Actor, Closing)).TryGet(out var found, out var failure))
        {
            return failure;
        }

        var wanted = new PageRequest(page, 20);
        if (!(await stockOrders.ListAsync(false, wanted, Actor, Closing)).TryGet(out orders, out failure))
        {
            return failure;
        }

        lists = found;
        suppliers = (await keepSuppliers.ListAsync(Actor, Closing)).Match(s => s, _ => []);
        items = await read.EverythingAsync(Actor, Closing);
        // What somebody has typed is kept while others change the store; what nobody has touched follows it.
        if (drafts.TrueForAll(d => !d.IsTouched))
        {
            Fill();
        }

        return null;
    }

    private void Fill()
    {
        drafts.Clear();
        drafts.AddRange(
            lists.Select(l => new Draft
            {
                Key = l.SupplierId?.ToString() ?? "none",
                Title = l.Supplier,
                Supplier = l.SupplierId?.ToString() ?? "",
                Lines =
                [
                    .. l.Lines.Select(n => new DraftLine
                    {
                        Item = n.Item,
                        Missing = n.Missing,
                        Why = n.Explanation,
                        Pieces = n.Pieces,
                        Cost = n.Item.LastCostMinor,
                    }),
                ],
            })
        );
        drafts.ForEach(d => d.Begun = d.Written);
    }

    private void Begin() =>
        drafts.Add(
            new Draft
            {
                Key = $"new-{++begun}",
                Title = "Another order",
                Begun = "nothing",
            }
        );

    private void Add(Draft draft, string? id)
    {
        if (items.FirstOrDefault(i => i.Id.ToString() == id) is { } item)
        {
            draft.Lines.Add(
                new DraftLine
                {
                    Item = item,
                    Cost = item.LastCostMinor,
                    Pieces = item.ToBuy ?? 1,
                }
            );
        }
    }

    private async Task TurnAsync(int to)
    {
        page = to;
        await ReloadAsync();
    }

    private async Task OrderAsync(Draft draft)
    {
        if (typed!.Refuse())
        {
            return;
        }

        failing = draft;
        var request = new StockOrders.PlaceRequest(
            Guid.TryParse(draft.Supplier, out var supplier) ? supplier : null,
            [.. draft.Lines.Select(l => new StockOrder.LineDetails(l.Item.Id.Value, l.Pieces, UnitCostMinor: l.Cost))],
            draft.Day
        );
        if (
            await DoAsync(
                () => stockOrders.PlaceAsync(request, Envelope(NewKey()), Closing),
                "Written down. Now send it to the supplier.",
                _ => drafts.Remove(draft)
            )
        )
        {
            failing = null;
        }
    }
}
