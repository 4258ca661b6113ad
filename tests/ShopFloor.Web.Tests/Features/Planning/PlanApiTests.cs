using System.Globalization;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using ShopFloor.Application.Planning;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;

namespace ShopFloor.Web.Tests.Features.Planning;

/// <summary>From open jobs to a plan, wishes, hours and "what if", on both databases.</summary>
public abstract class PlanApiTests(ShopHost shop)
{
    private const string Plan = "/api/v1/plan";

    [Fact]
    public async Task A_plan_is_made_in_the_background_keeps_wishes_and_says_what_has_moved_on()
    {
        var car = await CarStory.BeginAsync(shop, "Pia Planner");
        var run = await MakeAsync(car.Desk);
        Assert.Equal("finished", run.GetProperty("state").GetString());
        var plan = await car.Desk.GetJsonAsync(Plan);
        // Cars of other tests share the shop and its clock, so some may be late; the words agree with the rows.
        Assert.Contains(
            plan.GetProperty("cars").EnumerateArray().Any(IsLate) ? "Cars are late" : "No car is late",
            run.GetProperty("quality").GetString(),
            StringComparison.Ordinal
        );
        Assert.Empty(plan.GetProperty("movedOn").EnumerateArray());
        var operations = Lines(plan, car).Select(l => l.GetProperty("operation").GetString()).ToHashSet();
        Assert.Subset(operations, new HashSet<string?> { "10", "50", "100", "190", "270" });

        // Given to somebody, not before a day: the plan says that it does not keep it yet, the next one does.
        var other = shop.OtherFabricator;
        var day = new DateOnly(2026, 6, 8);
        using (
            var wished = await car.Desk.SendAsync(
                HttpMethod.Put,
                $"{Plan}/jobs/{car.JobId}/operations/30",
                new { personId = other.Value, notBefore = "2026-06-08" }
            )
        )
        {
            await wished.JsonAsync(200);
        }

        plan = await car.Desk.GetJsonAsync(Plan);
        Assert.Contains("Wished since", plan.GetProperty("movedOn")[0].GetString(), StringComparison.Ordinal);
        await MakeAsync(car.Desk);
        plan = await car.Desk.GetJsonAsync(Plan);
        Assert.Empty(plan.GetProperty("movedOn").EnumerateArray());
        var trimOut = Lines(plan, car).First(l => l.GetProperty("operation").GetString() == "30");
        Assert.Equal(other.ToString(), trimOut.GetProperty("person").GetString());
        Assert.True(Day(trimOut) >= day);

        // A pinned beginning stays where it is put.
        var at = new DateTimeOffset(2026, 6, 10, 9, 0, 0, TimeSpan.Zero);
        using (
            var pinned = await car.Desk.SendAsync(
                HttpMethod.Put,
                $"{Plan}/jobs/{car.JobId}/operations/30",
                new { at = at.ToString("O", CultureInfo.InvariantCulture) }
            )
        )
        {
            await pinned.JsonAsync(200);
        }

        await MakeAsync(car.Desk);
        plan = await car.Desk.GetJsonAsync(Plan);
        trimOut = Lines(plan, car).First(l => l.GetProperty("operation").GetString() == "30");
        Assert.Equal(at, trimOut.GetProperty("from").GetDateTimeOffset());
        Assert.Equal(Monday(plan), plan.GetProperty("weeks")[0].GetProperty("monday").GetString());

        // The day has gone by and nothing was begun: the page says so.
        shop.Clock.Advance(TimeSpan.FromDays(40));
        plan = await car.Desk.GetJsonAsync(Plan);
        Assert.Contains(
            plan.GetProperty("movedOn").EnumerateArray(),
            m => m.GetString()!.StartsWith("Behind the plan", StringComparison.Ordinal)
        );
    }

    [Fact]
    public async Task Bad_wishes_and_hours_are_explained()
    {
        var car = await CarStory.BeginAsync(shop, "Willa Wish");
        async Task<string> RefusedAsync(HttpClient who, string path, object body, int expected = 400)
        {
            using var answer = await who.SendAsync(HttpMethod.Put, path, body);
            return (await answer.JsonAsync(expected)).GetRawText();
        }

        var wish = $"{Plan}/jobs/{car.JobId}/operations/30";
        Assert.Contains(
            "The day lies within",
            await RefusedAsync(car.Desk, wish, new { notBefore = "2020-01-01" }),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "There is no such person",
            await RefusedAsync(car.Desk, wish, new { personId = Guid.CreateVersion7() }),
            StringComparison.Ordinal
        );
        await RefusedAsync(car.Desk, $"{Plan}/jobs/{car.JobId}/operations/999", new { }, 404);
        await RefusedAsync(car.Desk, $"{Plan}/jobs/{Guid.CreateVersion7()}", new { weight = 3 }, 404);
        await RefusedAsync(car.Desk, $"{Plan}/jobs/{car.JobId}", new { weight = 9 });

        // Somebody without the skill is not given the work.
        var inspector = shop.People[Role.Inspector];
        Assert.Contains(
            "does not have the skill",
            await RefusedAsync(car.Desk, wish, new { personId = inspector.Value }),
            StringComparison.Ordinal
        );

        const string hours = "/api/v1/shop/hours";
        var week = new[] { "08:00-12:00", "8-12", "", "", "", "", "" };
        Assert.Contains(
            "is not a span of hours",
            await RefusedAsync(car.Owner, hours, new { hours = week }),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "at least one day",
            await RefusedAsync(car.Owner, hours, new { hours = new string[7] }),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "lies before the first",
            await RefusedAsync(
                car.Owner,
                hours,
                new
                {
                    hours = new[] { "08:00-16:00", "", "", "", "", "", "" },
                    closed = new[] { new { from = "2026-12-31", to = "2026-12-24" } },
                }
            ),
            StringComparison.Ordinal
        );
        await RefusedAsync(car.Desk, hours, new { hours = week }, 403);
        Assert.Contains(
            "no skill called",
            await RefusedAsync(car.Owner, $"/api/v1/people/{inspector}/hours", new { skills = new[] { "baker" } }),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Days_off_and_own_hours_change_the_plan_and_a_quoted_car_can_be_asked_about()
    {
        var car = await CarStory.BeginAsync(shop, "Hedda Hours");
        var people = await car.Owner.GetJsonAsync("/api/v1/people/hours");
        var person = people
            .GetProperty("items")
            .EnumerateArray()
            .First(p => p.GetProperty("person").GetString() == shop.OtherFabricator.ToString());
        Assert.Contains("welder", person.GetProperty("skills").EnumerateArray().Select(s => s.GetString()));
        using (
            var changed = await car.Owner.SendAsync(
                HttpMethod.Put,
                $"/api/v1/people/{shop.OtherFabricator}/hours",
                new
                {
                    hours = new[] { "08:00-10:00", "", "", "", "", "", "" },
                    away = new[]
                    {
                        new
                        {
                            from = "2026-07-01",
                            to = "2026-07-03",
                            note = "secret",
                        },
                    },
                }
            )
        )
        {
            var kept = await changed.JsonAsync(200);
            Assert.True(kept.GetProperty("hasOwnHours").GetBoolean());
            Assert.DoesNotContain("secret", kept.GetRawText(), StringComparison.Ordinal);
        }

        await MakeAsync(car.Desk);
        var plan = await car.Desk.GetJsonAsync(Plan);
        Assert.All(
            Lines(plan, car).Where(l => l.GetProperty("person").GetString() == shop.OtherFabricator.ToString()),
            l => Assert.Equal(DayOfWeek.Monday, Day(l).DayOfWeek)
        );

        var quote = (await shop.AcceptedQuoteAsync()).Value;
        var later = DateOnly.FromDateTime(shop.Clock.GetUtcNow().Date).AddDays(20);
        var answer = await car.Desk.GetJsonAsync(
            string.Create(CultureInfo.InvariantCulture, $"{Plan}/what-if?quoteId={quote}&day={later:yyyy-MM-dd}")
        );
        Assert.True(DateOnly.Parse(answer.GetProperty("readyOn").GetString()!, CultureInfo.InvariantCulture) > later);
        Assert.True(answer.GetProperty("openDays").GetInt32() > 3);
        await car.Desk.GetJsonAsync($"{Plan}/what-if?quoteId={quote}&day=1999-01-01", 400);
        await car.Desk.GetJsonAsync($"{Plan}/what-if?quoteId={Guid.CreateVersion7()}", 404);
        await car.Desk.GetJsonAsync($"{Plan}/what-if", 400);

        using var back = await car.Owner.SendAsync(
            HttpMethod.Put,
            $"/api/v1/people/{shop.OtherFabricator}/hours",
            new { }
        );
        await back.JsonAsync(200);
    }

    [Fact]
    public async Task One_search_at_a_time_a_dead_one_makes_room_and_a_cancelled_one_keeps_its_plan()
    {
        var car = await CarStory.BeginAsync(shop, "Cara Cancel");
        var asked = await car.Desk.PostAsync($"{Plan}/runs", new { seconds = 30 }, 202);
        var second = await car.Desk.PostAsync($"{Plan}/runs", new { }, 409);
        Assert.Contains("A plan is being made", second.GetRawText(), StringComparison.Ordinal);
        await car.Desk.PostAsync($"{Plan}/runs", new { seconds = 9999 }, 400);
        var id = asked.GetProperty("id").GetString();
        await car.Desk.PostAsync($"{Plan}/runs/{id}/cancel", new { }, 200);
        using (var cancelled = new CancellationTokenSource())
        {
            await cancelled.CancelAsync();
            await MakeAsync(id!, cancelled.Token);
        }

        var run = await car.Desk.GetJsonAsync($"{Plan}/runs/{id}");
        Assert.Equal("cancelled", run.GetProperty("state").GetString());
        Assert.NotEqual(JsonValueKind.Null, (await car.Desk.GetJsonAsync(Plan)).GetProperty("made").ValueKind);

        await car.Desk.PostAsync($"{Plan}/runs", new { }, 202);
        shop.Clock.Advance(TimeSpan.FromMinutes(2));
        await MakeAsync(car.Desk);
        await car.Desk.GetJsonAsync($"{Plan}/runs/{Guid.CreateVersion7()}", 404);
    }

    [Fact]
    public async Task An_answer_that_is_repeated_makes_no_second_plan()
    {
        var car = await CarStory.BeginAsync(shop, "Rita Repeat");
        var asked = await car.Desk.PostAsync($"{Plan}/runs", new { seconds = 1 }, 202, "the same key");
        var again = await car.Desk.PostAsync($"{Plan}/runs", new { seconds = 1 }, 202, "the same key");
        var id = asked.GetProperty("id").GetString()!;
        Assert.Equal(id, again.GetProperty("id").GetString());
        await MakeAsync(id, CancellationToken.None);
        var first = (await car.Desk.GetJsonAsync($"{Plan}/runs/{id}")).GetProperty("endedAt").GetDateTimeOffset();
        shop.Clock.Advance(TimeSpan.FromMinutes(3));
        await MakeAsync(id, CancellationToken.None);
        var second = (await car.Desk.GetJsonAsync($"{Plan}/runs/{id}")).GetProperty("endedAt").GetDateTimeOffset();
        Assert.Equal(first, second);
    }

    [Fact]
    public async Task A_search_that_finds_nothing_new_stays_alive_and_hears_of_its_end_from_another_server()
    {
        var car = await CarStory.BeginAsync(shop, "Hanna Heartbeat");
        var asked = await car.Desk.PostAsync($"{Plan}/runs", new { seconds = 300 }, 202);
        var id = asked.GetProperty("id").GetString()!;
        var quiet = new QuietSolver(
            shop.Clock,
            async () =>
            {
                // Longer than a dead one is waited for, then the stop, which only the database hears.
                var run = await car.Desk.GetJsonAsync($"{Plan}/runs/{id}");
                var waited = shop.Clock.GetUtcNow() - run.GetProperty("askedAt").GetDateTimeOffset();
                Assert.True(run.GetProperty("isAlive").GetBoolean(), $"dead after {waited}");
                if (waited > TimeSpan.FromMinutes(2))
                {
                    await car.Desk.PostAsync($"{Plan}/runs/{id}/cancel", new { }, 200);
                }
            }
        );
        await shop.WithAsync<IServiceProvider, bool>(async services =>
        {
            var make = ActivatorUtilities.CreateInstance<MakePlan>(services, quiet);
            await make.RunAsync(new PlanRunId(Guid.Parse(id)), CancellationToken.None, CancellationToken.None);
            return true;
        });
        var ended = await car.Desk.GetJsonAsync($"{Plan}/runs/{id}");
        Assert.Equal("cancelled", ended.GetProperty("state").GetString());
        Assert.True(quiet.Rounds > 2);
    }

    /// <summary>Says nothing and finds nothing until it is stopped; a second passes with each look.</summary>
    private sealed class QuietSolver(FakeTimeProvider clock, Func<Task> look) : IPlanSolver
    {
        public int Rounds { get; private set; }

        public WorkPlan Improve(
            PlanProblem problem,
            IReadOnlyList<PlanEntry> start,
            IReadOnlyCollection<int> leftOut,
            TimeSpan limit,
            int seed,
            Action<PlanProgress>? report,
            CancellationToken cancel
        )
        {
            for (; Rounds < 2000 && !cancel.IsCancellationRequested; Rounds++)
            {
                clock.Advance(TimeSpan.FromSeconds(1));
                look().GetAwaiter().GetResult();
            }

            return new WorkPlan(start, PlanMeasure.Of(problem, start), 0, null);
        }
    }

    /// <summary>RFC 5545, read by a reader that is not ours.</summary>
    [Fact]
    public async Task Calendars_are_read_by_others_name_no_customer_and_end_when_revoked()
    {
        var car = await CarStory.BeginAsync(shop, "Ical Äöü Customer");
        const string feeds = "/api/v1/calendar-feeds";
        await car.Owner.PostAsync(feeds, new { kind = "person" }, 400);
        await car.Owner.PostAsync(feeds, new { kind = "place", place = "moon" }, 400);
        await car.Owner.PostAsync(feeds, new { kind = "everything" }, 400);
        await MakeAsync(car.Desk);
        foreach (
            var body in new object[]
            {
                new { kind = "person", personId = shop.People[Role.Fabricator].Value },
                new { kind = "place", place = "bay" },
                new { kind = "appointments" },
            }
        )
        {
            var made = await car.Owner.PostAsync(feeds, body, 201);
            var path = new Uri(made.GetProperty("url").GetString()!).AbsolutePath;
            using var stranger = shop.CreateClient();
            using var answer = await stranger.GetAsync(path, TestContext.Current.CancellationToken);
            Assert.Equal("text/calendar", answer.Content.Headers.ContentType!.MediaType);
            var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
            Assert.DoesNotContain("Ical Äöü", text, StringComparison.Ordinal);
            Assert.All(text.Split("\r\n"), l => Assert.True(System.Text.Encoding.UTF8.GetByteCount(l) <= 75));
            var calendar = Ical.Net.Calendar.Load(text)!;
            var own = calendar.Events.ToList();
            Assert.NotEmpty(own);
            Assert.Equal(calendar.Events.Count, calendar.Events.Select(e => e.Uid).Distinct().Count());
            Assert.All(own, e => Assert.True(e.DtEnd!.AsUtc > e.DtStart!.AsUtc));

            using var revoked = await car.Owner.DeleteAsync(
                $"{feeds}/{made.GetProperty("id").GetString()}",
                TestContext.Current.CancellationToken
            );
            Assert.Equal(System.Net.HttpStatusCode.NoContent, revoked.StatusCode);
            using var gone = await stranger.GetAsync(path, TestContext.Current.CancellationToken);
            using var never = await stranger.GetAsync("/c/nothing", TestContext.Current.CancellationToken);
            Assert.Equal(System.Net.HttpStatusCode.NotFound, gone.StatusCode);
            Assert.Equal(
                await never.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken),
                await gone.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken)
            );
        }
    }

    private async Task<JsonElement> MakeAsync(HttpClient desk)
    {
        var asked = await desk.PostAsync($"{Plan}/runs", new { seconds = 1 }, 202);
        var id = asked.GetProperty("id").GetString()!;
        await MakeAsync(id, CancellationToken.None);

        // The clock stands still: what comes after is later.
        shop.Clock.Advance(TimeSpan.FromSeconds(1));
        return await desk.GetJsonAsync($"{Plan}/runs/{id}");
    }

    private Task<bool> MakeAsync(string id, CancellationToken cancel) =>
        shop.WithAsync<MakePlan, bool>(async make =>
        {
            await make.RunAsync(new PlanRunId(Guid.Parse(id)), cancel, CancellationToken.None);
            return true;
        });

    private static JsonElement Car(JsonElement plan, CarStory car) =>
        plan.GetProperty("cars").EnumerateArray().Single(c => c.GetProperty("job").GetString() == car.JobId);

    private static bool IsLate(JsonElement car) =>
        car.GetProperty("daysLate") is { ValueKind: JsonValueKind.Number } days && days.GetInt32() > 0;

    private static List<JsonElement> Lines(JsonElement plan, CarStory car) =>
        [
            .. plan.GetProperty("days")
                .EnumerateArray()
                .SelectMany(d => d.GetProperty("lines").EnumerateArray())
                .Where(l => l.GetProperty("job").GetString() == car.JobId),
        ];

    private static DateOnly Day(JsonElement line) =>
        DateOnly.FromDateTime(line.GetProperty("from").GetDateTimeOffset().Date);

    private static string Monday(JsonElement plan)
    {
        var first = DateOnly.Parse(
            plan.GetProperty("days")[0].GetProperty("day").GetString()!,
            CultureInfo.InvariantCulture
        );
        return first.AddDays(-(((int)first.DayOfWeek + 6) % 7)).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
    }
}

public sealed class PlanApiOnSqlite(SqliteShop shop) : PlanApiTests(shop), IClassFixture<SqliteShop>;

public sealed class PlanApiOnPostgres(PostgresShop shop) : PlanApiTests(shop), IClassFixture<PostgresShop>;
