using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Workbench.Saved;
using ShopFloor.Data.History;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;
using PdfDocument = UglyToad.PdfPig.PdfDocument;

namespace ShopFloor.Web.Tests.Workbench;

/// <summary>Figures of the workbench saved with a job, on both databases.</summary>
public abstract class JobFiguresApiTests(ShopHost shop)
{
    private static readonly Dictionary<string, string> Slanted = new()
    {
        ["branchOutsideDiameterMm"] = "1 1/2",
        ["branchWallMm"] = "0.095",
        ["headerOutsideDiameterMm"] = "1.75",
        ["angleDegrees"] = "60",
        ["edge"] = "inside",
    };

    [Fact]
    public async Task Saved_figures_are_worked_out_by_the_server_and_stand_at_their_operation()
    {
        var car = await CarStory.BeginAsync(shop, "Nora Vale");

        var saved = await SaveAsync(car, "Harness bar, left end", Slanted, "180");

        Assert.Equal("inForce", saved.GetProperty("state").GetString());
        Assert.Equal("180", saved.GetProperty("operation").GetString());
        Assert.Equal("in", saved.GetProperty("unit").GetString());
        Assert.Equal("60", saved.GetProperty("inputs").GetProperty("angleDegrees").GetString());
        Assert.Equal("Fabricator Person", saved.GetProperty("savedBy").GetString());
        // Inside edge, 38.1 × 2.413 mm on 44.45 mm at 60°: worked from the closed formula and by bisection.
        var depth = saved.GetProperty("results").EnumerateArray().First();
        Assert.Equal("Depth of the notch", depth.GetProperty("label").GetString());
        Assert.StartsWith("20.53 mm", depth.GetProperty("value").GetString(), StringComparison.Ordinal);
        Assert.Contains("/32", string.Concat(saved.GetProperty("results").EnumerateArray()), StringComparison.Ordinal);

        var list = await car.Desk.GetJsonAsync($"{car.JobPath}/figures");
        Assert.Equal(saved.GetProperty("id").GetString(), Ids(list, "inForce").Single());
        Assert.Empty(Ids(list, "earlier"));
        var one = await car.Inspector.GetJsonAsync($"/api/v1/figures/{saved.GetProperty("id").GetString()}");
        Assert.Equal("Harness bar, left end", one.GetProperty("title").GetString());
    }

    [Fact]
    public async Task Replaced_and_withdrawn_figures_stay_in_the_history_and_make_no_paper()
    {
        var car = await CarStory.BeginAsync(shop, "Omar Vale");
        var first = await SaveAsync(car, "Brace, top", Slanted, "110");
        var second = await SaveAsync(
            car,
            "Brace, top",
            new Dictionary<string, string>(Slanted) { ["angleDegrees"] = "55" },
            "110",
            first.GetProperty("id").GetString()
        );

        var list = await car.Owner.GetJsonAsync($"{car.JobPath}/figures");
        Assert.Equal([second.GetProperty("id").GetString()], Ids(list, "inForce"));
        var old = Assert.Single(list.GetProperty("earlier").EnumerateArray());
        Assert.Equal("replaced", old.GetProperty("state").GetString());
        Assert.Equal(second.GetProperty("id").GetString(), old.GetProperty("replacedBy").GetString());
        Assert.Equal("60", old.GetProperty("inputs").GetProperty("angleDegrees").GetString());

        // Two people replaced the same one: the second is told.
        var late = await car.Fabricator.PostAsync(
            $"{car.JobPath}/figures",
            Body("Brace, top", Slanted, "110", first.GetProperty("id").GetString()),
            409
        );
        Assert.Equal("figureEnded", late.ReasonCode());
        var path = $"/api/v1/figures/{second.GetProperty("id").GetString()}";
        var no = await car.Fabricator.PostAsync($"{path}/withdraw", new { }, 400);
        Assert.True(no.GetProperty("errors").TryGetProperty("reason", out _));
        await car.Fabricator.PostAsync($"{path}/withdraw", new { reason = "Measured again" }, 200);
        await car.Fabricator.PostAsync($"{path}/withdraw", new { reason = "Measured again" }, 409);
        using var paper = await car.Fabricator.GetAsync(
            new Uri($"{path}/papers/wrap.pdf", UriKind.Relative),
            TestContext.Current.CancellationToken
        );
        Assert.Equal(409, (int)paper.StatusCode);

        var job = new JobId(Guid.Parse(car.JobId));
        var events = await shop.WithAsync<QueryRunner, Outcome<List<EventRow>>>(q =>
            q.RunAsync<List<EventRow>>(
                Permission.SeeHistory,
                Actor.System,
                async db =>
                    await db
                        .Events.Where(e => e.Subject == "figure" && e.Job == job)
                        .OrderBy(e => e.Sequence)
                        .ToListAsync(TestContext.Current.CancellationToken),
                TestContext.Current.CancellationToken
            )
        );
        Assert.Equal(["figure.saved", "figure.replaced", "figure.withdrawn"], events.Value.Select(e => e.Type));
        Assert.All(events.Value, e => Assert.DoesNotContain("Brace, top", e.Data, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Paper_of_saved_figures_names_job_car_and_operation()
    {
        var car = await CarStory.BeginAsync(shop, "Pia Vale");
        var saved = await SaveAsync(car, "Brace, foot", Slanted, "110");
        var number = (await car.JobAsync()).GetProperty("number").GetString()!;

        var bytes = await car.Inspector.GetByteArrayAsync(
            new Uri($"/api/v1/figures/{saved.GetProperty("id").GetString()}/papers/wrap.pdf?size=a4", UriKind.Relative),
            TestContext.Current.CancellationToken
        );

        using var pdf = PdfDocument.Open(bytes);
        var text = string.Concat(pdf.GetPages().Select(p => p.Text)).Replace(" ", "", StringComparison.Ordinal);
        Assert.Contains(number, text, StringComparison.Ordinal);
        Assert.Contains("FerrowLynx", text, StringComparison.Ordinal);
        Assert.Contains("Brace,foot", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task On_a_tablet_figures_are_saved_by_whoever_entered_their_pin_last_if_they_may()
    {
        var car = await CarStory.BeginAsync(shop, "Quin Vale");
        var job = new JobId(Guid.Parse(car.JobId));
        Actor ByPin(Role role) =>
            new(ActorKind.Person, shop.People[role], null, new HashSet<Role> { role }, "Tablet bay 7")
            {
                IsByPin = true,
            };
        Task<Outcome<JobFigureView>> Save(Role role, string title) =>
            shop.WithAsync<SaveJobFigure, Outcome<JobFigureView>>(s =>
                s.RunAsync(
                    job,
                    new("notch", "110", title, Inputs: new Dictionary<string, string?> { ["angleDegrees"] = "60" }),
                    Envelope.Of(ByPin(role)),
                    TestContext.Current.CancellationToken
                )
            );

        Assert.Equal("Fabricator Person", (await Save(Role.Fabricator, "Brace, left")).Value.SavedBy);
        Assert.Equal("Inspector Person", (await Save(Role.Inspector, "Brace, right")).Value.SavedBy);
        // The front desk may see figures on the tablet, and saves none, by PIN as little as by password.
        Assert.IsType<Failure.Forbidden>((await Save(Role.FrontDesk, "Brace, third")).Failure);
        var list = await car.Desk.GetJsonAsync($"{car.JobPath}/figures");
        Assert.Equal(
            ["Brace, left", "Brace, right"],
            list.GetProperty("inForce").EnumerateArray().Select(f => f.GetProperty("title").GetString())
        );
        var events = await shop.WithAsync<QueryRunner, Outcome<List<EventRow>>>(q =>
            q.RunAsync<List<EventRow>>(
                Permission.SeeHistory,
                Actor.System,
                async db =>
                    await db
                        .Events.Where(e => e.Subject == "figure" && e.Job == job)
                        .OrderBy(e => e.Sequence)
                        .ToListAsync(TestContext.Current.CancellationToken),
                TestContext.Current.CancellationToken
            )
        );
        Assert.All(events.Value, e => Assert.Equal("Tablet bay 7", e.Device));
    }

    [Fact]
    public async Task What_cannot_be_saved_is_named()
    {
        var car = await CarStory.BeginAsync(shop, "Rex Vale");
        async Task Refused(object body, string path)
        {
            var problem = await car.Fabricator.PostAsync($"{car.JobPath}/figures", body, 400);
            Assert.True(problem.GetProperty("errors").TryGetProperty(path, out _), problem.ToString());
        }

        await Refused(Body("x", new() { ["angleDegrees"] = "91" }, "110"), "inputs.angleDegrees");
        await Refused(Body("x", new() { ["angle"] = "45" }, "110"), "inputs.angle");
        await Refused(Body("x", Slanted, "111"), "operation");
        await Refused(Body(" ", Slanted, "110"), "title");
        await Refused(Body("x", Slanted, "110", "0198a000-0000-7000-8000-000000000000"), "replaces");
        await Refused(new { calculator = "laser", title = "x" }, "calculator");
        await Refused(
            new
            {
                calculator = "notch",
                title = "x",
                unit = "cm",
            },
            "unit"
        );
        await Refused(
            new
            {
                calculator = "notch",
                title = "x",
                tapeDivisions = 10,
            },
            "tapeDivisions"
        );
        // The front desk sees figures and saves none.
        await car.Desk.PostAsync($"{car.JobPath}/figures", Body("x", Slanted, "110"), 403);
        Assert.Empty(Ids(await car.Desk.GetJsonAsync($"{car.JobPath}/figures"), "inForce"));
    }

    private static IEnumerable<string?> Ids(JsonElement list, string name) =>
        list.GetProperty(name).EnumerateArray().Select(f => f.GetProperty("id").GetString());

    private static Task<JsonElement> SaveAsync(
        CarStory car,
        string title,
        Dictionary<string, string> inputs,
        string operation,
        string? replaces = null
    ) => car.Fabricator.PostAsync($"{car.JobPath}/figures", Body(title, inputs, operation, replaces));

    private static object Body(
        string title,
        Dictionary<string, string> inputs,
        string operation,
        string? replaces = null
    ) =>
        new
        {
            calculator = "notch",
            operation,
            title,
            unit = "in",
            tapeDivisions = 32,
            inputs,
            replaces,
        };
}

public sealed class JobFiguresApiOnSqlite(SqliteShop shop) : JobFiguresApiTests(shop), IClassFixture<SqliteShop>;

public sealed class JobFiguresApiOnPostgres(PostgresShop shop) : JobFiguresApiTests(shop), IClassFixture<PostgresShop>;
