using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Features.Inspection;

/// <summary>Readings and sign-off through the API, on both databases.</summary>
public abstract class InspectionApiTests(ShopHost shop)
{
    [Fact]
    public async Task A_new_job_has_its_lines_with_limits_from_the_jobs_rule_sets()
    {
        var car = await CarStory.BeginAsync(shop);
        var inspection = (await car.InspectionAsync()).GetProperty("inspection");
        Assert.Contains("scrutineer decides", inspection.GetProperty("advice").GetString(), StringComparison.Ordinal);
        var area = await car.LineAsync("plate-area-hoop");
        Assert.Equal(120, area.GetProperty("lower").GetDecimal());
        Assert.Equal("90", area.GetProperty("operation").GetString());
        Assert.Contains("FIA", area.GetProperty("source").GetString(), StringComparison.Ordinal);
        Assert.Equal("open", area.GetProperty("state").GetString());
    }

    [Fact]
    public async Task A_hold_line_stops_the_operation_behind_it_until_it_is_passed_and_the_job_shows_its_readings()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync("50");
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/60/start", new { }, 200);
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/60/finish", new { }, 200);
        var waiting = await car.Fabricator.PostAsync($"{car.JobPath}/operations/70/start", new { }, 409);
        Assert.Contains(
            waiting.GetProperty("reasons").EnumerateArray(),
            r => r.GetProperty("code").GetString() == "holdPoint"
        );
        await car.PassLinesAsync("60");
        await car.HotWork.PermitAsync(car.JobId, "70");
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/70/start", new { }, 200);
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/70/stop", new { }, 200);
        await car.HotWork.CloseAllAsync();
        Assert.NotEqual(0, (await car.JobAsync()).GetProperty("readings").GetArrayLength());
    }

    [Fact]
    public async Task A_value_out_of_limit_fails_by_itself_and_both_readings_stay_after_the_repair()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync("80");
        var path = $"{car.JobPath}/readings";
        var failed = await car.Inspector.PostAsync(path, new { line = "plate-gap", value = 1.01 });
        Assert.Equal("failed", failed.GetProperty("result").GetString());
        Assert.Contains("0 to 1 mm", failed.GetProperty("text").GetString(), StringComparison.Ordinal);
        var passed = await car.Inspector.PostAsync(
            path,
            new
            {
                line = "plate-gap",
                value = 0.4,
                note = "Hammered home",
            }
        );
        Assert.Equal(2, passed.GetProperty("number").GetInt32());
        var line = await car.LineAsync("plate-gap");
        Assert.Equal("passed", line.GetProperty("state").GetString());
        Assert.Equal(
            [1.01m, 0.4m],
            line.GetProperty("readings").EnumerateArray().Select(r => r.GetProperty("value").GetDecimal())
        );
    }

    [Fact]
    public async Task Bad_readings_get_a_sentence_at_their_field_and_nothing_is_written()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync("80");
        var path = $"{car.JobPath}/readings";
        await FieldAsync(new { line = "no-such-line", value = 1 }, "line");
        await FieldAsync(new { line = "plate-gap" }, "value");
        await FieldAsync(new { line = "plate-gap", result = "maybe" }, "result");
        await FieldAsync(new { line = "plate-gap", value = 2_000_000 }, "value");
        await FieldAsync(new { line = "plate-tacks", value = 1 }, "value");
        await FieldAsync(
            new
            {
                line = "plate-tacks",
                result = "passed",
                note = new string('x', 2001),
            },
            "note"
        );
        await FieldAsync(
            new
            {
                line = "plate-tacks",
                result = "passed",
                photoIds = new[] { Guid.Empty },
            },
            "photoIds"
        );
        await FieldAsync(new { value = 1 }, "line");
        Assert.Empty((await car.LineAsync("plate-gap")).GetProperty("readings").EnumerateArray());

        async Task FieldAsync(object body, string field)
        {
            var problem = await car.Inspector.PostAsync(path, body, 400);
            Assert.True(problem.GetProperty("errors").TryGetProperty(field, out _), problem.ToString());
        }
    }

    [Fact]
    public async Task A_photo_line_passes_with_a_photo_of_this_job_only()
    {
        var car = await CarStory.BeginAsync(shop);
        var other = await CarStory.BeginAsync(shop, "Somebody Else");
        await car.WorkUntilAsync("50");
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/60/start", new { }, 200);
        var path = $"{car.JobPath}/readings";
        await car.Fabricator.PostAsync(path, new { line = "bare-metal-left", result = "passed" }, 400);
        var foreign = new[] { await other.PhotoAsync() };
        await car.Fabricator.PostAsync(
            path,
            new
            {
                line = "bare-metal-left",
                result = "passed",
                photoIds = foreign,
            },
            400
        );
        var own = new[] { await car.PhotoAsync() };
        await car.Fabricator.PostAsync(
            path,
            new
            {
                line = "bare-metal-left",
                result = "passed",
                photoIds = own,
            }
        );
    }

    [Fact]
    public async Task A_fabricator_does_not_pass_an_inspectors_line_and_an_integration_passes_nothing()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync("80");
        var path = $"{car.JobPath}/readings";
        await car.Fabricator.PostAsync(path, new { line = "plate-gap", value = 0.5 }, 403);
        using var integration = await shop.ApiAsync(Role.Inspector, null);
        await integration.PostAsync(path, new { line = "plate-gap", value = 0.5 }, 403);
        await integration.PostAsync(path, new { line = "plate-gap", value = 5 });
        Assert.Equal("failed", (await car.LineAsync("plate-gap")).GetProperty("state").GetString());
    }

    [Fact]
    public async Task What_the_work_has_not_reached_cannot_pass()
    {
        var car = await CarStory.BeginAsync(shop);
        var early = await car.Inspector.PostAsync(
            $"{car.JobPath}/readings",
            new { line = "upper-welds", result = "passed" },
            409
        );
        Assert.Equal("tooEarly", early.GetProperty("reasons")[0].GetProperty("code").GetString());
    }

    [Fact]
    public async Task A_repeated_tap_records_one_reading()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync("80");
        var body = new { line = "plate-gap", value = 0.5 };
        var first = await car.Inspector.PostAsync($"{car.JobPath}/readings", body, key: "tap-1");
        var second = await car.Inspector.PostAsync($"{car.JobPath}/readings", body, key: "tap-1");
        Assert.Equal(first.GetProperty("id").GetString(), second.GetProperty("id").GetString());
        Assert.Single((await car.LineAsync("plate-gap")).GetProperty("readings").EnumerateArray());
    }

    [Fact]
    public async Task A_late_tap_keeps_its_own_time_and_one_from_the_future_is_refused()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync("80");
        var now = shop.Clock.GetUtcNow();
        var path = $"{car.JobPath}/readings";
        await car.Inspector.PostAsync(
            path,
            new
            {
                line = "plate-gap",
                value = 0.5,
                occurredAt = now.AddHours(-1),
            }
        );
        await car.Inspector.PostAsync(
            path,
            new
            {
                line = "plate-gap",
                value = 0.5,
                occurredAt = now.AddHours(1),
            },
            400
        );
        var reading = (await car.LineAsync("plate-gap")).GetProperty("readings").EnumerateArray().Single();
        Assert.Equal(now.AddHours(-1), reading.GetProperty("occurredAt").GetDateTimeOffset(), TimeSpan.FromSeconds(1));
        Assert.Equal(now, reading.GetProperty("recordedAt").GetDateTimeOffset(), TimeSpan.FromSeconds(1));
    }

    [Fact]
    public async Task Fail_mend_pass_and_sign_off_by_another_person_and_withdraw()
    {
        var car = await CarStory.BeginAsync(shop);
        var path = $"{car.JobPath}/sign-off";
        var early = await car.Inspector.PostAsync(path, new { }, 409);
        var codes = early
            .GetProperty("reasons")
            .EnumerateArray()
            .Select(r => r.GetProperty("code").GetString())
            .ToList();
        Assert.Contains("lineOpen", codes);
        Assert.Contains("operationOpen", codes);
        Assert.Contains("balanceDue", codes);

        await car.WorkUntilAsync();
        await car.SettleAsync();
        await car.Inspector.PostAsync($"{car.JobPath}/readings", new { line = "electrics", result = "failed" });
        var blocked = await car.Inspector.PostAsync(path, new { }, 409);
        var reason = Assert.Single(blocked.GetProperty("reasons").EnumerateArray());
        Assert.Equal("lineFailed", reason.GetProperty("code").GetString());
        Assert.Equal("260", reason.GetProperty("operation").GetString());
        await car.Inspector.PostAsync($"{car.JobPath}/readings", new { line = "electrics", result = "passed" });

        // The fabricator's role does not sign off; the owner's does, but not the work of the owner's own hands.
        await car.Fabricator.PostAsync(path, new { }, 403);
        using var integration = await shop.ApiAsync(Role.Inspector, null);
        await integration.PostAsync(path, new { }, 403);
        var signed = await car.Inspector.PostAsync(path, new { note = "All seen" }, 200);
        Assert.False(signed.GetProperty("isSelfInspection").GetBoolean());
        Assert.All(
            (await car.JobAsync()).GetProperty("operations").EnumerateArray(),
            o => Assert.Equal("done", o.GetProperty("state").GetString())
        );
        var late = await car.Inspector.PostAsync(
            $"{car.JobPath}/readings",
            new { line = "electrics", result = "failed" },
            409
        );
        Assert.Equal("signedOff", late.GetProperty("reasons")[0].GetProperty("code").GetString());

        await car.Inspector.PostAsync($"{path}/withdraw", new { }, 400);
        await car.Inspector.PostAsync($"{path}/withdraw", new { reason = "Pin loose on the test drive" }, 200);
        var inspection = (await car.InspectionAsync()).GetProperty("inspection");
        Assert.Equal(System.Text.Json.JsonValueKind.Null, inspection.GetProperty("signOff").ValueKind);
        Assert.Equal(
            "Pin loose on the test drive",
            inspection.GetProperty("withdrawn")[0].GetProperty("withdrawnReason").GetString()
        );
        await car.Inspector.PostAsync(path, new { }, 200);
    }

    [Fact]
    public async Task Whoever_worked_on_the_car_does_not_sign_it_off_unless_the_shop_allows_self_inspection()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.Owner.PostAsync($"{car.JobPath}/operations/10/start", new { }, 200);
        await car.Owner.PostAsync($"{car.JobPath}/operations/10/finish", new { }, 200);
        await car.WorkUntilAsync();
        await car.SettleAsync();
        var refused = await car.Owner.PostAsync($"{car.JobPath}/sign-off", new { }, 409);
        Assert.Equal(
            "ownWork",
            Assert.Single(refused.GetProperty("reasons").EnumerateArray()).GetProperty("code").GetString()
        );
    }

    [Fact]
    public async Task Two_inspectors_at_once_both_leave_their_reading()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync("80");
        using var second = await shop.ApiAsync(Role.Inspector);
        var path = $"{car.JobPath}/readings";
        await Task.WhenAll(
            car.Inspector.PostAsync(path, new { line = "plate-gap", value = 0.5 }),
            second.PostAsync(path, new { line = "plate-tacks", result = "passed" }),
            car.Inspector.PostAsync(path, new { line = "plate-thickness", value = 3 })
        );
        foreach (var code in new[] { "plate-gap", "plate-tacks", "plate-thickness" })
        {
            Assert.Equal("passed", (await car.LineAsync(code)).GetProperty("state").GetString());
        }
    }

    [Fact]
    public async Task The_list_of_what_waits_names_the_operation_that_is_reached()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync("80");
        var list = await car.Inspector.GetJsonAsync("/api/v1/inspection");
        var item = list.GetProperty("items")
            .EnumerateArray()
            .Single(i => i.GetProperty("jobId").GetString() == car.JobId);
        Assert.Contains(item.GetProperty("now").EnumerateArray(), o => o.GetProperty("code").GetString() == "90");
        Assert.DoesNotContain(
            item.GetProperty("now").EnumerateArray(),
            o => o.GetProperty("code").GetString() == "230"
        );
    }
}

public sealed class InspectionApiOnSqlite(SqliteShop shop) : InspectionApiTests(shop), IClassFixture<SqliteShop>;

public sealed class InspectionApiOnPostgres(PostgresShop shop) : InspectionApiTests(shop), IClassFixture<PostgresShop>;
