using ShopFloor.Application.Solving;
using ShopFloor.Application.Stock;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Demo;

/// <summary>What lies in the racks, from whom it comes, and what is sawn from it.</summary>
internal sealed record DemoStockData(
    string By,
    string SawnBy,
    int OpenedOn,
    IReadOnlyList<DemoSupplierData> Suppliers,
    IReadOnlyList<DemoItemData> Items,
    IReadOnlyList<DemoFoundData> Found,
    IReadOnlyList<DemoOrderData> Orders,
    IReadOnlyList<DemoCutData> Cuts,
    IReadOnlyList<DemoSawData> Saw,
    IReadOnlyList<DemoUseData> Uses,
    IReadOnlyList<DemoReservedData> Reserved
);

internal sealed record DemoSupplierData(
    string Key,
    string Name,
    string? Email,
    string? Phone,
    int? LeadDays,
    string? Note
);

internal sealed record DemoItemData(
    string Key,
    string Title,
    StockKind Kind,
    StockMeasure? Measure = null,
    string? Material = null,
    decimal? Diameter = null,
    decimal? Wall = null,
    decimal? Stick = null,
    decimal? Level = null,
    decimal? AtATime = null,
    string? Place = null,
    string? Supplier = null,
    long? Cost = null
);

internal sealed record DemoFoundData(string Item, decimal Pieces, decimal? Length, string? Mark);

internal sealed record DemoOrderData(
    int Day,
    string Supplier,
    int Expected,
    IReadOnlyList<DemoOrderLineData> Lines,
    IReadOnlyList<DemoReceiptData> Received
);

internal sealed record DemoOrderLineData(string Item, decimal Pieces, long Cost);

internal sealed record DemoReceiptData(int Day, int Line, decimal Pieces, string? Mark);

internal sealed record DemoCutData(string Job, string Item, string Label, decimal Length, int Quantity);

internal sealed record DemoSawData(
    int Day,
    int Hour,
    string Item,
    IReadOnlyList<string> Jobs,
    bool Sawn,
    string? Place
);

internal sealed record DemoUseData(int Day, string Item, string Job, decimal Pieces);

internal sealed record DemoReservedData(int Day, string Item, string Job, decimal Amount);

/// <summary>The store in the eight weeks.</summary>
internal sealed class DemoStock(DemoWorld world, IReadOnlyList<DemoJob> jobs, DemoStockData data)
{
    private readonly Dictionary<string, SupplierId> suppliers = new(StringComparer.Ordinal);
    private readonly Dictionary<string, StockItemId> items = new(StringComparer.Ordinal);

    /// <summary>Suppliers and items, then what lay in the racks at the first stock-taking.</summary>
    public async IAsyncEnumerable<DateTimeOffset> OpenAsync()
    {
        yield return world.Calendar.At(data.OpenedOn, 8, 30);
        foreach (var s in data.Suppliers)
        {
            var details = new Supplier.Details(s.Name, s.Email, s.Phone, s.LeadDays, s.Note);
            var added = await DemoWorld.DoAsync(
                world.Use<KeepSuppliers>().AddAsync(details, world.By(data.By), default),
                s.Name
            );
            suppliers[s.Key] = added.Id;
        }

        foreach (var i in data.Items)
        {
            var details = new StockItem.Details(
                i.Key,
                i.Title,
                i.Kind,
                i.Measure,
                i.Material,
                i.Diameter,
                i.Wall,
                i.Stick,
                i.Level,
                i.AtATime,
                i.Place,
                i.Supplier is { } supplier ? suppliers[supplier].Value : null,
                null,
                i.Cost
            );
            var added = await DemoWorld.DoAsync(
                world.Use<KeepStockItems>().AddAsync(details, world.By(data.By), default),
                i.Key
            );
            items[i.Key] = added.Id;
        }

        yield return world.Calendar.At(data.OpenedOn, 10);
        foreach (var f in data.Found)
        {
            var request = new ReceiveStock.Request(items[f.Item].Value, f.Pieces, f.Length, f.Mark);
            await DemoWorld.DoAsync(world.Use<ReceiveStock>().FoundAsync(request, world.By(data.By), default), f.Item);
        }
    }

    public async IAsyncEnumerable<DateTimeOffset> BuyAsync()
    {
        foreach (var o in data.Orders)
        {
            yield return world.Calendar.At(o.Day, 11, 40);
            var request = new StockOrders.PlaceRequest(
                suppliers[o.Supplier].Value,
                [
                    .. o.Lines.Select(l => new StockOrder.LineDetails(
                        items[l.Item].Value,
                        l.Pieces,
                        UnitCostMinor: l.Cost
                    )),
                ],
                world.Calendar.Day(o.Expected)
            );
            var placed = await DemoWorld.DoAsync(
                world.Use<StockOrders>().PlaceAsync(request, world.By(data.By), default),
                o.Supplier
            );
            foreach (var r in o.Received)
            {
                yield return world.Calendar.At(r.Day, 10, 15);
                var come = new StockOrders.ReceiveRequest(r.Line, r.Pieces, r.Mark);
                await DemoWorld.DoAsync(
                    world.Use<StockOrders>().ReceiveAsync(placed.Id, come, world.By(data.By), default),
                    o.Supplier
                );
            }
        }
    }

    public async IAsyncEnumerable<DateTimeOffset> UseAsync()
    {
        foreach (var u in data.Uses)
        {
            yield return world.Calendar.At(u.Day, 14, 5);
            var detail = await DemoWorld.DoAsync(
                world.Use<ReadStock>().ItemAsync(items[u.Item], world.People[data.SawnBy], default),
                u.Item
            );
            var request = new KeepLots.Request(u.Pieces, Job(u.Job).Value);
            await DemoWorld.DoAsync(
                world.Use<KeepLots>().UseAsync(detail.Lots[0].Id, request, world.By(data.SawnBy), default),
                u.Item
            );
        }
    }

    public async IAsyncEnumerable<DateTimeOffset> SetAsideAsync()
    {
        foreach (var r in data.Reserved)
        {
            yield return world.Calendar.At(r.Day, 9, 50);
            var request = new ReserveStock.Request(Job(r.Job).Value, r.Amount);
            await DemoWorld.DoAsync(
                world.Use<ReserveStock>().RunAsync(items[r.Item], request, world.By(data.By), default),
                r.Item
            );
        }
    }

    /// <summary>Cut lists are written and saw cards made; what is sawn is back in the rack.</summary>
    public async IAsyncEnumerable<DateTimeOffset> SawAsync()
    {
        yield return world.Calendar.At(data.Saw.Min(s => s.Day), 8, 10);
        foreach (var job in data.Cuts.GroupBy(c => c.Job))
        {
            CutList.LineDetails[] lines =
            [
                .. job.Select(c => new CutList.LineDetails(null, c.Label, items[c.Item].Value, c.Length, c.Quantity)),
            ];
            await DemoWorld.DoAsync(
                world.Use<CutLists>().WriteAsync(Job(job.Key), lines, world.By(data.SawnBy), default),
                job.Key
            );
        }

        foreach (var s in data.Saw)
        {
            yield return world.Calendar.At(s.Day, s.Hour);
            var request = new SawPlans.PlanRequest([.. s.Jobs.Select(j => Job(j).Value)], items[s.Item].Value, 2);
            var run = await world.Use<SawPlans>().PlanAsync(request, world.By(data.SawnBy), null, default);
            var card = await DemoWorld.DoAsync(Task.FromResult(Finished(run)), s.Item);
            if (s.Sawn)
            {
                yield return world.Calendar.At(s.Day, s.Hour, 40);
                var sawn = new SawPlans.SawnRequest(null, s.Place);
                await DemoWorld.DoAsync(
                    world.Use<SawPlans>().SawAsync(card.Id, sawn, world.By(data.SawnBy), default),
                    card.Number
                );
            }
        }
    }

    private static Outcome<SawPlanView> Finished(SolverRun<Outcome<SawPlanView>> run) =>
        run is SolverRun<Outcome<SawPlanView>>.Finished(var outcome)
            ? outcome
            : Failure.Because("busy", SolverRuns.BusyText);

    private JobId Job(string key) => jobs.Single(j => j.Data.Key == key).Id!.Value;
}
