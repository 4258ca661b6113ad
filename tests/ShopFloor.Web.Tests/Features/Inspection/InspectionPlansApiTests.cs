using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Features.Inspection;

/// <summary>The owner changes an inspection plan: checked at its fields, saved as a version; jobs keep theirs until they are moved.</summary>
public abstract class InspectionPlansApiTests(ShopHost shop)
{
    private const string Root = "/api/v1/inspection-plans";

    [Fact]
    public async Task A_saved_version_is_for_new_jobs_and_a_running_job_goes_over_with_its_readings_kept()
    {
        const string Plan = Root + "/weld-in-bar";
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync("60");
        var own = (await car.InspectionAsync()).GetProperty("inspection").GetProperty("planVersion").GetInt32();
        var document = await DocumentAsync(car.Owner, Plan);
        var lines = document["lines"]!.AsArray();
        lines.Remove(Line(lines, "protected"));
        lines.Remove(Line(lines, "plate-gap"));
        Line(lines, "head-bare")["lower"] = 90;
        Line(lines, "bare-metal-left")["how"] = "By eye under a lamp and by touch";
        lines.Add(
            JsonNode.Parse(
                """{"code":"seat-rails","operation":"120","what":"Seat rails straight","how":"By hand","source":"Common practice, no source"}"""
            )
        );

        await car.Fabricator.PostAsync($"{Plan}/versions", Body(own, document), 403);
        var check = await car.Owner.PostAsync($"{Plan}/check", new { document }, 200);
        Assert.Empty(check.GetProperty("problems").EnumerateArray());
        Assert.Contains("No longer looked at: Widest gap", check.GetProperty("changes").GetRawText());
        var saved = await car.Owner.PostAsync($"{Plan}/versions", Body(own, document), 201);
        Assert.Equal(own + 1, saved.GetProperty("version").GetInt32());
        await car.Owner.PostAsync($"{Plan}/versions", Body(own, document), 409);
        var older = await car.Owner.GetJsonAsync($"{Plan}?version={own}");
        Assert.Contains("plate-gap", older.GetProperty("document").GetRawText());
        Assert.DoesNotContain("plate-gap", (await car.Owner.GetJsonAsync(Plan)).GetProperty("document").GetRawText());
        Assert.Contains(
            "New at 120: Seat rails straight",
            (await car.Owner.GetJsonAsync($"{Plan}/compare?from={own}&to={own + 1}")).GetRawText()
        );

        var running = await car.InspectionAsync();
        Assert.Equal(own, running.GetProperty("inspection").GetProperty("planVersion").GetInt32());
        Assert.Equal(own + 1, running.GetProperty("newerPlan").GetProperty("version").GetInt32());
        Assert.Contains("plate-gap", running.GetRawText());
        var fresh = await CarStory.BeginAsync(shop, "Ida Maurer");
        Assert.Equal(90, (await fresh.LineAsync("head-bare")).GetProperty("lower").GetDecimal());

        var move = await car.Owner.GetJsonAsync($"{car.JobPath}/plan-move");
        Assert.Empty(move.GetProperty("refusals").EnumerateArray());
        Assert.Equal(
            ["bare-metal-left stays", "head-bare changes", "plate-gap goes", "protected stays", "seat-rails comes"],
            move.GetProperty("steps")
                .EnumerateArray()
                .Select(s => $"{s.GetProperty("code").GetString()} {s.GetProperty("kind").GetString()}")
                .Order(StringComparer.Ordinal)
        );
        await car.Inspector.PostAsync($"{car.JobPath}/plan-move", new { version = own + 1, reason = "no" }, 403);
        await car.Owner.PostAsync($"{car.JobPath}/plan-move", new { version = own + 1, reason = "Rails" }, 200);
        var kept = await car.LineAsync("protected");
        Assert.Equal(own + 1, kept.GetProperty("notInPlanSince").GetInt32());
        Assert.Equal("passed", kept.GetProperty("state").GetString());
        Assert.Equal(1, kept.GetProperty("readings").GetArrayLength());
        Assert.Equal(90, (await car.LineAsync("head-bare")).GetProperty("lower").GetDecimal());
        var after = (await car.InspectionAsync()).GetRawText();
        Assert.Contains("seat-rails", after);
        Assert.DoesNotContain("plate-gap", after);
        Assert.Equal(
            "sameVersion",
            (await car.Owner.PostAsync($"{car.JobPath}/plan-move", new { version = own + 1, reason = "again" }, 409))
                .GetProperty("reasons")[0]
                .GetProperty("code")
                .GetString()
        );
        var types = new List<string>();
        await shop.WriteAsync(db => types.AddRange(db.Events.Select(e => e.Type)));
        Assert.Contains("inspectionPlan.shipped", types);
        Assert.Contains("inspectionPlan.saved", types);
        Assert.Contains("inspection.planMoved", types);
    }

    [Fact]
    public async Task What_cannot_be_saved_is_said_at_its_field()
    {
        const string Plan = Root + "/return-visit";
        using var owner = await shop.ApiAsync(Role.Owner);
        var document = await DocumentAsync(owner, Plan);
        var lines = document["lines"]!.AsArray();
        Line(lines, "work-welds")["operation"] = "999";
        var electrics = Line(lines, "electrics");
        electrics["unit"] = "mm";
        electrics["lower"] = 5;
        electrics["upper"] = 3;
        electrics["figures"] = new JsonArray("house-street/no-such");
        Line(lines, "belts-doors")["hiddenBy"] = new JsonArray("40");

        var refused = await owner.PostAsync($"{Plan}/versions", Body(1, document), 400);

        var errors = refused.GetProperty("errors");
        Assert.Contains("no operation 999", errors.GetProperty("lines[0].operation")[0].GetString());
        Assert.Contains("above the upper limit", errors.GetProperty("lines[2].lower")[0].GetString());
        Assert.Contains("There is no figure", errors.GetProperty("lines[2].figures[0]")[0].GetString());
        var late = errors.GetProperty("lines[3].operation")[0].GetString()!;
        Assert.Contains("Belts, seats and doors work", late);
        Assert.Contains("40 (Work looked at by a second person)", late);
        Assert.Equal(1, (await owner.GetJsonAsync(Plan)).GetProperty("newest").GetInt32());
        await owner.PostAsync($"{Plan}/versions", new { fromVersion = 1, note = "Why" }, 400);
        document["lines"]!.AsArray().Add(null);
        await owner.PostAsync($"{Plan}/check", new { document }, 400);
        await owner.GetJsonAsync($"{Root}/no-such", 404);
    }

    [Fact]
    public async Task A_job_is_not_opened_where_its_plan_would_come_too_late()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var stored = InspectionPlanJson.Parse((await DocumentAsync(owner, Root + "/kit-shipped")).ToJsonString()).Value;
        var late = stored with
        {
            Version = stored.Version + 1,
            Lines =
            [
                .. stored.Lines,
                new("label", "40", "Label readable", "By eye", "Sample", InspectionPoint.Hold, HiddenBy: ["30"]),
            ],
        };
        await shop.WriteAsync(db =>
            db.Add(
                InspectionPlanVersion.Save(
                    new InspectionPlanVersionId(Guid.CreateVersion7()),
                    InspectionPlan.From(late).Value,
                    null,
                    DateTimeOffset.UnixEpoch,
                    null
                )
            )
        );
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var refused = await desk.PostAsync("/api/v1/jobs", new { quoteId = await AcceptedKitAsync(desk) }, 409);

        var reason = refused.GetProperty("reasons")[0];
        Assert.Equal("planTooLate", reason.GetProperty("code").GetString());
        Assert.Contains("Label readable", reason.GetProperty("text").GetString());
        Assert.Contains("30 (Packed, weighed and labelled)", reason.GetProperty("text").GetString());
    }

    [Fact]
    public async Task Tube_limits_are_those_of_the_quotes_kit_and_a_size_the_quote_does_not_give_is_asked_for()
    {
        var car = await CarStory.BeginAsync(shop);
        var diameter = await car.LineAsync("tube-diameter");
        // The kit's hoop is 45 × 2.5 mm.
        Assert.Equal(44.7m, diameter.GetProperty("lower").GetDecimal());
        Assert.Equal(45.3m, diameter.GetProperty("upper").GetDecimal());
        Assert.Contains("Ordered 45 × 2.5 mm (Main hoop, quote Q-", diameter.GetProperty("source").GetString());
        var body = new
        {
            part = "hoop",
            diameterMm = 44.45m,
            wallMm = 2.413m,
            from = "Delivery note 17",
        };
        Assert.Equal(
            "orderedKnown",
            (await car.Desk.PostAsync($"{car.JobPath}/ordered-tubes", body, 409)).ReasonCode()
        );
        var lines = await ForgetSizeAsync(new JobId(Guid.Parse(car.JobId)));
        Assert.Equal(3, lines);

        await car.WorkUntilAsync("110");
        var wall = new { line = "tube-wall", value = 2.4 };
        Assert.Equal(
            "orderedSizeUnknown",
            (await car.Inspector.PostAsync($"{car.JobPath}/readings", wall, 409)).ReasonCode()
        );
        Assert.Equal("hoop", (await car.LineAsync("tube-wall")).GetProperty("needsSizeOf").GetString());
        await car.Inspector.PostAsync($"{car.JobPath}/ordered-tubes", body, 403);
        await car.Desk.PostAsync($"{car.JobPath}/ordered-tubes", body with { wallMm = 30m }, 400);
        await car.Desk.PostAsync($"{car.JobPath}/ordered-tubes", body, 200);
        Assert.Equal(2.163m, (await car.LineAsync("tube-wall")).GetProperty("lower").GetDecimal());
        var taken = await car.Inspector.PostAsync($"{car.JobPath}/readings", wall);
        Assert.Equal("passed", taken.GetProperty("lineState").GetString());
    }

    [Fact]
    public async Task Notice_of_a_witness_point_waits_for_the_inspector_and_the_owner_while_the_work_goes_on()
    {
        var car = await CarStory.BeginAsync(shop, "Nora Feld");
        Assert.DoesNotContain(car.JobId, (await car.Owner.GetJsonAsync("/api/v1/witness-points")).GetRawText());
        await car.WorkUntilAsync("10");

        var soon = await PointAsync(car, "20");
        Assert.Equal("about to start", soon.GetProperty("stand").GetString());
        Assert.Contains("Battery off", soon.GetProperty("lines")[0].GetString());
        await car.Fabricator.GetJsonAsync("/api/v1/witness-points", 403);
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/20/finish", new { }, 200);
        Assert.Equal("finished", (await PointAsync(car, "20")).GetProperty("stand").GetString());

        var path = $"{car.JobPath}/witness-points/20";
        await car.Fabricator.PostAsync(path, new { outcome = "notAttended" }, 403);
        await car.Inspector.PostAsync(path, new { }, 400);
        await car.Inspector.PostAsync($"{car.JobPath}/witness-points/30", new { outcome = "notAttended" }, 404);
        await car.Inspector.PostAsync(path, new { outcome = "notAttended" }, 200);
        var marked = await car.Owner.PostAsync(
            path,
            new { outcome = "witnessedByPerson", note = "From the office" },
            200
        );
        Assert.Equal("witnessedByPerson", marked.GetProperty("outcome").GetString());
        Assert.NotEqual(JsonValueKind.Null, marked.GetProperty("markedByName").ValueKind);
        Assert.DoesNotContain(car.JobId, (await car.Owner.GetJsonAsync("/api/v1/witness-points")).GetRawText());
        Assert.Contains(
            "From the office",
            (await car.Fabricator.GetJsonAsync($"{car.JobPath}/witness-points")).GetRawText()
        );
        var types = new List<string>();
        var job = new JobId(Guid.Parse(car.JobId));
        await shop.WriteAsync(db => types.AddRange(db.Events.Where(e => e.Job == job).Select(e => e.Type)));
        Assert.Single(types, "witness.noticeGiven");
        Assert.Equal(2, types.Count(t => t == "witness.marked"));
    }

    private static async Task<JsonElement> PointAsync(CarStory car, string operation) =>
        (await car.Inspector.GetJsonAsync("/api/v1/witness-points"))
            .EnumerateArray()
            .Single(p =>
                p.GetProperty("jobId").GetString() == car.JobId && p.GetProperty("operation").GetString() == operation
            );

    /// <summary>As on a job whose quote does not give the hoop's size.</summary>
    private async Task<int> ForgetSizeAsync(JobId job)
    {
        var changed = 0;
        await shop.WriteAsync(db =>
            changed = db.Set<InspectionLine>()
                .Where(l => l.JobId == job && l.Code.StartsWith("tube-"))
                .ExecuteUpdate(l =>
                    l.SetProperty(x => x.Lower, (decimal?)null)
                        .SetProperty(x => x.Upper, (decimal?)null)
                        .SetProperty(x => x.Nominal, (decimal?)null)
                )
        );
        return changed;
    }

    private static async Task<string> AcceptedKitAsync(HttpClient desk)
    {
        var customer = await desk.PostAsync("/api/v1/customers", new { name = "Jon Beck" });
        var quote = await desk.PostAsync(
            "/api/v1/quotes",
            new
            {
                customerId = customer.GetProperty("id").GetString(),
                kind = "shipped",
                kitCode = "four-point-half-bar",
                freightZoneCode = "inland",
            }
        );
        var path = $"/api/v1/quotes/{quote.GetProperty("id").GetString()}";
        var sent = await desk.PostAsync($"{path}/send", new { }, 200);
        await desk.PostAsync(
            $"{path}/accept",
            new { acceptedBy = "Jon Beck", contentHash = sent.GetProperty("contentHash").GetString() },
            200
        );
        return quote.GetProperty("id").GetString()!;
    }

    private static object Body(int from, JsonObject document) =>
        new
        {
            fromVersion = from,
            note = "Seat rails were bent once",
            document,
        };

    private static JsonNode Line(JsonArray lines, string code) => lines.Single(l => (string?)l!["code"] == code)!;

    private static async Task<JsonObject> DocumentAsync(HttpClient owner, string path)
    {
        var view = await owner.GetJsonAsync(path);
        return JsonNode.Parse(view.GetProperty("document").GetRawText())!.AsObject();
    }
}

public sealed class InspectionPlansApiOnSqlite(SqliteShop shop)
    : InspectionPlansApiTests(shop),
        IClassFixture<SqliteShop>;

public sealed class InspectionPlansApiOnPostgres(PostgresShop shop)
    : InspectionPlansApiTests(shop),
        IClassFixture<PostgresShop>;
