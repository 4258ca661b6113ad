using System.Globalization;
using System.Net;
using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Jobs;
using ShopFloor.Web.Tests.Messages;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Diary;

/// <summary>The front desk's diary, on both databases. Every test looks only for its own cars and goes by the day the diary itself says.</summary>
public abstract class DiaryApiTests(ShopHost shop)
{
    private const string Diary = "/api/v1/diary";
    private const string Reminders = "/api/v1/reminders";

    [Fact]
    public async Task A_car_that_is_booked_takes_a_stand_from_its_day_on_and_nobody_needs_to_be_called_any_more()
    {
        var story = await MailStory.QuotedAsync(shop, name: "Alva Diarist");
        var before = await story.Desk.GetJsonAsync(Diary);
        Assert.Contains(Items(before, "enquiries"), e => e.Text("quote") == story.Quote);
        var today = Today(before);
        await story.AcceptAsync();
        var open = await story.Desk.GetJsonAsync(Diary);
        Assert.DoesNotContain(Items(open, "enquiries"), e => e.Text("quote") == story.Quote);
        Assert.Equal(["noDropOffAgreed"], Calls(open, story.Job));

        await story.AppointAsync(Iso(today.AddDays(3)), "08:30");
        var agreed = await story.Desk.GetJsonAsync(Diary);
        Assert.Empty(Calls(agreed, story.Job));
        var line = Assert.Single(Lines(agreed, today.AddDays(3)), l => Is(l, "job", story.Job));
        Assert.Equal(("dropOff", "08:30", "open"), (line.Text("matter"), line.Text("time"), line.Text("standing")));
        Assert.Equal(Cars(open, today.AddDays(2)), Cars(agreed, today.AddDays(2)));
        Assert.Equal(Cars(open, today.AddDays(3)) + 1, Cars(agreed, today.AddDays(3)));

        await story.AppointAsync(Iso(today.AddDays(1)), null);
        Assert.Equal(["notConfirmed"], Calls(await story.Desk.GetJsonAsync(Diary), story.Job));
        // Another page of days shows others of the same length.
        var later = await story.Desk.GetJsonAsync($"{Diary}?from={Iso(today.AddDays(14))}&days=7");
        Assert.Equal(7, later.GetProperty("days").GetArrayLength());
        Assert.Equal(Iso(today.AddDays(14)), later.Text("from"));
    }

    [Fact]
    public async Task An_accepted_offer_without_a_job_is_to_be_booked_in()
    {
        var story = await MailStory.QuotedAsync(shop, name: "Bo Waiting");
        var hash = (await story.Desk.GetJsonAsync($"/api/v1/quotes/{story.Quote}")).Text("contentHash");
        await story.Desk.PostAsync(
            $"/api/v1/quotes/{story.Quote}/accept",
            new { acceptedBy = "Bo Waiting", contentHash = hash },
            200
        );
        var call = Assert.Single(
            Items(await story.Desk.GetJsonAsync(Diary), "calls"),
            c => Is(c, "quote", story.Quote)
        );
        Assert.Equal("notBookedIn", call.Text("reason"));
    }

    [Fact]
    public async Task Stands_and_people_follow_the_shops_hours()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var diary = await desk.GetJsonAsync(Diary);
        var days = Items(diary, "days").Select(d => d.GetProperty("capacity")).ToList();
        Assert.Equal(14, days.Count);
        // A shop that has never said more: Monday to Friday, eight hours, and nobody knows how many cars fit.
        Assert.All(
            days,
            d => Assert.False(d.TryGetProperty("holds", out var holds) && holds.ValueKind == JsonValueKind.Number)
        );
        foreach (var day in days)
        {
            var on = DateOnly.Parse(day.Text("day"), CultureInfo.InvariantCulture);
            var works = on.DayOfWeek is not (DayOfWeek.Saturday or DayOfWeek.Sunday);
            Assert.Equal(works, day.GetProperty("isOpen").GetBoolean());
            Assert.Equal(works ? day.GetProperty("people").GetInt32() * 480 : 0, day.GetProperty("minutes").GetInt32());
        }

        using var owner = await shop.ApiAsync(Role.Owner);
        var hours = await owner.GetJsonAsync("/api/v1/shop/hours");
        var week = hours.GetProperty("hours").EnumerateArray().Select(h => h.GetString()).ToArray();
        await owner.PutAsync("/api/v1/shop/hours", new { hours = week, carsAtOnce = 201 }, 400);
        await owner.PutAsync("/api/v1/shop/hours", new { hours = week, carsAtOnce = 6 });
        var counted = Items(await desk.GetJsonAsync(Diary), "days").First().GetProperty("capacity");
        Assert.Equal(6, counted.GetProperty("holds").GetInt32());
        Assert.Equal(6 - counted.GetProperty("cars").GetInt32(), counted.GetProperty("room").GetInt32());

        await desk.GetJsonAsync($"{Diary}?days=0", 400);
        await desk.GetJsonAsync($"{Diary}?days=63", 400);
        await desk.GetJsonAsync($"{Diary}?from=2090-01-01", 400);
        var noDay = await desk.GetJsonAsync($"{Diary}?from=tomorrow", 400);
        Assert.True(noDay.GetProperty("errors").TryGetProperty("from", out _), noDay.ToString());
    }

    [Fact]
    public async Task A_reminder_is_written_moved_ticked_off_and_the_history_keeps_no_words()
    {
        var car = await CarStory.BeginAsync(shop, "Cleo Remember", isSigned: false);
        var today = Today(await car.Desk.GetJsonAsync(Diary));
        var text = $"Ask about the belts {car.JobId}";
        var written = await car.Desk.PostAsync(
            Reminders,
            new
            {
                text,
                day = Iso(today.AddDays(2)),
                time = "10:15",
                jobId = car.JobId,
            }
        );
        Assert.NotEqual(Guid.Empty, Guid.Parse(written.Text("customerId")));
        var line = Assert.Single(
            Lines(await car.Desk.GetJsonAsync(Diary), today.AddDays(2)),
            l => Is(l, "reminder", written.Text("id"))
        );
        Assert.Equal(("10:15", text, "Cleo Remember"), (line.Text("time"), line.Text("text"), line.Text("customer")));

        var path = $"{Reminders}/{written.Text("id")}";
        var moved = await ChangeAsync(car.Desk, path, new { day = Iso(today.AddDays(4)) }, 200);
        Assert.Equal("10:15", moved.Text("time"));
        await ChangeAsync(car.Desk, path, new { isDone = true }, 409, written.GetProperty("version").GetInt64());
        var done = await ChangeAsync(car.Desk, path, new { isDone = true }, 200);
        Assert.Equal(JsonValueKind.String, done.GetProperty("doneAt").ValueKind);
        // A second tick changes nothing and writes nothing.
        var again = await ChangeAsync(car.Desk, path, new { isDone = true }, 200);
        Assert.Equal(done.GetProperty("version").GetInt64(), again.GetProperty("version").GetInt64());
        await ChangeAsync(car.Desk, path, new { isDone = false }, 200);

        var id = Guid.Parse(written.Text("id"));
        List<Data.History.EventRow> rows = [];
        await shop.WriteAsync(db => rows = [.. db.Events.Where(e => e.SubjectId == id).OrderBy(e => e.Sequence)]);
        Assert.Equal(
            ["reminder.written", "reminder.changed", "reminder.ticked", "reminder.ticked"],
            rows.Select(r => r.Type)
        );
        Assert.All(rows, r => Assert.DoesNotContain("belts", r.Data, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Bad_reminders_are_said_at_their_field_and_nothing_is_kept()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var today = Today(await desk.GetJsonAsync(Diary));
        var tomorrow = Iso(today.AddDays(1));
        foreach (
            var (path, body) in new (string, object)[]
            {
                ("text", new { text = " ", day = tomorrow }),
                ("text", new { text = new string('x', 2001), day = tomorrow }),
                ("day", new { text = "Call", day = Iso(today.AddDays(-1)) }),
                ("day", new { text = "Call" }),
                (
                    "time",
                    new
                    {
                        text = "Call",
                        day = tomorrow,
                        time = "noon",
                    }
                ),
                (
                    "jobId",
                    new
                    {
                        text = "Call",
                        day = tomorrow,
                        jobId = Guid.CreateVersion7(),
                    }
                ),
                (
                    "customerId",
                    new
                    {
                        text = "Call",
                        day = tomorrow,
                        customerId = Guid.CreateVersion7(),
                    }
                ),
            }
        )
        {
            var problem = await desk.PostAsync(Reminders, body, 400);
            Assert.True(problem.GetProperty("errors").TryGetProperty(path, out _), problem.ToString());
        }

        await ChangeAsync(desk, $"{Reminders}/{Guid.CreateVersion7()}", new { isDone = true }, 404);
    }

    [Fact]
    public async Task What_was_to_be_remembered_of_a_customer_goes_with_the_customer()
    {
        var story = await MailStory.QuotedAsync(shop, name: "Dara Leaving");
        var today = Today(await story.Desk.GetJsonAsync(Diary));
        await story.Desk.PostAsync(
            Reminders,
            new
            {
                text = "Dara wants the roof lining kept",
                day = Iso(today.AddDays(1)),
                customerId = story.Customer,
            }
        );
        await story.Owner.PostAsync($"/api/v1/customers/{story.Customer}/erase", new { }, 200);
        Assert.DoesNotContain(
            "roof lining",
            (await story.Desk.GetJsonAsync(Diary)).ToString(),
            StringComparison.Ordinal
        );
    }

    private static async Task<JsonElement> ChangeAsync(
        HttpClient desk,
        string path,
        object body,
        int expected,
        long? version = null
    )
    {
        using var response = await desk.SendAsync(HttpMethod.Patch, path, body, ifMatch: version);
        return await response.JsonAsync(expected);
    }

    private static JsonElement.ArrayEnumerator Items(JsonElement diary, string of) =>
        diary.GetProperty(of).EnumerateArray();

    private static bool Is(JsonElement line, string field, string value) =>
        line.TryGetProperty(field, out var found) && found.ToString() == value;

    private static string[] Calls(JsonElement diary, string job) =>
        [.. Items(diary, "calls").Where(c => Is(c, "job", job)).Select(c => c.Text("reason"))];

    private static JsonElement Day(JsonElement diary, DateOnly day) =>
        Items(diary, "days").Single(d => d.GetProperty("capacity").Text("day") == Iso(day));

    private static JsonElement.ArrayEnumerator Lines(JsonElement diary, DateOnly day) =>
        Items(Day(diary, day), "lines");

    private static int Cars(JsonElement diary, DateOnly day) =>
        Day(diary, day).GetProperty("capacity").GetProperty("cars").GetInt32();

    private static DateOnly Today(JsonElement diary) =>
        DateOnly.Parse(diary.Text("today"), CultureInfo.InvariantCulture);

    private static string Iso(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}

public sealed class DiaryApiOnSqlite(SqliteShop shop) : DiaryApiTests(shop), IClassFixture<SqliteShop>;

public sealed class DiaryApiOnPostgres(PostgresShop shop) : DiaryApiTests(shop), IClassFixture<PostgresShop>;
