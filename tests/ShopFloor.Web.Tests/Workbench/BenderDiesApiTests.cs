using ShopFloor.Application.Common;
using ShopFloor.Application.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Workbench;

/// <summary>The shop's table of dies, and what a person typed last, on both databases.</summary>
public abstract class BenderDiesApiTests(ShopHost shop)
{
    private const string Root = "/api/v1/bender-dies";

    [Fact]
    public async Task A_die_keeps_its_trials_in_rising_order_and_is_changed_as_a_whole()
    {
        using var fabricator = await shop.ApiAsync(Role.Fabricator);
        var die = await fabricator.PostAsync(Root, Die("D 45 / R 135", (88, 90), (28.5, 30), (58, 60)));
        Assert.Equal(
            [28.5, 58.0, 88.0],
            die.GetProperty("trials").EnumerateArray().Select(t => t.GetProperty("releasedDegrees").GetDouble())
        );

        using var changed = await fabricator.SendAsync(
            HttpMethod.Put,
            $"{Root}/{die.GetProperty("id").GetString()}",
            Die("D 45 / R 135", (88, 90))
        );
        Assert.Equal(200, (int)changed.StatusCode);
        await fabricator.PostAsync(Root, Die("D 45 / R 135"), 400);
        await fabricator.PostAsync($"{Root}/{die.GetProperty("id").GetString()}/retire", new { }, 200);
        await fabricator.PostAsync($"{Root}/{die.GetProperty("id").GetString()}/retire", new { }, 409);
        // Its name is free again.
        await fabricator.PostAsync(Root, Die("D 45 / R 135"));

        using var desk = await shop.ApiAsync(Role.FrontDesk);
        await desk.PostAsync(Root, Die("D 38"), 403);
        var seen = (await desk.GetJsonAsync(Root)).EnumerateArray().ToList();
        Assert.Equal([false, true], seen.Select(d => d.GetProperty("isRetired").GetBoolean()));
        Assert.Equal("Fabricator Person", seen[0].GetProperty("changedBy").GetString());
    }

    [Theory]
    [InlineData(88, 87, 0, 0, "trials[0].bentDegrees")]
    [InlineData(0, 10, 0, 0, "trials[0].releasedDegrees")]
    [InlineData(88, 250, 0, 0, "trials[0].bentDegrees")]
    [InlineData(88, 90, 87, 91, "trials[0].bentDegrees")]
    [InlineData(88, 90, 88, 91, "trials[1].bentDegrees")]
    public async Task Trials_that_cannot_be_are_named(double a, double b, double c, double d, string path)
    {
        using var fabricator = await shop.ApiAsync(Role.Fabricator);
        var body = c == 0 ? Die("Wrong", (a, b)) : Die("Wrong", (a, b), (c, d));

        var problem = await fabricator.PostAsync(Root, body, 400);

        Assert.True(problem.GetProperty("errors").TryGetProperty(path, out _), problem.ToString());
    }

    [Fact]
    public async Task A_die_that_cannot_be_is_named()
    {
        using var fabricator = await shop.ApiAsync(Role.Fabricator);
        foreach (
            var (body, path) in ((object, string)[])
                [
                    (new { outsideDiameterMm = 45, centrelineRadiusMm = 135 }, "name"),
                    (new { name = "x", centrelineRadiusMm = 135 }, "outsideDiameterMm"),
                    (
                        new
                        {
                            name = "x",
                            outsideDiameterMm = 45,
                            centrelineRadiusMm = 20,
                        },
                        "centrelineRadiusMm"
                    ),
                    (
                        new
                        {
                            name = "x",
                            outsideDiameterMm = 45,
                            centrelineRadiusMm = 135,
                            clampMm = -1,
                        },
                        "clampMm"
                    ),
                    (
                        new
                        {
                            name = "x",
                            outsideDiameterMm = 45,
                            centrelineRadiusMm = 135,
                            markOffsetMm = 1e12,
                        },
                        "markOffsetMm"
                    ),
                    (
                        new
                        {
                            name = "x",
                            outsideDiameterMm = 45,
                            centrelineRadiusMm = 135,
                            trials = Enumerable
                                .Range(1, 41)
                                .Select(i => new { releasedDegrees = i, bentDegrees = i + 1 }),
                        },
                        "trials"
                    ),
                ]
        )
        {
            var problem = await fabricator.PostAsync(Root, body, 400);
            Assert.True(problem.GetProperty("errors").TryGetProperty(path, out _), $"{path}: {problem}");
        }
    }

    [Fact]
    public async Task What_somebody_typed_is_remembered_for_them_alone_and_leaves_no_event()
    {
        var ct = TestContext.Current.CancellationToken;
        var sheet = Benches.Find("bend")!;
        var (me, other) = (Person(shop.People[Role.Fabricator]), Person(shop.OtherFabricator));
        var before = await shop.WithAsync<QueryRunner, int>(EventsAsync);
        foreach (var angle in (string[])["33", "41"])
        {
            var values = BenchValues.Read(sheet, LengthUnit.Inch, n => n == "angleDegrees" ? angle : null).Value;
            var kept = await shop.WithAsync<RememberBench, Outcome<Done>>(r =>
                r.RunAsync(sheet, values, Envelope.Of(me), ct)
            );
            Assert.True(kept.IsSuccess);
        }

        var mine = await shop.WithAsync<OpenBench, Outcome<BenchStart>>(o => o.RunAsync("bend", me, ct));
        var theirs = await shop.WithAsync<OpenBench, Outcome<BenchStart>>(o => o.RunAsync("bend", other, ct));
        var elsewhere = await shop.WithAsync<OpenBench, Outcome<BenchStart>>(o => o.RunAsync("notch", me, ct));

        Assert.Contains("angleDegrees=41", mine.Value.Typed, StringComparison.Ordinal);
        Assert.Contains("unit=in", mine.Value.Typed, StringComparison.Ordinal);
        Assert.Null(theirs.Value.Typed);
        Assert.Null(elsewhere.Value.Typed);
        Assert.Equal(before, await shop.WithAsync<QueryRunner, int>(EventsAsync));

        static Actor Person(PersonId id) => Actor.OfPerson(id, [Role.Fabricator]);

        async Task<int> EventsAsync(QueryRunner runner) =>
            (
                await runner.RunAsync<int>(
                    Permission.SeeFloor,
                    me,
                    db => Task.FromResult<Outcome<int>>(db.Events.Count()),
                    ct
                )
            ).Value;
    }

    private static object Die(string name, params (double Released, double Bent)[] trials) =>
        new
        {
            name,
            outsideDiameterMm = 45,
            centrelineRadiusMm = 135,
            clampMm = 90,
            trials = trials.Select(t => new { releasedDegrees = t.Released, bentDegrees = t.Bent }),
        };
}

public sealed class BenderDiesApiOnSqlite(SqliteShop shop) : BenderDiesApiTests(shop), IClassFixture<SqliteShop>;

public sealed class BenderDiesApiOnPostgres(PostgresShop shop) : BenderDiesApiTests(shop), IClassFixture<PostgresShop>;
