using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Times;

/// <summary>Times, their corrections, breaks and attendance through the API, on both databases.</summary>
public abstract class TimesApiTests(ShopHost shop)
{
    private const string Taps = "/api/v1/times/taps";

    [Fact]
    public async Task The_desk_corrects_a_time_with_a_reason_and_job_page_and_week_count_the_same()
    {
        var car = await CarStory.BeginAsync(shop, "Ada Clock");
        shop.Clock.Advance(TimeSpan.FromSeconds(20));
        await car.Fabricator.PostAsync(Tap(car, "10", "start"), new { }, 200);
        shop.Clock.Advance(new TimeSpan(3, 0, 45));
        await car.Fabricator.PostAsync(Tap(car, "10", "stop"), new { }, 200);
        await car.Fabricator.PostAsync(Tap(car, "10", "start"), new { }, 200);
        shop.Clock.Advance(TimeSpan.FromSeconds(50));
        await car.Fabricator.PostAsync(Tap(car, "10", "stop"), new { }, 200);
        var times = await car.Desk.GetJsonAsync($"{car.JobPath}/times");
        var first = times.GetProperty("spells")[0];
        var start = first.GetProperty("startedAt").GetDateTimeOffset();
        await SameInWeekAsync(car);

        var path = $"{car.JobPath}/times/{first.GetProperty("id").GetString()}/correct";
        var fix = new
        {
            startedAt = start,
            endedAt = start.AddHours(2),
            reason = "Went to lunch",
        };
        await car.Fabricator.PostAsync(path, fix, 403);
        await car.Desk.PostAsync(path, new { startedAt = start, endedAt = start.AddHours(2) }, 400);
        var corrected = (await car.Desk.PostAsync(path, fix, 200)).GetProperty("spells")[0];

        Assert.Equal(120, corrected.GetProperty("minutes").GetInt64());
        var trace = Assert.Single(corrected.GetProperty("corrections").EnumerateArray());
        Assert.Equal(
            first.GetProperty("endedAt").GetDateTimeOffset(),
            trace.GetProperty("fromEnd").GetDateTimeOffset()
        );
        Assert.Equal("FrontDesk Person", trace.GetProperty("by").GetString());
        Assert.Equal("Went to lunch", trace.GetProperty("reason").GetString());
        await SameInWeekAsync(car);
        var history = (await car.Owner.GetJsonAsync("/api/v1/events?after=0&pageSize=200")).ToString();
        Assert.Contains("time.corrected", history, StringComparison.Ordinal);
        Assert.DoesNotContain("Went to lunch", history, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Timer_past_the_end_of_the_shift_is_found_and_its_person_says_when_they_stopped()
    {
        var car = await CarStory.BeginAsync(shop, "Ben Clock");
        await SetShiftAsync(car.Owner, LocalIn(TimeSpan.FromHours(2)));
        await car.Fabricator.PostAsync(Tap(car, "10", "start"), new { }, 200);
        Assert.DoesNotContain(await ForgottenAsync(car), s => Is(s, car));
        var half = LocalIn(TimeSpan.FromMinutes(30));
        shop.Clock.Advance(TimeSpan.FromMinutes(125));
        Assert.Contains(await ForgottenAsync(car), s => Is(s, car));

        await car.Fabricator.PostAsync(Tap(car, "10", "still-on-it"), new { }, 200);
        Assert.DoesNotContain(await ForgottenAsync(car), s => Is(s, car));
        shop.Clock.Advance(TimeSpan.FromHours(11));
        Assert.Contains(await ForgottenAsync(car), s => Is(s, car));
        var answered = await car.Fabricator.PostAsync(Tap(car, "10", "stopped-at"), new { stoppedAtClock = half }, 200);

        Assert.DoesNotContain(await ForgottenAsync(car), s => Is(s, car));
        var spell = Assert.Single(answered.GetProperty("spells").EnumerateArray());
        Assert.InRange(spell.GetProperty("minutes").GetInt64(), 29, 30);
        Assert.Equal(JsonValueKind.Null, spell.GetProperty("corrections")[0].GetProperty("fromEnd").ValueKind);
        await SetShiftAsync(car.Owner, "");
    }

    [Fact]
    public async Task A_break_stops_every_timer_and_begins_the_fire_watch_and_work_ends_the_break()
    {
        var car = await CarStory.BeginAsync(shop, "Cleo Clock");
        await car.WorkUntilAsync("40");
        var permit = await car.HotWork.OpenAsync(car.JobId, "bay");
        await car.Fabricator.PostAsync(Tap(car, "50", "start"), new { }, 200);
        shop.Clock.Advance(TimeSpan.FromMinutes(10));

        var answer = await car.Fabricator.PostAsync(Taps, new { tap = "begin", kind = "break" }, 200);

        Assert.Equal(1, answer.GetProperty("stopped").GetInt32());
        Assert.Equal("break", answer.GetProperty("doing").GetString());
        var watch = await car.Owner.GetJsonAsync($"/api/v1/hot-work-permits/{permit.GetProperty("id").GetString()}");
        Assert.Equal("watch", watch.GetProperty("state").GetString());
        Assert.Equal(
            shop.Clock.GetUtcNow().AddMinutes(FireWatch.UsualMinutes),
            watch.GetProperty("watchUntil").GetDateTimeOffset()
        );
        var mine = await car.Fabricator.GetJsonAsync("/api/v1/times/mine");
        Assert.Equal("50", mine.GetProperty("leftBefore")[0].GetProperty("operation").GetString());

        shop.Clock.Advance(TimeSpan.FromMinutes(15));
        await car.Fabricator.PostAsync(Tap(car, "50", "start"), new { }, 200);
        mine = await car.Fabricator.GetJsonAsync("/api/v1/times/mine");
        Assert.Equal(JsonValueKind.Null, mine.GetProperty("doing").ValueKind);
        Assert.Empty(mine.GetProperty("leftBefore").EnumerateArray());

        // Correcting a running time ends it, which is a stop of hot work like any other.
        var running = (await car.Desk.GetJsonAsync($"{car.JobPath}/times"))
            .GetProperty("spells")
            .EnumerateArray()
            .Single(s => s.GetProperty("endedAt").ValueKind == JsonValueKind.Null);
        var now = shop.Clock.GetUtcNow();
        await car.Desk.PostAsync(
            $"{car.JobPath}/times/{running.GetProperty("id").GetString()}/correct",
            new
            {
                startedAt = now,
                endedAt = now,
                reason = "Tapped by mistake",
            },
            200
        );
        watch = await car.Owner.GetJsonAsync($"/api/v1/hot-work-permits/{permit.GetProperty("id").GetString()}");
        Assert.Equal("watch", watch.GetProperty("state").GetString());
        await car.HotWork.CloseAllAsync();
    }

    [Fact]
    public async Task A_day_shows_attendance_training_and_cleaning_beside_the_cars()
    {
        using var worker = await shop.ApiAsync(Role.Inspector);
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var begun = shop.Clock.GetUtcNow();
        await worker.PostAsync(Taps, new { tap = "arrive" }, 200);
        await worker.PostAsync(Taps, new { tap = "arrive" }, 200);
        shop.Clock.Advance(TimeSpan.FromMinutes(30));
        await worker.PostAsync(Taps, new { tap = "begin", kind = "training" }, 200);
        shop.Clock.Advance(TimeSpan.FromMinutes(45));
        await worker.PostAsync(Taps, new { tap = "begin", kind = "cleaning" }, 200);
        shop.Clock.Advance(TimeSpan.FromMinutes(15));
        await worker.PostAsync(Taps, new { tap = "leave" }, 200);
        Assert.Equal("notHere", (await worker.PostAsync(Taps, new { tap = "leave" }, 409)).ReasonCode());
        await worker.PostAsync(Taps, new { tap = "begin", kind = "other" }, 400);
        await worker.PostAsync(Taps, new { tap = "dance" }, 400);

        var mine = (await DaysAsync(desk, begun))
            .Where(p => p.GetProperty("name").GetString() == "Inspector Person")
            .ToList();

        Assert.Equal(90, mine.Sum(p => p.GetProperty("attendanceMinutes").GetInt64()));
        Assert.Equal(60, mine.Sum(p => p.GetProperty("otherMinutes").GetInt64()));
        var id = mine.SelectMany(p => p.GetProperty("spells").EnumerateArray())
            .First(s => s.GetProperty("kind").GetString() == "training")
            .GetProperty("id")
            .GetString();
        var fix = new
        {
            startedAt = begun.AddMinutes(30),
            endedAt = begun.AddMinutes(80),
            reason = "Ran over",
        };
        Assert.Equal("timesOverlap", (await desk.PostAsync($"/api/v1/times/{id}/correct", fix, 409)).ReasonCode());
        var shorter = new
        {
            startedAt = begun.AddMinutes(30),
            endedAt = begun.AddMinutes(60),
            reason = "Ended early",
        };
        await desk.PostAsync($"/api/v1/times/{id}/correct", shorter, 204);
        var added = new
        {
            personId = shop.People[Role.Inspector].Value,
            kind = "upkeep",
            startedAt = begun.AddHours(-3),
            endedAt = begun.AddHours(-2),
            reason = "Tablet was empty",
        };
        await desk.PostAsync("/api/v1/times", added, 201);
        Assert.Equal("timesOverlap", (await desk.PostAsync("/api/v1/times", added, 409)).ReasonCode());
        await worker.PostAsync("/api/v1/times", added, 403);
        await worker.GetJsonAsync("/api/v1/times", 403);
    }

    [Fact]
    public async Task Two_taps_at_once_begin_one_day_and_a_key_without_a_person_has_none()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var answers = await Task.WhenAll(
            Enumerable.Range(0, 6).Select(_ => owner.SendAsync(HttpMethod.Post, Taps, new { tap = "arrive" }))
        );
        Assert.All(answers, a => Assert.True(a.IsSuccessStatusCode));

        var spells = (await DaysAsync(desk, shop.Clock.GetUtcNow()))
            .Where(p => p.GetProperty("name").GetString() == "Olga Owner")
            .SelectMany(p => p.GetProperty("spells").EnumerateArray())
            .Count(s =>
                s.GetProperty("kind").GetString() == "attendance"
                && s.GetProperty("endedAt").ValueKind == JsonValueKind.Null
            );

        Assert.Equal(1, spells);
        await owner.PostAsync(Taps, new { tap = "leave" }, 200);
        using var integration = await shop.ApiAsync(Role.Fabricator, null);
        await integration.PostAsync(Taps, new { tap = "arrive" }, 403);
    }

    [Fact]
    public async Task Forgotten_going_is_put_right_by_the_person_with_its_trace()
    {
        using var worker = await shop.ApiAsync(Role.Fabricator, shop.OtherFabricator);
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        await worker.PostAsync(Taps, new { tap = "arrive" }, 200);
        var went = LocalIn(TimeSpan.FromHours(8));
        shop.Clock.Advance(TimeSpan.FromHours(15));
        await worker.PostAsync(Taps, new { tap = "still-here" }, 200);
        await worker.PostAsync(Taps, new { tap = "leave", leftAtClock = "eight" }, 400);

        await worker.PostAsync(Taps, new { tap = "leave", leftAtClock = went }, 200);

        var spell = (await DaysAsync(desk, shop.Clock.GetUtcNow().AddHours(-15)))
            .SelectMany(p => p.GetProperty("spells").EnumerateArray())
            .Last(s =>
                s.GetProperty("name").GetString() == "Other Fabricator"
                && s.GetProperty("kind").GetString() == "attendance"
            );
        var length =
            spell.GetProperty("endedAt").GetDateTimeOffset() - spell.GetProperty("startedAt").GetDateTimeOffset();
        Assert.InRange(length.TotalMinutes, 479, 480);
        Assert.Single(spell.GetProperty("corrections").EnumerateArray());
    }

    private static async Task SameInWeekAsync(CarStory car)
    {
        var minutes = (await car.Desk.GetJsonAsync($"{car.JobPath}/times")).GetProperty("minutes").GetInt64();
        var week = await car.Owner.GetJsonAsync("/api/v1/reports/week");
        var hours = week.GetProperty("hoursLogged")
            .GetProperty("jobs")
            .EnumerateArray()
            .Single(j => j.GetProperty("job").GetProperty("id").GetString() == car.JobId)
            .GetProperty("hours")
            .GetDecimal();
        Assert.Equal(minutes, decimal.Round(hours * 60, 6));
    }

    private static string Tap(CarStory car, string code, string tap) => $"{car.JobPath}/operations/{code}/{tap}";

    private static bool Is(JsonElement spell, CarStory car) => spell.GetProperty("jobId").GetString() == car.JobId;

    private static async Task<IReadOnlyList<JsonElement>> ForgottenAsync(CarStory car) =>
        [.. (await car.Desk.GetJsonAsync("/api/v1/times/forgotten")).EnumerateArray()];

    private async Task<IReadOnlyList<JsonElement>> DaysAsync(HttpClient desk, DateTimeOffset from)
    {
        var people = new List<JsonElement>();
        for (var day = Local(from).Date; day <= Local(shop.Clock.GetUtcNow()).Date; day = day.AddDays(1))
        {
            var view = await desk.GetJsonAsync($"/api/v1/times?on={day:yyyy-MM-dd}");
            people.AddRange(view.GetProperty("people").EnumerateArray());
        }

        return people;
    }

    private string LocalIn(TimeSpan later) => $"{Local(shop.Clock.GetUtcNow() + later):HH:mm}";

    private static DateTimeOffset Local(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin"));

    private static async Task SetShiftAsync(HttpClient owner, string shiftEnd)
    {
        var details = (await owner.GetJsonAsync("/api/v1/shop")).GetProperty("details");
        var changed = details
            .EnumerateObject()
            .ToDictionary(p => p.Name, p => p.Name == "shiftEndsAt" ? (object)shiftEnd : p.Value);
        using var saved = await owner.SendAsync(HttpMethod.Put, "/api/v1/shop", changed);
        await saved.JsonAsync(200);
    }
}

public sealed class TimesApiOnSqlite(SqliteShop shop) : TimesApiTests(shop), IClassFixture<SqliteShop>;

public sealed class TimesApiOnPostgres(PostgresShop shop) : TimesApiTests(shop), IClassFixture<PostgresShop>;
