using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Common;
using ShopFloor.Application.Forecasting;
using ShopFloor.Application.History;
using ShopFloor.Application.Learning;
using ShopFloor.Application.Setup;
using ShopFloor.Application.Solving;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Demo;

/// <summary>A host on an empty SQLite database.</summary>
public sealed class EmptySqliteShop : ShopHost
{
    public override string Kind => "sqlite";

    protected override bool IsSetUp => false;

    protected override Task<string?> NewConnectionAsync() => Task.FromResult<string?>(null);
}

/// <summary>A host on an empty PostgreSQL database.</summary>
public sealed class EmptyPostgresShop : ShopHost
{
    public override string Kind => "postgres";

    protected override bool IsSetUp => false;

    protected override async Task<string?> NewConnectionAsync() => await PostgresServer.NewDatabaseAsync();
}

/// <summary>The demo shop, loaded once on SQLite.</summary>
public sealed class LoadedDemo : IAsyncLifetime
{
    public EmptySqliteShop Shop { get; } = new();

    public IReadOnlyList<string> Said { get; private set; } = [];

    public async ValueTask InitializeAsync()
    {
        await Shop.InitializeAsync();
        Said = await Shop.WithAsync((IDemoData demo) => demo.LoadAsync(CancellationToken.None));
    }

    public ValueTask DisposeAsync() => Shop.DisposeAsync();

    public async Task<T> ReadAsync<T>(Func<ShopDbContext, Task<T>> read) =>
        await Shop.WithAsync(
            async (IDbContextFactory<ShopDbContext> contexts) =>
            {
                await using var db = await contexts.CreateDbContextAsync();
                return await read(db);
            }
        );
}

/// <summary>Classes that look at the same loaded demo; none of them may change it.</summary>
[CollectionDefinition(Name)]
public sealed class DemoCollection : ICollectionFixture<LoadedDemo>
{
    public const string Name = "demo";
}

[Collection(DemoCollection.Name)]
public sealed class DemoLoaderTests(LoadedDemo demo)
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Another_load_on_the_other_database_gives_the_same_content()
    {
        var first = await DemoContent.LinesAsync(demo.Shop);
        Assert.True(first.Count > 500, $"Only {first.Count} lines.");
        await using var other = new EmptyPostgresShop();
        await other.InitializeAsync();
        await other.WithAsync((IDemoData data) => data.LoadAsync(Ct));

        Assert.Equal(first, await DemoContent.LinesAsync(other));
        Assert.Equal(await DemoContent.HashAsync(demo.Shop), await DemoContent.HashAsync(other));
        await LearnAsync(other);
    }

    /// <summary>What the demo's finished cars took is evidence; what is accepted of it becomes an edition of the price book. On the shop that is thrown away.</summary>
    private static async Task LearnAsync(EmptyPostgresShop shop)
    {
        var learned = await shop.WithAsync((LabourLearning learning) => learning.ReadAsync(Actor.System, Ct));
        Assert.True(learned.IsSuccess, learned.Failure?.Sentence);
        Assert.True(
            learned.Value is { Cars: >= 4, Operations: >= 50 },
            $"{learned.Value.Cars} cars, {learned.Value.Operations} operations"
        );
        foreach (var proposal in learned.Value.Proposals)
        {
            Assert.InRange(proposal.Ratio, proposal.Low, proposal.High);
            Assert.Equal(proposal.Operations, proposal.Evidence.Count);
        }

        var made = await shop.WithAsync(
            (MakeForecast make) => make.RunAsync(new MakeForecast.Request(40), Envelope.Of(Actor.System), null, Ct)
        );
        var finished = Assert.IsType<SolverRun<Outcome<MakeForecast.Made>>.Finished>(made);
        Assert.True(finished.Value.IsSuccess, finished.Value.Failure?.Sentence);
        Assert.True(finished.Value.Value.Cars >= 6);
    }

    [Fact]
    public async Task Fourteen_cars_stand_where_the_story_says()
    {
        var jobs = await demo.ReadAsync(db =>
            db.Set<Job>().Include(j => j.Operations).OrderBy(j => j.Number).ToListAsync(Ct)
        );
        var cars = await demo.ReadAsync(db => db.Set<Car>().CountAsync(Ct));

        Assert.Equal(14, cars);
        Assert.Equal(14, jobs.Count);
        Assert.Equal(6, jobs.Count(j => j.State == JobState.Closed));
        Assert.Single(jobs, j => j.Scope.Kind == SaleKind.Shipped && j.CarId is null);
        Assert.Single(jobs, j => j.Scope.Kind == SaleKind.ReturnVisit && j.ReturnOf is not null);
        Assert.Single(await demo.ReadAsync(db => db.Set<GoodsOut>().ToListAsync(Ct)));
        // Each car in progress stands in another phase: the phase of its first operation that is not over.
        var phases = jobs.Where(j => j.State == JobState.Open)
            .Select(j => j.Operations.First(o => !o.IsOver).Phase)
            .ToList();
        Assert.Equal(Enum.GetValues<Phase>().Order(), phases.Order());
    }

    [Fact]
    public async Task The_past_has_a_failed_weld_a_late_part_a_hold_and_a_quote_that_was_declined()
    {
        var readings = await demo.ReadAsync(db =>
            db.Set<InspectionLine>().Include(l => l.Readings).Where(l => l.Readings.Any(r => !r.Passed)).ToListAsync(Ct)
        );
        var today = DateOnly.FromDateTime(demo.Shop.Clock.GetUtcNow().Date);
        var parts = await demo.ReadAsync(db => db.Set<CustomerPart>().ToListAsync(Ct));
        var held = await demo.ReadAsync(db => db.Set<Operation>().ToListAsync(Ct));
        var quotes = await demo.ReadAsync(db => db.Set<Quote>().ToListAsync(Ct));

        var line = Assert.Single(readings);
        Assert.Equal(LineState.Passed, line.State);
        Assert.Single(parts, p => p.IsLate(today));
        Assert.Single(held, o => o.CurrentHold is not null);
        Assert.Single(quotes, q => q.State == QuoteState.Declined);
        Assert.Single(quotes, q => q.State == QuoteState.Sent);
        Assert.Single(quotes, q => q.State == QuoteState.Replaced);
    }

    [Fact]
    public async Task History_and_money_of_the_demo_verify()
    {
        Assert.Empty(await demo.Shop.WithAsync((VerifyHistory verify) => verify.RunAsync(Ct)));
    }

    [Fact]
    public async Task Only_what_has_happened_is_in_the_history_and_it_begins_eight_weeks_ago()
    {
        var times = await demo.ReadAsync(db => db.Events.Select(e => e.RecordedAt).ToListAsync(Ct));
        var now = demo.Shop.Clock.GetUtcNow();

        Assert.All(times, t => Assert.True(t <= now));
        Assert.InRange((now - times.Min()).TotalDays, 54, 60);
    }

    [Fact]
    public async Task A_database_that_holds_a_shop_is_left_alone()
    {
        var before = await DemoContent.HashAsync(demo.Shop);

        var said = await demo.Shop.WithAsync((IDemoData data) => data.LoadAsync(Ct));

        Assert.Contains("not empty", Assert.Single(said), StringComparison.Ordinal);
        Assert.Equal(before, await DemoContent.HashAsync(demo.Shop));
    }

    [Fact]
    public async Task Its_money_shows_a_part_invoice_booked_costs_and_closed_days_with_one_difference()
    {
        var closes = await demo.ReadAsync(db => db.Set<DayClose>().ToListAsync(Ct));
        Assert.True(closes.Count > 5, $"Only {closes.Count} days are closed.");
        var difference = Assert.Single(closes.SelectMany(c => c.Methods), m => m.DifferenceMinor != 0);
        Assert.Equal((PaymentMethod.Cash, -500), (difference.Method, difference.DifferenceMinor));

        var costs = await demo.ReadAsync(db => db.Set<JobCost>().ToListAsync(Ct));
        Assert.Contains(costs, c => c.Kind == CostKind.OutsideWork);

        var open = await demo.ReadAsync(db =>
            db.Set<Invoice>()
                .Where(i => db.Set<Job>().Any(j => j.Id == i.JobId && j.State == JobState.Open))
                .ToListAsync(Ct)
        );
        var agreed = await demo.ReadAsync(db =>
            db.Set<Job>()
                .Join(db.Set<Quote>(), j => j.QuoteId, q => q.Id, (j, q) => new { j.Id, q.TotalMinor })
                .ToDictionaryAsync(a => a.Id, a => a.TotalMinor, Ct)
        );
        // One car is billed in part; the other is paid and waits for its second person.
        Assert.Single(open, i => i.TotalMinor > 0 && i.TotalMinor < agreed[i.JobId]);
        Assert.Single(open, i => i.TotalMinor == agreed[i.JobId]);
    }

    [Fact]
    public void The_logins_are_printed()
    {
        Assert.Contains(demo.Said, line => line.Contains("rosa@hollowlane.example.com", StringComparison.Ordinal));
        Assert.Equal(7, demo.Said.Count);
    }
}
