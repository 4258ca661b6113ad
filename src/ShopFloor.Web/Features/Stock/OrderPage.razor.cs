using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Stock;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Stock;

/// <summary>One order at a supplier, and what comes of it.</summary>
public partial class OrderPage(StockOrders orders)
{
    private readonly Dictionary<int, Receipt> come = [];
    private readonly List<StockLotView> received = [];
    private StockOrderView? order;
    private TypedFields? typed;
    private int failing;
    private DateOnly? expected;
    private string? closeReason;

    private sealed class Receipt
    {
        public decimal? Pieces { get; set; }
        public string? Mark { get; set; }
        public string? Place { get; set; }
    }

    [Parameter]
    public Guid Id { get; set; }

    protected override Guid? Subject => Id;

    public static string Word(StockOrderState state) =>
        state switch
        {
            StockOrderState.Open => "awaited",
            StockOrderState.PartlyHere => "partly here",
            _ => "closed",
        };

    public static string Day(DateOnly day) => day.ToString("ddd d MMM yyyy", CultureInfo.CurrentCulture);

    protected override async Task<Failure?> ReadAsync()
    {
        if (!(await orders.ReadAsync(StockOrderId.From(Id), Actor, Closing)).TryGet(out var found, out var failure))
        {
            return failure;
        }

        order = found;
        expected ??= found.ExpectedOn;
        return null;
    }

    protected override void Restart()
    {
        come.Clear();
        received.Clear();
    }

    private Receipt Come(StockOrderLine line)
    {
        if (!come.TryGetValue(line.Number, out var receipt))
        {
            come[line.Number] = receipt = new Receipt { Pieces = line.Awaited };
        }

        return receipt;
    }

    private string? Say(StockOrderLine line, string path) =>
        failing == line.Number ? Errors.FirstOrDefault(e => e.Path == path)?.Text : null;

    private async Task ReceiveAsync(StockOrderLine line)
    {
        if (typed!.Refuse())
        {
            return;
        }

        failing = line.Number;
        var receipt = Come(line);
        var request = new StockOrders.ReceiveRequest(line.Number, receipt.Pieces, receipt.Mark, receipt.Place);
        var envelope = Envelope(NewKey(), order!.Version);
        if (
            await DoAsync(
                () => orders.ReceiveAsync(StockOrderId.From(Id), request, envelope, Closing),
                "It is in the store.",
                received.Add
            )
        )
        {
            come.Remove(line.Number);
        }
    }

    private Task<bool> ExpectAsync() =>
        ChangeAsync(new StockOrders.ChangeRequest(ExpectedOn: expected), "The day is changed.");

    private Task<bool> CloseAsync() =>
        ChangeAsync(new StockOrders.ChangeRequest(CloseReason: closeReason ?? ""), "Closed.");

    private Task<bool> ChangeAsync(StockOrders.ChangeRequest request, string done) =>
        DoAsync(
            () => orders.ChangeAsync(StockOrderId.From(Id), request, Envelope(NewKey(), order!.Version), Closing),
            done
        );
}
