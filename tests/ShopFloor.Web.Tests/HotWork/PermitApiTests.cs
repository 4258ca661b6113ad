using System.Linq.Expressions;
using System.Text.Json;
using ShopFloor.Application.History;
using ShopFloor.Data.History;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;
using ShopFloor.Web.Tests.Quotes;
using PdfDocument = UglyToad.PdfPig.PdfDocument;

namespace ShopFloor.Web.Tests.HotWork;

/// <summary>Permits and watches through the API, on both databases.</summary>
public abstract class PermitApiTests(ShopHost shop)
{
    private const string Root = "/api/v1/hot-work-permits";

    [Fact]
    public async Task Hot_work_waits_for_a_permit_and_nothing_leaves_before_the_watcher_has_closed_it()
    {
        var car = await CarStory.BeginAsync(shop, "Ada Brand");
        await car.WorkUntilAsync("40");
        var refused = await car.Fabricator.PostAsync(Tap(car, "50", "start"), new { }, 409);
        Assert.Equal("permit", refused.ReasonCode());
        await car.Fabricator.PostAsync(Tap(car, "50", "finish"), new { }, 409);
        var permit = await car.HotWork.OpenAsync(car.JobId, "bay");
        Assert.Equal("open", State(permit));

        // Another car's permit is no leave for this one, and a bench needs its own.
        await car.Fabricator.PostAsync(Tap(car, "50", "start"), new { }, 200);
        Assert.Equal("hotWork", State(await ReadAsync(car, permit)));
        await car.Fabricator.PostAsync(Tap(car, "50", "stop"), new { }, 200);
        Assert.Equal("watch", State(await ReadAsync(car, permit)));
        Assert.Equal("watchRuns", await CloseAsync(car, permit, 409));
        shop.Clock.Advance(TimeSpan.FromMinutes(59));

        // Hot work again: the watch begins anew.
        await car.Fabricator.PostAsync(Tap(car, "50", "start"), new { }, 200);
        await car.Fabricator.PostAsync(Tap(car, "50", "finish"), new { }, 200);
        shop.Clock.Advance(TimeSpan.FromMinutes(2));
        Assert.Equal("watchRuns", await CloseAsync(car, permit, 409));
        shop.Clock.Advance(TimeSpan.FromMinutes(58));
        await car.Fabricator.PostAsync($"{PathOf(permit)}/close", new { looked = true }, 409);
        Assert.Null(await CloseAsync(car, permit, 200));
        Assert.Equal("closed", State(await ReadAsync(car, permit)));
        var history = (await car.Owner.GetJsonAsync("/api/v1/events?after=0&pageSize=200")).ToString();
        Assert.Contains("permit.opened", history, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Card_tells_place_shift_watcher_checklist_hot_work_watch_and_who_decides()
    {
        var car = await CarStory.BeginAsync(shop, "Cid Brand");
        await car.WorkUntilAsync("40");
        var permit = await car.HotWork.OpenAsync(car.JobId, "bay");
        var open = await CardAsync(car, permit);
        Assert.Contains("Opened by", open, StringComparison.Ordinal);
        Assert.Contains("FrontDesk Person", open, StringComparison.Ordinal);
        Assert.Contains("In the bay: " + permit.Text("jobNumber"), open, StringComparison.Ordinal);
        Assert.Contains("Signature of fire watcher", open, StringComparison.Ordinal);
        Assert.Contains("The fire authority, the local fire code", open, StringComparison.Ordinal);
        foreach (var point in PermitPoint.All)
        {
            Assert.Contains(point.Title[..20], open, StringComparison.Ordinal);
        }

        await car.Fabricator.PostAsync(Tap(car, "50", "start"), new { }, 200);
        shop.Clock.Advance(TimeSpan.FromMinutes(10));
        await car.Fabricator.PostAsync(Tap(car, "50", "stop"), new { }, 200);
        var until = (await ReadAsync(car, permit)).GetProperty("watchUntil").GetDateTimeOffset();
        var watched = await CardAsync(car, permit);
        Assert.Contains("Operation 50: ", watched, StringComparison.Ordinal);
        Assert.Contains(
            TimeZoneInfo
                .ConvertTime(until, TimeZoneInfo.FindSystemTimeZoneById(await ZoneAsync(car)))
                .ToString("'Watch until' ddd d MMM yyyy, HH:mm", System.Globalization.CultureInfo.InvariantCulture),
            watched,
            StringComparison.Ordinal
        );
        await car.HotWork.CloseAllAsync();
        Assert.Contains(
            "by FrontDesk Person",
            (await CardAsync(car, permit)).Split("Closed on")[1],
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Verify_finds_a_permit_that_was_changed_behind_the_programs_back()
    {
        var car = await CarStory.BeginAsync(shop, "Dora Brand");
        await car.WorkUntilAsync("40");
        var permit = await car.HotWork.OpenAsync(car.JobId, "bay");
        await car.Fabricator.PostAsync(Tap(car, "50", "start"), new { }, 200);
        await car.Fabricator.PostAsync(Tap(car, "50", "stop"), new { }, 200);
        await car.HotWork.CloseAllAsync();
        var id = new HotWorkPermitId(permit.GetProperty("id").GetGuid());
        Assert.Empty(await VerifyAsync());

        var closed = await ChangeAsync(id, p => p.ClosedAt, p => p.LastSparkAt);
        Assert.Contains(
            await VerifyAsync(),
            d => d.Contains("before its fire watch was over", StringComparison.Ordinal)
        );
        await RestoreAsync(id, p => p.ClosedAt, closed);
        var watcher = await ReadFieldAsync(id, p => p.ClosedBy);
        await RestoreAsync(id, p => p.ClosedBy, shop.People[Role.Owner]);
        Assert.Contains(
            await VerifyAsync(),
            d => d.Contains("another person than its watcher", StringComparison.Ordinal)
        );
        await RestoreAsync(id, p => p.ClosedBy, watcher);
        Assert.Empty(await VerifyAsync());
    }

    [Fact]
    public async Task Every_change_is_in_the_history_with_who_when_by_device_and_server_before_and_after()
    {
        var car = await CarStory.BeginAsync(shop, "Eva Brand");
        await car.WorkUntilAsync("40");
        var permit = await car.HotWork.OpenAsync(car.JobId, "bay");
        var tapped = shop.Clock.GetUtcNow();
        shop.Clock.Advance(TimeSpan.FromSeconds(40));
        await car.Fabricator.PostAsync(Tap(car, "50", "start"), new { occurredAt = tapped }, 200);
        await car.Fabricator.PostAsync(Tap(car, "50", "hold"), new { reason = "other", note = "Tea" }, 200);
        await car.Fabricator.PostAsync(Tap(car, "50", "resume"), new { }, 200);
        await car.Fabricator.PostAsync(Tap(car, "50", "stop"), new { }, 200);
        await car.Fabricator.PostAsync($"{PathOf(permit)}/sparks", new { }, 200);
        await car.Fabricator.PostAsync(
            $"{PathOf(permit)}/watcher",
            new { watcherId = shop.People[Role.Owner].Value },
            200
        );
        await car.Fabricator.PostAsync(
            $"{PathOf(permit)}/watcher",
            new { watcherId = shop.People[Role.FrontDesk].Value },
            200
        );
        await car.HotWork.CloseAllAsync();
        var job = new JobId(Guid.Parse(car.JobId));
        List<EventRow> rows = [];
        await shop.WriteAsync(db =>
            rows.AddRange(
                db.Events.Where(e => e.Job == job && (e.Subject == "operation" || e.Subject == "hotWorkPermit"))
                    .OrderBy(e => e.Sequence)
            )
        );
        string[] expected =
        [
            "permit.opened",
            "operation.started",
            "permit.hotWorkBegan",
            "operation.held",
            "permit.watchBegan",
            "operation.resumed",
            "permit.hotWorkBegan",
            "operation.stopped",
            "permit.watchBegan",
            "permit.sparksReported",
            "permit.watchHandedOver",
            "permit.watchHandedOver",
            "permit.closed",
        ];
        Assert.Equal(expected, rows.Select(r => r.Type).SkipWhile(t => t != "permit.opened"));
        foreach (var row in rows)
        {
            using var data = JsonDocument.Parse(row.Data);
            Assert.NotNull(row.Person);
            Assert.NotEqual(default, row.RecordedAt);
            Assert.Equal(JsonValueKind.Object, data.RootElement.GetProperty("after").ValueKind);
            Assert.True(
                row.Type == "permit.opened" || data.RootElement.GetProperty("before").ValueKind == JsonValueKind.Object,
                $"{row.Type} does not say what was before."
            );
        }

        var started = rows.Last(r => r.Type == "operation.started");
        Assert.Equal((tapped, tapped.AddSeconds(40)), (started.OccurredAt, started.RecordedAt));
    }

    [Fact]
    public async Task A_late_tap_starts_no_hot_work_and_moves_no_timer()
    {
        var car = await CarStory.BeginAsync(shop, "Bo Lindt");
        await car.WorkUntilAsync("40");
        var permit = await car.HotWork.OpenAsync(car.JobId, "bay");
        shop.Clock.Advance(TimeSpan.FromMinutes(30));
        var kept = shop.Clock.GetUtcNow().AddMinutes(-10);
        var late = await car.Fabricator.PostAsync(Tap(car, "50", "start"), new { occurredAt = kept }, 409);
        Assert.Equal("hotWorkLate", late.ReasonCode());
        await car.Fabricator.PostAsync(Tap(car, "50", "start"), new { }, 200);
        shop.Clock.Advance(TimeSpan.FromMinutes(60));

        // Stopped half an hour ago by the tablet: the watch counts from when the server learned of it.
        var stopped = shop.Clock.GetUtcNow().AddMinutes(-30);
        await car.Fabricator.PostAsync(Tap(car, "50", "stop"), new { occurredAt = stopped }, 200);
        var watch = await ReadAsync(car, permit);
        Assert.Equal(
            shop.Clock.GetUtcNow().AddMinutes(FireWatch.UsualMinutes),
            watch.GetProperty("watchUntil").GetDateTimeOffset()
        );
        await car.HotWork.CloseAllAsync();
    }

    [Fact]
    public async Task No_paint_beside_a_permit_and_no_permit_beside_paint()
    {
        var car = await CarStory.BeginAsync(shop, "Cleo Marsh");
        await car.WorkUntilAsync("230");
        var other = await CarStory.BeginAsync(shop, "Dan Marsh");
        var permit = await car.HotWork.OpenAsync(other.JobId, "bay");
        var refused = await car.Fabricator.PostAsync(Tap(car, "240", "start"), new { }, 409);
        Assert.Equal("fireWatch", refused.ReasonCode());
        Assert.Null(await CloseAsync(car, permit, 200));
        await car.Fabricator.PostAsync(Tap(car, "240", "start"), new { }, 200);
        var open = await other.Fabricator.PostAsync(Root, Request(other.JobId, "bay"), 409);
        Assert.Equal("paintInWork", open.ReasonCode());
        await car.Fabricator.PostAsync(Tap(car, "240", "stop"), new { }, 200);
        await other.HotWork.OpenAsync(other.JobId, "bay");
        await other.HotWork.CloseAllAsync();
    }

    [Fact]
    public async Task A_car_is_signed_off_and_handed_over_only_when_its_permit_is_closed()
    {
        var car = await CarStory.BeginAsync(shop, "Eve Stone");
        await car.WorkUntilAsync();
        await car.SettleAsync();
        var permit = await car.HotWork.OpenAsync(car.JobId, "bay");
        var unsigned = await car.Inspector.PostAsync($"{car.JobPath}/sign-off", new { }, 409);
        var why = Assert.Single(unsigned.GetProperty("reasons").EnumerateArray());
        Assert.Equal("fireWatch", why.GetProperty("code").GetString());
        Assert.StartsWith(
            $"Hot-work permit {permit.GetProperty("number").GetString()} in the bay is not closed.",
            why.GetProperty("text").GetString()
        );
        await car.HotWork.CloseAllAsync();
        await car.SignOffAsync();
        await car.HotWork.OpenAsync(car.JobId, "bay");
        var refused = await car.Desk.PostAsync($"{car.JobPath}/hand-over", new { odometerKm = 120_010 }, 409);
        Assert.Equal("fireWatch", refused.ReasonCode());
        await car.HotWork.CloseAllAsync();
        var sheet = await car.Desk.GetJsonAsync($"{car.JobPath}/hand-over");
        Assert.DoesNotContain("Hot-work permit", sheet.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_watcher_has_no_other_duty_and_a_key_without_a_person_keeps_no_watch()
    {
        var car = await CarStory.BeginAsync(shop, "Finn Ray");
        var request = Request(car.JobId, "bay", shop.OtherFabricator);
        var permit = await car.Fabricator.PostAsync(Root, request);
        using var watcher = await shop.ApiAsync(Role.Fabricator, shop.OtherFabricator);
        var duty = await watcher.PostAsync(Tap(car, "10", "start"), new { }, 409);
        Assert.Equal("watcherHasNoOtherDuty", duty.ReasonCode());
        var second = await car.Fabricator.PostAsync(Root, Request(car.JobId, "bench", shop.OtherFabricator), 409);
        Assert.Equal("watcherBusy", second.ReasonCode());
        using var integration = await shop.ApiAsync(Role.Fabricator, null);
        await integration.PostAsync(Root, request, 403);
        await integration.PostAsync($"{PathOf(permit)}/sparks", new { }, 403);
        await watcher.PostAsync($"{PathOf(permit)}/close", new { }, 200);
        await watcher.PostAsync(Tap(car, "10", "start"), new { }, 200);
        var busy = await car.Fabricator.PostAsync(Root, request, 409);
        Assert.Equal("watcherBusy", busy.ReasonCode());
        await watcher.PostAsync(Tap(car, "10", "stop"), new { }, 200);
    }

    [Fact]
    public async Task A_shop_never_sets_its_watch_under_half_an_hour()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var settings = (await owner.GetJsonAsync("/api/v1/shop")).GetProperty("details");
        Assert.Equal(60, settings.GetProperty("fireWatchMinutes").GetInt32());
        var changed = settings
            .EnumerateObject()
            .ToDictionary(p => p.Name, p => p.Name == "fireWatchMinutes" ? (object)29 : p.Value);
        using var refused = await owner.SendAsync(HttpMethod.Put, "/api/v1/shop", changed);
        Assert.Contains("1910.252", (await refused.JsonAsync(400)).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Touching_up_again_is_kept_from_sparks_as_the_first_time()
    {
        var car = await CarStory.BeginAsync(shop, "Fia Wren");
        await car.WorkUntilAsync("240");
        var with = await car.Fabricator.PostAsync(
            $"{car.JobPath}/rework",
            new
            {
                operation = "240",
                title = "Touch up the left sill again",
                reason = "A run in the paint",
            },
            200
        );
        var rework = with.GetProperty("operations")
            .EnumerateArray()
            .Single(o => o.GetProperty("mends").GetString() == "240")
            .Text("code");
        var other = await CarStory.BeginAsync(shop, "Gil Wren");
        await other.Fabricator.PostAsync(Root, Request(other.JobId, "bay"));
        var refused = await car.Fabricator.PostAsync(Tap(car, rework, "start"), new { }, 409);
        Assert.Equal("fireWatch", refused.ReasonCode());
        await other.HotWork.CloseAllAsync();
        await car.Fabricator.PostAsync(Tap(car, rework, "start"), new { }, 200);
        await car.Fabricator.PostAsync(Tap(car, rework, "stop"), new { }, 200);
    }

    [Fact]
    public async Task Welder_and_painter_who_tap_at_once_never_both_start()
    {
        var car = await CarStory.BeginAsync(shop, "Gus Wren");
        await car.WorkUntilAsync("230");
        var other = await CarStory.BeginAsync(shop, "Hal Wren");
        for (var round = 0; round < 5; round++)
        {
            var answers = await Task.WhenAll(
                car.Fabricator.SendAsync(HttpMethod.Post, Tap(car, "240", "start"), new { }),
                other.Fabricator.SendAsync(HttpMethod.Post, Root, Request(other.JobId, "bay"))
            );
            var (painted, permitted) = (answers[0].IsSuccessStatusCode, answers[1].IsSuccessStatusCode);
            Assert.True(painted != permitted, $"painted {painted}, permit {permitted}");
            if (painted)
            {
                await car.Fabricator.PostAsync(Tap(car, "240", "stop"), new { }, 200);
            }
            else
            {
                await other.HotWork.CloseAllAsync();
            }
        }
    }

    private Task<IReadOnlyList<string>> VerifyAsync() =>
        shop.WithAsync<VerifyHistory, IReadOnlyList<string>>(v => v.RunAsync(CancellationToken.None));

    /// <summary>Writes one field over another's value, past every rule; what stood there.</summary>
    private async Task<T?> ChangeAsync<T>(
        HotWorkPermitId id,
        Expression<Func<HotWorkPermit, T>> field,
        Expression<Func<HotWorkPermit, T>> from
    )
    {
        var (before, other) = (await ReadFieldAsync(id, field), await ReadFieldAsync(id, from));
        await RestoreAsync(id, field, other);
        return before;
    }

    private async Task<T?> ReadFieldAsync<T>(HotWorkPermitId id, Expression<Func<HotWorkPermit, T>> field)
    {
        T? value = default;
        await shop.WriteAsync(db => value = db.Set<HotWorkPermit>().Where(p => p.Id == id).Select(field).Single());
        return value;
    }

    private Task RestoreAsync<T>(HotWorkPermitId id, Expression<Func<HotWorkPermit, T>> field, T? value) =>
        shop.WriteAsync(db =>
        {
            var permit = db.Set<HotWorkPermit>().Single(p => p.Id == id);
            db.Entry(permit).Property(((MemberExpression)field.Body).Member.Name).CurrentValue = value;
        });

    private static async Task<string> ZoneAsync(CarStory car) =>
        (await car.Owner.GetJsonAsync("/api/v1/shop")).GetProperty("details").Text("timeZone");

    /// <summary>The card's words, one space between them.</summary>
    private static async Task<string> CardAsync(CarStory car, JsonElement permit)
    {
        var bytes = await car.Fabricator.GetByteArrayAsync(
            new Uri($"{PathOf(permit)}/card/pdf", UriKind.Relative),
            TestContext.Current.CancellationToken
        );
        using var pdf = PdfDocument.Open(bytes);
        var text = string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        Assert.DoesNotContain('\0', text);
        return text;
    }

    private object Request(string job, string place, PersonId? watcher = null) =>
        new
        {
            place,
            jobId = HotPlace.HoldsCar(place) ? job : null,
            watcherId = (watcher ?? shop.People[HotWorkDuty.WatcherAt(place)]).Value,
            answers = HotWorkDuty.Checklist(HotPlace.HoldsCar(place)),
        };

    private static string Tap(CarStory car, string code, string tap) => $"{car.JobPath}/operations/{code}/{tap}";

    private static string PathOf(JsonElement permit) => $"{Root}/{permit.GetProperty("id").GetString()}";

    private static string? State(JsonElement permit) => permit.GetProperty("state").GetString();

    private static Task<JsonElement> ReadAsync(CarStory car, JsonElement permit) =>
        car.Owner.GetJsonAsync(PathOf(permit));

    /// <summary>The front desk, who watches at the cars, confirms; the code of the refusal, or null.</summary>
    private static async Task<string?> CloseAsync(CarStory car, JsonElement permit, int expected)
    {
        var answer = await car.Desk.PostAsync($"{PathOf(permit)}/close", new { looked = true }, expected);
        return expected == 409 ? answer.ReasonCode() : null;
    }
}

public sealed class PermitApiOnSqlite(SqliteShop shop) : PermitApiTests(shop), IClassFixture<SqliteShop>;

public sealed class PermitApiOnPostgres(PostgresShop shop) : PermitApiTests(shop), IClassFixture<PostgresShop>;
