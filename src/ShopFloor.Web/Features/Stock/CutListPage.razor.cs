using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Stock;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Stock;

/// <summary>A job's tube pieces, what is set aside for it, and what it took of the store.</summary>
public partial class CutListPage(CutLists lists, ReadStock read, ReserveStock reserve)
{
    private readonly List<Row> rows = [];
    private CutListView? list;
    private IReadOnlyList<StockItemView> items = [];
    private TypedFields? typed;
    private TypedFields? typedAside;
    private string asideItem = "";
    private decimal? asideAmount;
    private long shownVersion = -1;
    private string begun = "";
    private bool isKept;

    private sealed class Row
    {
        public int? Number { get; init; }
        public string? Label { get; set; }
        public string Tube { get; set; } = "";
        public decimal? Length { get; set; }
        public int? Quantity { get; set; } = 1;
        public string? From { get; init; }
        public int Sawn { get; set; }
        public int OnCards { get; set; }

        /// <summary>Pieces that are sawn or on a card: below it the line does not fall.</summary>
        public int Bound => Sawn + OnCards;
    }

    [Parameter]
    public Guid Id { get; set; }

    protected override Guid? Subject => Id;

    private bool MayWrite => MayKeep && list?.IsOpen == true;

    private StockItemView? Aside => items.FirstOrDefault(i => i.Id.ToString() == asideItem);

    private decimal OpenOfTube =>
        list?.Lines.Where(l => l.ItemId.ToString() == asideItem).Sum(l => (l.Quantity - l.Sawn) * l.LengthMm) ?? 0;

    protected override void Restart() => shownVersion = -1;

    protected override async Task<Failure?> ReadAsync()
    {
        if (!(await lists.ReadAsync(JobId.From(Id), Actor, Closing)).TryGet(out var found, out var failure))
        {
            return failure;
        }

        list = found;
        items = await read.EverythingAsync(Actor, Closing);
        if (shownVersion == found.Version)
        {
            return null;
        }

        // What is half typed is kept: only how far the lines are sawn is taken over.
        isKept = shownVersion >= 0 && Written() != begun;
        shownVersion = found.Version;
        if (isKept)
        {
            foreach (var line in found.Lines)
            {
                if (rows.Find(r => r.Number == line.Number) is { } row)
                {
                    (row.Sawn, row.OnCards) = (line.Sawn, line.OnCards);
                }
            }
        }
        else
        {
            rows.Clear();
            rows.AddRange(
                found.Lines.Select(l => new Row
                {
                    Number = l.Number,
                    Label = l.Label,
                    Tube = l.ItemId.ToString(),
                    Length = l.LengthMm,
                    Quantity = l.Quantity,
                    From = l.From,
                    Sawn = l.Sawn,
                    OnCards = l.OnCards,
                })
            );
            begun = Written();
        }

        return null;
    }

    private string Written() =>
        string.Join('|', rows.Select(r => $"{r.Number} {r.Label} {r.Tube} {r.Length} {r.Quantity}"));

    private string? Say(int row, string path) => Errors.FirstOrDefault(e => e.Path == $"lines[{row}].{path}")?.Text;

    private void Take(CutSuggestion offer) =>
        rows.Add(
            new Row
            {
                Label = offer.Label,
                Tube = offer.ItemId?.ToString() ?? "",
                Length = offer.LengthMm,
                Quantity = offer.Quantity,
                From = offer.From,
            }
        );

    private async Task SaveAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        CutList.LineDetails[] lines =
        [
            .. rows.Select(r => new CutList.LineDetails(
                r.Number,
                r.Label,
                Guid.TryParse(r.Tube, out var tube) ? tube : null,
                r.Length,
                r.Quantity,
                r.From
            )),
        ];
        var envelope = Envelope(NewKey(), shownVersion);
        // When it is saved, what is stored is shown again.
        var before = begun;
        begun = Written();
        if (!await DoAsync(() => lists.WriteAsync(JobId.From(Id), lines, envelope, Closing), "The cut list is saved."))
        {
            begun = before;
        }
    }

    private async Task ReserveAsync()
    {
        if (typedAside!.Refuse() || Aside is not { } item)
        {
            return;
        }

        var request = new ReserveStock.Request(Id, asideAmount);
        if (await DoAsync(() => reserve.RunAsync(item.Id, request, Envelope(NewKey()), Closing), "Set aside."))
        {
            (asideItem, asideAmount) = ("", null);
        }
    }
}
