using System.Text.Json;
using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;

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
