using System.Globalization;
using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using PdfFile = UglyToad.PdfPig.PdfDocument;

namespace ShopFloor.Web.Tests.Times;

/// <summary>Lines that stood on paper while the server could not be reached, on both databases.</summary>
public abstract class PaperApiTests(ShopHost shop)
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_line_from_paper_is_a_back_dated_tap_and_marked_in_the_times_and_in_the_history()
    {
        var car = await CarStory.BeginAsync(shop, "Paula Pen");
        shop.Clock.Advance(TimeSpan.FromDays(9));

        var done = await EnterAsync(car, "10", Role.Fabricator, 5, 3, isDone: true);

        Assert.Equal("done", done.GetProperty("operation").GetProperty("state").GetString());
        var spell = Assert.Single(await SpellsAsync(car));
        Assert.Equal("Fabricator Person", spell.GetProperty("name").GetString());
        Assert.Equal(120, spell.GetProperty("minutes").GetInt64());
        Assert.Equal("whole", spell.GetProperty("fromPaper").GetString());
        Assert.Equal("FrontDesk Person", spell.GetProperty("enteredBy").GetString());
        var events = await EventsAsync(car);
        var started = events.Single(e => e.GetProperty("type").GetString() == "operation.started");
        Assert.Equal(At(5), started.GetProperty("occurredAt").GetDateTimeOffset());
        Assert.Equal("FrontDesk Person", started.GetProperty("personName").GetString());
        Assert.Equal("Fabricator Person", started.GetProperty("paperOf").GetString());
        var finished = events.Single(e => e.GetProperty("type").GetString() == "operation.finished");
        Assert.Equal(At(3), finished.GetProperty("occurredAt").GetDateTimeOffset());

        // Begun on one line and ended on the next; and begun by a tap before the server went.
        await EnterAsync(car, "20", Role.Fabricator, 3, null);
        Assert.Equal("start", (await SpellsAsync(car))[^1].GetProperty("fromPaper").GetString());
        await EnterAsync(car, "20", Role.Fabricator, null, 2);
        Assert.Equal("whole", (await SpellsAsync(car))[^1].GetProperty("fromPaper").GetString());
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/20/start", new { }, 200);
        shop.Clock.Advance(TimeSpan.FromHours(2));
        await EnterAsync(car, "20", Role.Fabricator, null, 1);
        Assert.Equal("end", (await SpellsAsync(car))[^1].GetProperty("fromPaper").GetString());
    }

    [Fact]
    public async Task A_line_is_refused_by_the_rules_of_the_taps_with_the_reason_and_leaves_nothing_half()
    {
        var car = await CarStory.BeginAsync(shop, "Rules Pen");
        shop.Clock.Advance(TimeSpan.FromHours(8));
        Assert.Contains("operation", await RefusedAsync(car, "20", Role.Fabricator, 5, 3, isDone: true));

        var operations = (await car.JobAsync()).GetProperty("operations").EnumerateArray().ToList();
        var inspection = operations.FindIndex(o => o.GetProperty("skill").GetString() == Operation.InspectorSkill);
        await car.WorkUntilAsync(operations[inspection - 1].GetProperty("code").GetString());
        var code = operations[inspection].GetProperty("code").GetString()!;
        var (spells, events) = ((await SpellsAsync(car)).Count, (await EventsAsync(car)).Count);

        // The start alone would be taken; the finish is not, because the hold lines are open.
        Assert.Contains("inspection", await RefusedAsync(car, code, Role.Fabricator, 0.3, 0.1, isDone: true));

        Assert.Equal(spells, (await SpellsAsync(car)).Count);
        Assert.Equal(events, (await EventsAsync(car)).Count);
        await EnterAsync(car, code, Role.Fabricator, 0.3, 0.1);
        Assert.Equal(spells + 1, (await SpellsAsync(car)).Count);
    }

    [Fact]
    public async Task What_cannot_be_true_is_said_and_no_minute_counts_twice()
    {
        var car = await CarStory.BeginAsync(shop, "Truth Pen");
        shop.Clock.Advance(TimeSpan.FromHours(9));
        Assert.Contains("notTheirs", await RefusedAsync(car, "10", Role.FrontDesk, 5, 3));
        Assert.Contains("notOnIt", await RefusedAsync(car, "10", Role.Fabricator, null, 3));
        await EnterAsync(car, "10", Role.Fabricator, 5, 3);
        Assert.Contains("timesOverlap", await RefusedAsync(car, "10", Role.Fabricator, 4, 2));
        Assert.Contains("timesOverlap", await RefusedAsync(car, "10", Role.Fabricator, 4, null));
        await EnterAsync(car, "10", Role.Fabricator, 2, null);
        Assert.Contains("alreadyOnIt", await RefusedAsync(car, "10", Role.Fabricator, 1, 0.5));

        var right = Line("10", Role.Fabricator, null, 1, false);
        foreach (
            var (path, wrong) in new (string, object)[]
            {
                ("on", right with { On = null }),
                ("on", Line("10", Role.Fabricator, 24 * 32, (24 * 32) - 1, false)),
                ("beganAtClock", right with { EndedAtClock = null }),
                ("beganAtClock", Line("10", Role.Fabricator, -1, null, false)),
                ("endedAtClock", right with { EndedAtClock = "half past" }),
                ("endedAtClock", Line("10", Role.Fabricator, 1, null, true)),
                ("personId", right with { PersonId = Guid.Empty }),
                ("operation", right with { Operation = "9999" }),
            }
        )
        {
            var problem = await car.Desk.PostAsync($"{car.JobPath}/from-paper", wrong, 400);
            Assert.True(problem.GetProperty("errors").TryGetProperty(path, out _), $"{path}: {problem}");
        }

        await car.Fabricator.PostAsync($"{car.JobPath}/from-paper", right, 403);
        var key = Guid.CreateVersion7().ToString();
        await car.Desk.PostAsync($"{car.JobPath}/from-paper", right, 200, key);
        await car.Desk.PostAsync($"{car.JobPath}/from-paper", right, 200, key);
        Assert.Equal(2, (await SpellsAsync(car)).Count);
    }

    [Fact]
    public async Task Hot_work_is_never_begun_from_paper_and_its_watch_begins_when_it_is_typed_in()
    {
        var car = await CarStory.BeginAsync(shop, "Spark Pen");
        await car.WorkUntilAsync("40");
        shop.Clock.Advance(TimeSpan.FromHours(3));
        Assert.Contains("hotWorkOnPaper", await RefusedAsync(car, "50", Role.Fabricator, 2, 1));
        Assert.Contains("permit", await RefusedAsync(car, "50", Role.Fabricator, 2, 1, isDone: true));
        var permit = await car.HotWork.OpenAsync(car.JobId, "bay");

        await EnterAsync(car, "50", Role.Fabricator, 2, 1, isDone: true);

        var watch = await car.Owner.GetJsonAsync($"/api/v1/hot-work-permits/{permit.GetProperty("id").GetString()}");
        Assert.Equal("watch", watch.GetProperty("state").GetString());
        Assert.True(watch.GetProperty("watchUntil").GetDateTimeOffset() > shop.Clock.GetUtcNow());
        var spell = (await SpellsAsync(car))[^1];
        Assert.Equal("50", spell.GetProperty("operation").GetString());
        Assert.Equal(60, spell.GetProperty("minutes").GetInt64());
        Assert.Equal("whole", spell.GetProperty("fromPaper").GetString());
        await car.HotWork.CloseAllAsync();
    }

    [Fact]
    public async Task The_travellers_of_all_cars_are_one_file_with_lines_for_the_pen()
    {
        var (first, second) = (await CarStory.BeginAsync(shop, "Set One"), await CarStory.BeginAsync(shop, "Set Two"));
        await second.Fabricator.PostAsync($"{second.JobPath}/operations/10/start", new { }, 200);

        using var answer = await first.Fabricator.GetAsync(new Uri("/api/v1/travellers/pdf", UriKind.Relative), Ct);

        Assert.Equal("application/pdf", answer.Content.Headers.ContentType?.MediaType);
        using var file = PdfFile.Open(await answer.Content.ReadAsByteArrayAsync(Ct));
        var pages = file.GetPages().Select(p => string.Join(' ', p.GetWords().Select(w => w.Text))).ToList();
        foreach (var car in new[] { first, second })
        {
            var number = (await car.JobAsync()).GetProperty("number").GetString()!;
            Assert.Contains(pages, p => p.StartsWith(number, StringComparison.Ordinal));
            Assert.Contains(
                pages,
                p =>
                    p.Contains(number, StringComparison.Ordinal) && p.Contains("times by pen", StringComparison.Ordinal)
            );
        }

        Assert.Contains(pages, p => p.Contains("Fabricator Person is on it since", StringComparison.Ordinal));
    }

    private DateTimeOffset At(double hoursAgo)
    {
        var at = shop.Clock.GetUtcNow() - TimeSpan.FromHours(hoursAgo);
        return new DateTimeOffset(at.Ticks - (at.Ticks % TimeSpan.TicksPerMinute), TimeSpan.Zero);
    }

    private sealed record PaperBody(
        string Operation,
        Guid PersonId,
        string? On,
        string? BeganAtClock,
        string? EndedAtClock,
        bool IsDone
    );

    private PaperBody Line(string code, Role person, double? began, double? ended, bool isDone)
    {
        var zone = TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin");
        DateTimeOffset? Local(double? ago) => ago is { } hours ? TimeZoneInfo.ConvertTime(At(hours), zone) : null;
        string? Clock(double? ago) => Local(ago)?.ToString("HH:mm", CultureInfo.InvariantCulture);
        var day = Local(began) ?? Local(ended);
        return new(
            code,
            shop.People[person].Value,
            day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            Clock(began),
            Clock(ended),
            isDone
        );
    }

    private Task<JsonElement> EnterAsync(
        CarStory car,
        string code,
        Role person,
        double? began,
        double? ended,
        bool isDone = false
    ) => car.Desk.PostAsync($"{car.JobPath}/from-paper", Line(code, person, began, ended, isDone), 200);

    private async Task<List<string?>> RefusedAsync(
        CarStory car,
        string code,
        Role person,
        double? began,
        double? ended,
        bool isDone = false
    ) =>
        [
            .. (await car.Desk.PostAsync($"{car.JobPath}/from-paper", Line(code, person, began, ended, isDone), 409))
                .GetProperty("reasons")
                .EnumerateArray()
                .Select(r => r.GetProperty("code").GetString()),
        ];

    private static async Task<List<JsonElement>> SpellsAsync(CarStory car) =>
        [.. (await car.Desk.GetJsonAsync($"{car.JobPath}/times")).GetProperty("spells").EnumerateArray()];

    private static async Task<List<JsonElement>> EventsAsync(CarStory car)
    {
        var found = new List<JsonElement>();
        for (long after = 0; ; )
        {
            var page = (await car.Owner.GetJsonAsync($"/api/v1/events?after={after}"))
                .GetProperty("items")
                .EnumerateArray()
                .ToList();
            if (page.Count == 0)
            {
                return found;
            }

            found.AddRange(page.Where(e => e.GetProperty("jobId").GetString() == car.JobId));
            after = page[^1].GetProperty("sequence").GetInt64();
        }
    }
}

public sealed class PaperApiOnSqlite(SqliteShop shop) : PaperApiTests(shop), IClassFixture<SqliteShop>;

public sealed class PaperApiOnPostgres(PostgresShop shop) : PaperApiTests(shop), IClassFixture<PostgresShop>;
