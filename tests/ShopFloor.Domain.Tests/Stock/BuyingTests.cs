using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;
using static ShopFloor.Domain.Tests.Stock.Shelf;

namespace ShopFloor.Domain.Tests.Stock;

public class BuyingTests
{
    private static readonly DateOnly Today = new(2026, 3, 2);
    private readonly StockItem tube = Tube();
    private readonly StockItem wire = Wire();

    /// <summary>Inventory position = on hand + on order − committed; order up to the level when it is below (continuous review, textbook rule, from memory).</summary>
    [Theory]
    [InlineData(10, 0, 0, null)]
    [InlineData(5, 0, 0, null)]
    [InlineData(4, 0, 0, 1.0)]
    [InlineData(4, 3, 0, 4.0)]
    [InlineData(4, 3, 4, null)]
    [InlineData(0, 0, 0, 5.0)]
    public void Something_is_bought_when_its_position_is_below_the_level(
        int onHand,
        int reserved,
        int onOrder,
        double? expected
    ) =>
        Assert.Equal(
            (decimal?)expected,
            PurchaseRule.Of(wire, new StockStanding(onHand, reserved, onOrder, 0))?.Missing
        );

    [Theory]
    [InlineData(11_999, 2)] // one millimetre short: one stick would do, two are bought at a time
    [InlineData(0, 2)]
    [InlineData(-1, 3)] // more set aside than there is
    public void Tube_is_bought_in_whole_sticks_and_at_least_what_is_bought_at_a_time(int position, int sticks)
    {
        var standing = position < 0 ? new StockStanding(0, -position, 0, 0) : new StockStanding(position, 0, 0, 0);
        Assert.Equal(sticks, PurchaseRule.Of(tube, standing)!.Pieces);
    }

    [Fact]
    public void What_is_no_longer_kept_is_not_bought()
    {
        Must(wire.Retire(true, StockStanding.None));
        Assert.Null(PurchaseRule.Of(wire, StockStanding.None));
        Assert.Equal("stockLeft", Code(Tube().Retire(true, new StockStanding(1, 0, 0, 0))));
        Assert.Equal("ordered", Code(Tube().Retire(true, new StockStanding(0, 0, 1, 0))));
    }

    [Fact]
    public void An_order_comes_in_parts_and_closes_itself_when_all_is_here()
    {
        var order = Order(new(tube.Id.Value, 5, null, 4200), new(wire.Id.Value, 2.5m, null, 999));
        Assert.Equal(8400, Must(order.Receive(1, 2, Now)).ValueMinor);
        Assert.Equal(
            (StockOrderState.PartlyHere, 3m, 18_000m),
            (order.State, order.Lines[0].Awaited, order.Lines[0].AwaitedAmount)
        );
        Assert.Equal(["pieces"], Fields(order.Receive(1, 4, Now)));
        Must(order.Receive(1, 3, Now));
        // 2.5 × 9.99 = 24.975, to the even neighbour 24.98 (2497.5 → 2498).
        Assert.Equal(2498, Must(order.Receive(2, 2.5m, Now)).ValueMinor);
        Assert.Equal(StockOrderState.Closed, order.State);
        Assert.Equal("orderClosed", Code(order.Receive(1, 1, Now)));
    }

    [Fact]
    public void What_never_comes_is_closed_with_a_reason()
    {
        var order = Order(new StockOrder.LineDetails(tube.Id.Value, 5, null, 1));
        Assert.Equal(["reason"], Fields(order.Close(" ", Now)));
        Must(order.Close("no longer made", Now));
        Assert.Equal("orderClosed", Code(order.Close("again", Now)));
        Assert.Equal("orderClosed", Code(order.Expect(Today, Today)));
    }

    [Fact]
    public void Delivery_is_expected_after_the_suppliers_days()
    {
        Assert.Equal(Today.AddDays(4), Order(new StockOrder.LineDetails(tube.Id.Value, 1, null, 1)).ExpectedOn);
    }

    [Fact]
    public void Bad_lines_are_named_each()
    {
        var placed = Place(
            new(Guid.CreateVersion7(), 1, null, 1),
            new(tube.Id.Value, 1.5m, null, 1),
            new(wire.Id.Value, 1),
            new(tube.Id.Value, 1, 30_000, 1)
        );
        Assert.Equal(
            ["lines[0].itemId", "lines[1].pieces", "lines[2].unitCostMinor", "lines[3].lengthMm"],
            Fields(placed)
        );
        Assert.Equal(["lines"], Fields(Place()));
    }

    [Fact]
    public void An_item_of_which_there_is_stock_keeps_its_size()
    {
        Assert.Equal(["kind"], Fields(tube.Change(TubeDetails with { WallMm = 3 }, isUsed: true)));
        Must(tube.Change(TubeDetails with { ReorderLevel = 0 }, isUsed: true));
        Must(tube.Change(TubeDetails with { WallMm = 3 }, isUsed: false));
    }

    [Theory]
    [InlineData(0, 2.5, 6000, "outsideDiameterMm")]
    [InlineData(45, 22.5, 6000, "wallMm")]
    [InlineData(45, 2.5, 20_001, "stickMm")]
    public void A_tube_has_a_size_that_can_be(double diameter, double wall, double stick, string field) =>
        Assert.Contains(
            field,
            Fields(
                StockItem.Add(
                    Id<StockItemId>(),
                    TubeDetails with
                    {
                        OutsideDiameterMm = (decimal)diameter,
                        WallMm = (decimal)wall,
                        StickMm = (decimal)stick,
                    }
                )
            )
        );

    private StockOrder Order(params StockOrder.LineDetails[] lines) => Must(Place(lines));

    private Outcome<StockOrder> Place(params StockOrder.LineDetails[] lines) =>
        StockOrder.Place(
            Id<StockOrderId>(),
            "PO-2026-0001",
            Must(Supplier.Add(Id<SupplierId>(), new("Tube Yard", LeadDays: 4))),
            lines,
            new Dictionary<StockItemId, StockItem> { [tube.Id] = tube, [wire.Id] = wire },
            null,
            null,
            null,
            Today
        );
}
