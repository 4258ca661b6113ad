using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Stock;

/// <summary>Writes down what lies in the store and nobody knew of: at the first stock-taking, or found later.</summary>
public sealed class ReceiveStock(CommandRunner runner) : IUseCase
{
    internal const string LotSeries = "L";

    /// <param name="ItemId">What it is.</param>
    /// <param name="Pieces">Pieces of tube, else units.</param>
    /// <param name="LengthMm">Tube only; absent: a whole stick.</param>
    /// <param name="UnitCostMinor">What a piece or unit cost; absent: what the item last cost, by the length.</param>
    public sealed record Request(
        Guid? ItemId = null,
        decimal? Pieces = null,
        decimal? LengthMm = null,
        string? Mark = null,
        string? Location = null,
        long? UnitCostMinor = null,
        string? Reason = null
    );

    public Task<Outcome<StockLotView>> FoundAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<StockLotView>(
            Permission.KeepStock,
            envelope,
            request,
            async scope =>
            {
                var wanted = StockItemId.From(request.ItemId ?? Guid.Empty);
                if (await scope.Db.Set<StockItem>().SingleOrDefaultAsync(i => i.Id == wanted, ct) is not { } item)
                {
                    return Failure.Field("itemId", "Choose something that the shop keeps in store.");
                }

                var errors = new FieldErrors();
                var reason = TextRules.Optional(request.Reason, "reason", "The note", TextRules.ShortText, errors);
                errors.AddIf(request.UnitCostMinor < 0, "unitCostMinor", "The cost is 0 or more.");
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                var opened = StockLot.Open(
                    scope.NewId<StockLotId>(),
                    await scope.NextNumberAsync(LotSeries),
                    item,
                    new StockLot.Details(
                        request.Pieces,
                        request.LengthMm,
                        request.Mark,
                        request.Location,
                        ValueOf(request, item)
                    ),
                    StockMove.Found,
                    item.SupplierId,
                    scope.Hand(),
                    new StockCause(reason)
                );
                if (!opened.TryGet(out var lot, out var failure))
                {
                    return failure;
                }

                scope.Db.Add(lot);
                LotChange.Write(scope, lot);
                await scope.SaveAsync();
                return StockLotView.Of(lot, item, 0, null, scope.Actor);
            },
            ct
        );

    /// <summary>Without a cost of its own it is worth what the item last cost, a piece of tube by its part of a stick.</summary>
    private static long? ValueOf(Request request, StockItem item)
    {
        if (
            request.Pieces is not (> 0 and <= StockItem.LargestAmount)
            || request.LengthMm is < 0 or > StockItem.LongestStickMm
        )
        {
            return null;
        }

        var unit = request.UnitCostMinor ?? item.UnitCostMinor(request.LengthMm ?? item.StickMm);
        var value = unit * request.Pieces.Value;
        return value > Domain.Quoting.TotalsRules.LargestMinor
            ? long.MaxValue
            : Money.Round(value, MoneyRounding.HalfEven);
    }
}
