using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Jobs;

public abstract class JobsApiTests(ShopHost shop)
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Accepted_quote_becomes_one_job_with_its_route_and_a_second_is_refused()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var quote = (await shop.AcceptedQuoteAsync()).Value;

        var job = await api.PostAsync("/api/v1/jobs", new { quoteId = quote });

        Assert.StartsWith("J-2026-", job.GetProperty("number").GetString());
        var read = await api.GetJsonAsync($"/api/v1/jobs/{job.GetProperty("id").GetString()}");
        var operations = read.GetProperty("operations").EnumerateArray().ToList();
        Assert.Equal(27, operations.Count);
        Assert.Equal("10", operations[0].GetProperty("code").GetString());
        Assert.Equal("intake", operations[0].GetProperty("phase").GetString());
        Assert.Equal("waiting", operations[0].GetProperty("state").GetString());
        Assert.Equal(8, operations.Select(o => o.GetProperty("phase").GetString()).Distinct().Count());
        Assert.True(read.GetProperty("balanceMinor").GetInt64() > 0);
        Assert.Equal(JsonValueKind.Array, read.GetProperty("readings").ValueKind);
        var again = await api.PostAsync("/api/v1/jobs", new { quoteId = quote }, 409);
        Assert.Equal("jobExists", CodeOf(again));
    }

    [Fact]
    public async Task Draft_quote_gets_no_job()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var quote = (await shop.DraftQuoteAsync()).Value;

        Assert.Equal("quoteNotAccepted", CodeOf(await api.PostAsync("/api/v1/jobs", new { quoteId = quote }, 409)));
    }

    [Fact]
    public async Task Work_waits_for_the_signature_and_then_runs_with_its_time()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        var job = await shop.JobAsync();
        var refused = await api.PostAsync(Tap(job, "10", "start"), new { }, 409);
        Assert.Equal("authorisation", CodeOf(refused));

        await shop.SignAsync(job);
        await api.PostAsync(Tap(job, "10", "start"), new { occurredAt = shop.Clock.GetUtcNow() }, 200);
        shop.Clock.Advance(TimeSpan.FromMinutes(25));
        var stopped = await api.PostAsync(Tap(job, "10", "stop"), new { }, 200);
        Assert.Equal("ready", StateOf(stopped));
        Assert.Equal(25, stopped.GetProperty("operation").GetProperty("minutes").GetInt32());
        var finished = await api.PostAsync(Tap(job, "10", "finish"), null, 200);
        Assert.Equal("done", StateOf(finished));
        Assert.Equal("operation", CodeOf(await api.PostAsync(Tap(job, "30", "finish"), new { }, 409)));
    }

    [Theory]
    [InlineData(2, "future")]
    [InlineData(-60 * 24 * 8, "7 days")]
    public async Task Tap_from_the_future_or_of_last_week_is_refused_at_its_field(int minutes, string says)
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        var job = await shop.SignedJobAsync();

        var problem = await api.PostAsync(
            Tap(job, "10", "start"),
            new { occurredAt = shop.Clock.GetUtcNow().AddMinutes(minutes) },
            400
        );

        Assert.Contains(says, problem.GetProperty("errors").GetProperty("occurredAt")[0].GetString());
    }

    [Theory]
    [InlineData("2026-05-06T12:00:00")]
    [InlineData("2026-05-06")]
    [InlineData("2026-05-06 12:00:00Z")]
    public async Task Time_that_does_not_say_its_offset_is_refused_at_its_field(string occurredAt)
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        var job = await shop.SignedJobAsync();

        // RFC 3339, section 5.6: date-time is full-date "T" full-time, and full-time ends with its offset.
        var problem = await api.PostAsync(Tap(job, "10", "start"), new { occurredAt }, 400);

        Assert.True(problem.GetProperty("errors").TryGetProperty("occurredAt", out _));
    }

    [Fact]
    public async Task Same_key_with_another_time_of_the_tap_is_another_command()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        var job = await shop.SignedJobAsync();
        var at = shop.Clock.GetUtcNow();
        var path = Tap(job, "10", "start");
        await api.PostAsync(path, new { occurredAt = at }, 200, key: $"tap-{job}");
        await api.PostAsync(path, new { occurredAt = at }, 200, key: $"tap-{job}");

        var other = await api.PostAsync(path, new { occurredAt = at.AddHours(-1) }, 409, key: $"tap-{job}");

        Assert.Equal("idempotencyKey", CodeOf(other));
    }

    [Fact]
    public async Task Two_people_who_finish_at_once_leave_one_event_and_the_other_is_told_who_and_when()
    {
        using var one = await shop.ApiAsync(Role.Fabricator);
        using var two = await shop.ApiAsync(Role.Fabricator, shop.OtherFabricator);
        var job = await shop.SignedJobAsync();
        var hotWork = new HotWorkDuty(shop);
        foreach (var code in new[] { "10", "20", "30", "40", "50", "60" })
        {
            await hotWork.PermitAsync(job.ToString(), code);
            var answers = await Task.WhenAll(
                one.SendAsync(HttpMethod.Post, Tap(job, code, "finish"), new { }),
                two.SendAsync(HttpMethod.Post, Tap(job, code, "finish"), new { })
            );
            Assert.Equal([200, 409], answers.Select(a => (int)a.StatusCode).Order());
            var winner = (int)answers[0].StatusCode == 200 ? "Fabricator Person" : "Other Fabricator";
            var refusal = await answers.Single(a => (int)a.StatusCode == 409).JsonAsync(409);
            Assert.Equal("alreadyFinished", CodeOf(refusal));
            Assert.Contains($"{winner} finished it at", TextOf(refusal));
        }

        Assert.Equal(6, await EventsAsync(job, "operation.finished"));
        await hotWork.CloseAllAsync();
    }

    [Fact]
    public async Task Repeat_of_a_tap_with_its_key_changes_nothing()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        var job = await shop.SignedJobAsync();
        var body = new { occurredAt = shop.Clock.GetUtcNow() };

        var first = await api.PostAsync(Tap(job, "10", "finish"), body, 200, "tap-1");
        var second = await api.PostAsync(Tap(job, "10", "finish"), body, 200, "tap-1");

        Assert.Equal(first.GetProperty("version").GetInt64(), second.GetProperty("version").GetInt64());
        Assert.Equal(1, await EventsAsync(job, "operation.finished"));
    }

    [Fact]
    public async Task Hold_with_a_reason_stops_the_work_until_it_is_lifted()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        using var office = await shop.ApiAsync(Role.FrontDesk);
        var job = await shop.SignedJobAsync();
        await api.PostAsync(Tap(job, "10", "start"), new { }, 200);

        var held = await api.PostAsync(
            Tap(job, "10", "hold"),
            new { reason = "questionToCustomer", note = "which seat" },
            200
        );

        Assert.Equal("onHold", StateOf(held));
        Assert.Equal("onHold", CodeOf(await api.PostAsync(Tap(job, "10", "finish"), new { }, 409)));
        var list = await office.GetJsonAsync("/api/v1/jobs?pageSize=200");
        var row = list.GetProperty("items").EnumerateArray().Single(j => j.GetProperty("id").GetGuid() == job.Value);
        Assert.Contains("which seat", row.GetProperty("waitsFor")[0].GetString());
        Assert.Equal("inWork", StateOf(await api.PostAsync(Tap(job, "10", "resume"), new { }, 200)));
        await api.PostAsync(Tap(job, "10", "hold"), new { reason = "the lift leaks oil" }, 200);
        Assert.Equal("ready", StateOf(await office.PostAsync(Tap(job, "10", "resume"), new { }, 200)));
    }

    [Fact]
    public async Task Mistaken_finish_is_taken_back_by_the_servers_clock_and_leaves_its_trace()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        var job = await shop.SignedJobAsync();
        await api.PostAsync(Tap(job, "10", "start"), new { }, 200);
        await api.PostAsync(Tap(job, "10", "finish"), new { }, 200);
        shop.Clock.Advance(TimeSpan.FromSeconds(90));

        Assert.Equal("inWork", StateOf(await api.PostAsync(Tap(job, "10", "undo-finish"), new { }, 200)));
        await api.PostAsync(Tap(job, "10", "finish"), new { }, 200);
        shop.Clock.Advance(TimeSpan.FromSeconds(121));
        Assert.Equal("undoTooLate", CodeOf(await api.PostAsync(Tap(job, "10", "undo-finish"), new { }, 409)));
        Assert.Equal(1, await EventsAsync(job, "operation.finishUndone"));
    }

    [Fact]
    public async Task High_voltage_car_waits_until_its_isolation_is_recorded()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        using var office = await shop.ApiAsync(Role.FrontDesk);
        var job = await shop.SignedJobAsync(Energy.Hybrid);
        await api.PostAsync(Tap(job, "10", "finish"), new { }, 200);
        Assert.Equal("isolation", CodeOf(await api.PostAsync(Tap(job, "20", "start"), new { }, 409)));

        await office.PostAsync($"/api/v1/jobs/{job}/isolation", new { qualifiedPerson = "T. Tester" }, 200);

        await api.PostAsync(Tap(job, "20", "start"), new { }, 200);
    }

    [Fact]
    public async Task Half_built_car_is_entered_where_it_stands_with_its_hours()
    {
        using var office = await shop.ApiAsync(Role.FrontDesk);
        var quote = (await shop.AcceptedQuoteAsync()).Value;
        var done = new[] { "10", "20", "30", "40", "50", "60" }
            .Select(c => new
            {
                code = c,
                doneOn = "2026-05-04",
                minutes = 30,
            })
            .ToArray();

        var job = await office.PostAsync("/api/v1/jobs/half-built", new { quoteId = quote, done });

        Assert.True(job.GetProperty("enteredMidRoute").GetBoolean());
        var operations = job.GetProperty("operations")
            .EnumerateArray()
            .ToDictionary(o => o.GetProperty("code").GetString()!);
        Assert.Equal("done", operations["60"].GetProperty("state").GetString());
        Assert.Equal(30, operations["60"].GetProperty("minutes").GetInt32());
        Assert.NotEqual("done", operations["70"].GetProperty("state").GetString());
    }

    [Fact]
    public async Task Day_of_a_done_operation_that_lies_ahead_is_told_at_its_field()
    {
        using var office = await shop.ApiAsync(Role.FrontDesk);
        var quote = (await shop.AcceptedQuoteAsync()).Value;

        var problem = await office.PostAsync(
            "/api/v1/jobs/half-built",
            new { quoteId = quote, done = new[] { new { code = "10", doneOn = "2030-01-01" } } },
            400
        );

        Assert.True(problem.GetProperty("errors").TryGetProperty("done[0].doneOn", out _));
    }

    [Fact]
    public async Task Cancelled_job_charges_the_work_done_and_takes_no_more_taps()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        using var office = await shop.ApiAsync(Role.FrontDesk);
        var job = await shop.SignedJobAsync();
        await api.PostAsync(Tap(job, "10", "finish"), new { }, 200);
        var before = (await office.GetJsonAsync($"/api/v1/jobs/{job}")).GetProperty("balanceMinor").GetInt64();

        var cancelled = await office.PostAsync($"/api/v1/jobs/{job}/cancel", new { reason = "car sold" }, 200);

        Assert.Equal("cancelled", cancelled.GetProperty("state").GetString());
        Assert.InRange(cancelled.GetProperty("balanceMinor").GetInt64(), 1, before - 1);
        Assert.Equal("jobCancelled", CodeOf(await api.PostAsync(Tap(job, "20", "start"), new { }, 409)));
    }

    [Fact]
    public async Task Promise_moves_with_a_reason_only_and_the_list_finds_what_is_due()
    {
        using var office = await shop.ApiAsync(Role.FrontDesk);
        var job = await shop.JobAsync();
        var problem = await office.PostAsync($"/api/v1/jobs/{job}/promise", new { promisedOn = "2026-06-01" }, 400);
        Assert.True(problem.GetProperty("errors").TryGetProperty("reason", out _));

        await office.PostAsync(
            $"/api/v1/jobs/{job}/promise",
            new { promisedOn = "2026-05-07", reason = "panels late" },
            200
        );

        var due = await office.GetJsonAsync("/api/v1/jobs?dueBy=2026-05-08&state=open&pageSize=200");
        Assert.Contains(due.GetProperty("items").EnumerateArray(), j => j.GetProperty("id").GetGuid() == job.Value);
        var early = await office.GetJsonAsync("/api/v1/jobs?dueBy=2026-05-06&state=open&pageSize=200");
        Assert.DoesNotContain(
            early.GetProperty("items").EnumerateArray(),
            j => j.GetProperty("id").GetGuid() == job.Value
        );
        await office.GetJsonAsync("/api/v1/jobs?state=late", 400);
    }

    [Fact]
    public async Task Fabricator_sees_the_job_without_its_money_and_cannot_cancel_it()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        var job = await shop.JobAsync();

        Assert.Equal(
            JsonValueKind.Null,
            (await api.GetJsonAsync($"/api/v1/jobs/{job}")).GetProperty("balanceMinor").ValueKind
        );
        await api.PostAsync($"/api/v1/jobs/{job}/cancel", new { reason = "no" }, 403);
    }

    [Fact]
    public async Task Inspector_records_the_operations_of_an_inspector_and_no_others()
    {
        using var api = await shop.ApiAsync(Role.Inspector);
        var job = await shop.SignedJobAsync();

        await api.PostAsync(Tap(job, "10", "start"), new { }, 403);
        Assert.Equal("operation", CodeOf(await api.PostAsync(Tap(job, "90", "start"), new { }, 409)));
    }

    private static string Tap(JobId job, string code, string tap) => $"/api/v1/jobs/{job}/operations/{code}/{tap}";

    private static string? CodeOf(JsonElement problem) =>
        problem.GetProperty("reasons")[0].GetProperty("code").GetString();

    private static string? TextOf(JsonElement problem) =>
        problem.GetProperty("reasons")[0].GetProperty("text").GetString();

    private static string? StateOf(JsonElement changed) =>
        changed.GetProperty("operation").GetProperty("state").GetString();

    private async Task<int> EventsAsync(JobId job, string type)
    {
        var count = 0;
        await shop.WriteAsync(db => count = db.Events.Count(e => e.Job == job && e.Type == type));
        Ct.ThrowIfCancellationRequested();
        return count;
    }
}

public sealed class JobsApiOnSqlite(SqliteShop shop) : JobsApiTests(shop), IClassFixture<SqliteShop>;

public sealed class JobsApiOnPostgres(PostgresShop shop) : JobsApiTests(shop), IClassFixture<PostgresShop>;
