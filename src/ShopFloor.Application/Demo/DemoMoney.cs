using ShopFloor.Application.Accounts;
using ShopFloor.Domain.Accounts;

namespace ShopFloor.Application.Demo;

/// <summary>What happens to the shop's money beside deposits, payments and invoices of the cars that are fetched.</summary>
internal sealed record DemoMoneyData(
    DemoClosingData Closing,
    IReadOnlyList<DemoCostData> Costs,
    IReadOnlyList<DemoPartInvoiceData> PartInvoices
);

/// <summary>Days that are closed in the evening, where money moved; what was counted is what was expected but for the differences.</summary>
internal sealed record DemoClosingData(int FromDay, int UntilDay, IReadOnlyList<DemoDifferenceData> Differences);

internal sealed record DemoDifferenceData(int Day, PaymentMethod Method, long Minor, string Note);

internal sealed record DemoCostData(
    int Day,
    string Job,
    string Kind,
    string Supplier,
    string Description,
    long AmountMinor,
    long TaxMinor,
    string Reference,
    string Operation
);

internal sealed record DemoPartInvoiceData(int Day, string Job, decimal Percent);

/// <summary>The front desk books suppliers' bills, bills a part, and closes the day.</summary>
internal sealed class DemoMoney(DemoWorld world, IReadOnlyList<DemoJob> jobs)
{
    private const string Desk = "ines";

    public async IAsyncEnumerable<DateTimeOffset> BookCostsAsync(DemoMoneyData money)
    {
        foreach (var cost in money.Costs.OrderBy(c => c.Day))
        {
            yield return world.Calendar.At(cost.Day, 13);
            var request = new BookCost.Request(
                JobOf(cost.Job),
                cost.Kind,
                cost.Supplier,
                cost.Description,
                cost.AmountMinor,
                cost.TaxMinor,
                world.Calendar.Day(cost.Day),
                cost.Reference,
                cost.Operation
            );
            await DemoWorld.DoAsync(world.Use<BookCost>().RunAsync(request, world.By(Desk), default), cost.Job);
        }
    }

    public async IAsyncEnumerable<DateTimeOffset> BillPartsAsync(DemoMoneyData money)
    {
        foreach (var part in money.PartInvoices.OrderBy(p => p.Day))
        {
            yield return world.Calendar.At(part.Day, 16);
            var request = new IssueInvoice.Request(JobOf(part.Job), Percent: part.Percent);
            await DemoWorld.DoAsync(world.Use<IssueInvoice>().RunAsync(request, world.By(Desk), default), part.Job);
        }
    }

    public async IAsyncEnumerable<DateTimeOffset> CloseDaysAsync(DemoClosingData closing)
    {
        for (var day = closing.FromDay; day <= closing.UntilDay; day++)
        {
            yield return world.Calendar.At(day, 17, 30);
            await CloseAsync(day, [.. closing.Differences.Where(d => d.Day == day)]);
        }
    }

    private async Task CloseAsync(int day, IReadOnlyList<DemoDifferenceData> differences)
    {
        var (by, where) = (world.By(Desk), $"closing of day {day}");
        var view = await DemoWorld.DoAsync(
            world.Use<GetDay>().RunAsync(world.Calendar.Day(day), by.Actor, default),
            where
        );
        if (view.Methods.Count == 0)
        {
            return;
        }

        var counts = view
            .Methods.Select(m =>
            {
                var found = differences.SingleOrDefault(d => d.Method == m.Method);
                var word = char.ToLowerInvariant(m.Method.ToString()[0]) + m.Method.ToString()[1..];
                return new CloseDay.Count(word, m.ExpectedMinor + (found?.Minor ?? 0), found?.Note);
            })
            .ToList();
        await DemoWorld.DoAsync(world.Use<CloseDay>().RunAsync(new(view.Day, counts), by, default), where);
    }

    private Domain.Common.JobId JobOf(string key) => jobs.Single(j => j.Data.Key == key).Id!.Value;
}
