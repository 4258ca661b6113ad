using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Accounts;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Changes;

/// <summary>Change orders from the draft to the running job, by the API, on both databases.</summary>
public abstract class ChangesApiTests(ShopHost shop)
{
    private static readonly System.Globalization.CultureInfo Invariant = System
        .Globalization
        .CultureInfo
        .InvariantCulture;

    [Fact]
    public async Task Approved_change_adds_to_total_route_inspection_hours_and_promise()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, quoted) = await ChangeStory.SignedJobAsync(desk);
        var promised = (await desk.GetJsonAsync($"/api/v1/jobs/{job}")).Text("promisedOn");
        var draft = await desk.PostAsync($"/api/v1/jobs/{job}/change-orders", ChangeStory.FurtherPlate());
        Assert.Matches(@"^CO-2026-\d{4}$", draft.Text("number"));
        Assert.Equal("draft", draft.Text("state"));
        Assert.DoesNotContain("changeOrder", ChangeStory.GateKinds(await JobAsync(desk, job), "10"));
        var more = draft.Number("totalMinor");
        Assert.True(more > 4_500);

        var offered = await ChangeStory.OfferAsync(desk, draft);
        Assert.Matches("^[0-9a-f]{64}$", offered.Text("contentHash"));
        Assert.Contains("changeOrder", ChangeStory.GateKinds(await JobAsync(desk, job), "10"));
        await ChangeStory.ApproveAsync(desk, offered, 409, hash: new string('0', 64));
        var approved = await ChangeStory.ApproveAsync(desk, offered);

        Assert.Equal(
            ("approved", "Ada Kremer", "byTelephone"),
            (approved.Text("state"), approved.Text("approvedBy"), approved.Text("approvedHow"))
        );
        var after = await JobAsync(desk, job);
        Assert.DoesNotContain("changeOrder", ChangeStory.GateKinds(after, "10"));
        var codes = after.GetProperty("operations").EnumerateArray().Select(o => o.Text("code")).ToList();
        Assert.Equal(codes.IndexOf("50") + 1, codes.IndexOf("55"));
        Assert.Equal(codes.IndexOf("55") + 1, codes.IndexOf("60"));
        Assert.True(ChangeStory.Operation(after, "55").GetProperty("estimatedHours").GetDecimal() > 0);
        Assert.Contains(
            ChangeStory.Operation(after, "60").GetProperty("gates").EnumerateArray(),
            g => g.Text("kind") == "operation" && g.Text("operation") == "55"
        );
        Assert.Equal(
            DateOnly.ParseExact(promised, "yyyy-MM-dd", Invariant).AddDays(2).ToString("yyyy-MM-dd", Invariant),
            after.Text("promisedOn")
        );
        var inspection = await desk.GetJsonAsync($"/api/v1/jobs/{job}/inspection");
        Assert.Contains("Patch closed all round", inspection.ToString(), StringComparison.Ordinal);
        var all = await desk.GetJsonAsync($"/api/v1/jobs/{job}/change-orders");
        Assert.Equal(
            (quoted, more, quoted + more, quoted + more),
            (
                all.Number("quoteTotalMinor"),
                all.Number("approvedMinor"),
                all.Number("agreedMinor"),
                all.Number("chargedMinor")
            )
        );
        var invoice = await desk.PostAsync($"/api/v1/jobs/{job}/invoices", new { });
        Assert.Equal(quoted + more, invoice.Number("totalMinor"));
        Assert.Contains("Sheet steel", invoice.ToString(), StringComparison.Ordinal);
        Assert.Empty(await ChangeStory.VerifyAsync(shop));
    }

    [Fact]
    public async Task Change_that_names_operations_holds_only_those_and_declining_lets_them_go()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var bench = await shop.ApiAsync(Role.Fabricator);
        var (job, quoted) = await ChangeStory.SignedJobAsync(desk);
        var draft = await desk.PostAsync($"/api/v1/jobs/{job}/change-orders", ChangeStory.FurtherPlate(holds: ["20"]));
        var offered = await ChangeStory.OfferAsync(desk, draft);

        await bench.PostAsync($"/api/v1/jobs/{job}/operations/10/finish", new { }, 200);
        var held = await bench.PostAsync($"/api/v1/jobs/{job}/operations/20/start", new { }, 409);
        Assert.Contains(
            $"Waits for the customer: change order {offered.Text("number")} of",
            held.ToString(),
            StringComparison.Ordinal
        );
        var path = $"/api/v1/change-orders/{offered.Text("id")}";
        await desk.PostAsync($"{path}/decline", new { }, 400);
        var declined = await desk.PostAsync($"{path}/decline", new { reason = "Not this year" }, 200);
        await bench.PostAsync($"/api/v1/jobs/{job}/operations/20/start", new { }, 200);

        Assert.Equal(("declined", "Not this year"), (declined.Text("state"), declined.Text("closeReason")));
        Assert.DoesNotContain(
            (await JobAsync(desk, job)).GetProperty("operations").EnumerateArray(),
            o => o.Text("code") == "55"
        );
        Assert.Equal(quoted, (await desk.GetJsonAsync($"/api/v1/jobs/{job}/change-orders")).Number("chargedMinor"));
    }

    [Fact]
    public async Task Car_is_not_handed_over_while_an_offer_waits_for_its_answer()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await ChangeStory.SignedJobAsync(desk);
        var draft = await desk.PostAsync($"/api/v1/jobs/{job}/change-orders", ChangeStory.FurtherPlate());
        var offered = await ChangeStory.OfferAsync(desk, draft);
        var waits = $"Change order {offered.Text("number")} waits for the customer's answer.";
        async Task<string> NotReadyAsync() =>
            (await desk.GetJsonAsync($"/api/v1/jobs/{job}/hand-over")).GetProperty("notReady").ToString();

        Assert.Contains(waits, await NotReadyAsync(), StringComparison.Ordinal);
        var path = $"/api/v1/change-orders/{offered.Text("id")}";
        await desk.PostAsync($"{path}/decline", new { reason = "Not this year" }, 200);
        Assert.DoesNotContain(waits, await NotReadyAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Of_two_people_who_answer_at_once_one_wins_and_the_other_is_told()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, quoted) = await ChangeStory.SignedJobAsync(desk);
        var offered = await ChangeStory.OfferAsync(
            desk,
            await desk.PostAsync($"/api/v1/jobs/{job}/change-orders", ChangeStory.FurtherPlate())
        );
        var path = $"/api/v1/change-orders/{offered.Text("id")}";
        var yes = new
        {
            approvedBy = "Ada Kremer",
            contentHash = offered.Text("contentHash"),
            how = "inWriting",
        };

        var answers = await Task.WhenAll(
            Enumerable
                .Range(0, 4)
                .Select(i =>
                    i % 2 == 0
                        ? desk.SendAsync(HttpMethod.Post, path + "/approve", yes)
                        : desk.SendAsync(HttpMethod.Post, path + "/decline", new { reason = "No" })
                )
        );

        Assert.Equal(1, answers.Count(a => (int)a.StatusCode == 200));
        foreach (var loser in answers.Where(a => (int)a.StatusCode != 200))
        {
            Assert.Contains("already", (await loser.JsonAsync(409)).ToString(), StringComparison.Ordinal);
        }

        var change = await desk.GetJsonAsync(path);
        var all = await desk.GetJsonAsync($"/api/v1/jobs/{job}/change-orders");
        Assert.Equal(
            quoted + (change.Text("state") == "approved" ? change.Number("totalMinor") : 0),
            all.Number("chargedMinor")
        );
        Assert.Empty(await ChangeStory.VerifyAsync(shop));
    }

    [Fact]
    public async Task Condition_found_at_the_drop_off_makes_a_draft_and_nothing_comes_out_before_the_answer()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, quoted) = await ChangeStory.SignedJobAsync(desk, rustFound: "heavy");
        var from = $"/api/v1/jobs/{job}/change-orders/from-drop-off";

        var draft = await desk.PostAsync(from, new { });

        Assert.Equal("conditionFound", draft.Text("basis"));
        Assert.Contains("heavy", draft.GetProperty("sentences")[0].GetString()!, StringComparison.OrdinalIgnoreCase);
        var waiting = await JobAsync(desk, job);
        Assert.DoesNotContain("changeOrder", ChangeStory.GateKinds(waiting, "10"));
        Assert.Contains("changeOrder", ChangeStory.GateKinds(waiting, "30"));
        Assert.Equal("conditionOpen", (await desk.PostAsync(from, new { }, 409)).ReasonCode());
        var difference = await desk.PostAsync(
            $"/api/v1/jobs/{job}/condition-difference",
            new { conditionFound = new { rust = "heavy" } },
            200
        );
        Assert.Equal(difference.Number("totalMinorMore"), draft.Number("totalMinor"));
        await ChangeStory.ApproveAsync(desk, await ChangeStory.OfferAsync(desk, draft));
        Assert.DoesNotContain("changeOrder", ChangeStory.GateKinds(await JobAsync(desk, job), "30"));
        Assert.Equal(
            quoted + draft.Number("totalMinor"),
            (await desk.GetJsonAsync($"/api/v1/jobs/{job}/change-orders")).Number("chargedMinor")
        );
        // As agreed now: the same condition makes no further change.
        await desk.PostAsync(from, new { }, 400);
        Assert.Empty(await ChangeStory.VerifyAsync(shop));
    }

    [Theory]
    [InlineData("""{}""", "reason")]
    [InlineData("""{"reason":"x"}""", "work")]
    [InlineData(
        """{"reason":"x","work":[{"operation":"999","skill":"welder","standardCode":"plate-form","quantity":1}]}""",
        "work[0].operation"
    )]
    [InlineData(
        """{"reason":"x","work":[{"operation":"50","skill":"welder","standardCode":"plate-form","quantity":0}]}""",
        "work[0].quantity"
    )]
    [InlineData(
        """{"reason":"x","lines":[{"description":"a","quantity":1,"unitPriceMinor":-5}]}""",
        "lines[0].unitPriceMinor"
    )]
    [InlineData(
        """{"reason":"x","lines":[{"description":"a","quantity":1,"unitPriceMinor":5}],"discountPercent":101}""",
        "discountPercent"
    )]
    [InlineData(
        """{"reason":"x","lines":[{"description":"a","quantity":1,"unitPriceMinor":5}],"photoIds":["019f0000-0000-7000-8000-000000000001"]}""",
        "photoIds[0]"
    )]
    [InlineData(
        """{"reason":"x","lines":[{"description":"a","quantity":1,"unitPriceMinor":5}],"promiseDays":4000}""",
        "promiseDays"
    )]
    [InlineData(
        """{"reason":"x","lines":[{"description":"a","quantity":1,"unitPriceMinor":5}],"promiseOn":"2020-01-01"}""",
        "promiseOn"
    )]
    [InlineData(
        """{"reason":"x","lines":[{"description":"a","quantity":1,"unitPriceMinor":5}],"holds":["999"]}""",
        "holds[0]"
    )]
    [InlineData("""{"reason":"x","conditionFound":{"rust":"purple"}}""", "conditionFound.rust")]
    [InlineData("""{"reason":"x","conditionFound":{"rust":"light"}}""", "conditionFound")]
    [InlineData(
        """{"reason":"x","lines":[{"description":"a","quantity":1,"unitPriceMinor":5}],"operations":[{"code":"50","title":"t","phase":"seamPrep","skill":"welder"}]}""",
        "operations[0].code"
    )]
    [InlineData(
        """{"reason":"x","lines":[{"description":"a","quantity":1,"unitPriceMinor":5}],"operations":[{"code":"55","title":"t","phase":"lunch","skill":"welder"}]}""",
        "operations[0].phase"
    )]
    [InlineData(
        """{"reason":"x","lines":[{"description":"a","quantity":1,"unitPriceMinor":5}],"inspectionLines":[{"operation":"50","what":"w","how":"h","lower":3}]}""",
        "inspectionLines[0].unit"
    )]
    public async Task Bad_input_gets_a_sentence_at_its_field(string body, string path)
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);

        var problem = await desk.PostAsync(
            $"/api/v1/jobs/{job}/change-orders",
            System.Text.Json.Nodes.JsonNode.Parse(body),
            400
        );

        Assert.True(problem.GetProperty("errors").TryGetProperty(path, out _), problem.ToString());
        var none = await desk.GetJsonAsync($"/api/v1/jobs/{job}/change-orders");
        Assert.Equal(0, none.GetProperty("changes").GetArrayLength());
    }

    [Fact]
    public async Task Operation_that_would_build_the_car_into_a_corner_is_refused()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);

        object Draft(string[] after, string[] before, string[] closes) =>
            new
            {
                reason = "x",
                lines = new[]
                {
                    new
                    {
                        description = "a",
                        quantity = 1,
                        unitPriceMinor = 5,
                    },
                },
                operations = new[]
                {
                    new
                    {
                        code = "55",
                        title = "Skin welded shut",
                        phase = "seamPrep",
                        skill = "welder",
                        after,
                        before,
                        closes,
                    },
                },
            };
        var path = $"/api/v1/jobs/{job}/change-orders";

        var corner = await desk.PostAsync(path, Draft(["50"], ["60"], ["passenger-door-clear"]), 409);
        var circle = await desk.PostAsync(path, Draft(["60"], ["50"], []), 409);

        Assert.Equal("buildSequence", corner.ReasonCode());
        Assert.Contains("circle", circle.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Fabricators_and_inspectors_neither_see_nor_answer_change_orders()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        var draft = await desk.PostAsync($"/api/v1/jobs/{job}/change-orders", ChangeStory.FurtherPlate());
        foreach (var role in new[] { Role.Fabricator, Role.Inspector })
        {
            using var api = await shop.ApiAsync(role);
            await api.GetJsonAsync($"/api/v1/change-orders/{draft.Text("id")}", 403);
            await api.PostAsync($"/api/v1/change-orders/{draft.Text("id")}/offer", new { }, 403);
            await api.PostAsync($"/api/v1/jobs/{job}/change-orders", ChangeStory.FurtherPlate(), 403);
        }
    }

    [Fact]
    public async Task History_keeps_each_step_without_names_and_reasons()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await ChangeStory.SignedJobAsync(desk);
        var draft = await desk.PostAsync($"/api/v1/jobs/{job}/change-orders", ChangeStory.FurtherPlate());
        await ChangeStory.ApproveAsync(desk, await ChangeStory.OfferAsync(desk, draft));
        var second = await desk.PostAsync(
            $"/api/v1/jobs/{job}/change-orders",
            new
            {
                reason = "Ring Ada",
                lines = new[]
                {
                    new
                    {
                        description = "a",
                        quantity = 1,
                        unitPriceMinor = 5,
                    },
                },
            }
        );
        await desk.PostAsync(
            $"/api/v1/change-orders/{second.Text("id")}/withdraw",
            new { reason = "Typing slip" },
            200
        );

        var id = new JobId(Guid.Parse(job));
        var events = await shop.WithAsync<IDbContextFactory<ShopDbContext>, List<(string Type, string Data)>>(
            async contexts =>
            {
                await using var db = await contexts.CreateDbContextAsync();
                return
                [
                    .. (await db.Events.Where(e => e.Job == id).OrderBy(e => e.Sequence).ToListAsync()).Select(e =>
                        (e.Type, e.Data)
                    ),
                ];
            }
        );

        Assert.Equal(
            [
                "changeOrder.drafted",
                "changeOrder.offered",
                "changeOrder.approved",
                "changeOrder.drafted",
                "changeOrder.withdrawn",
            ],
            events.Where(e => e.Type.StartsWith("changeOrder.", StringComparison.Ordinal)).Select(e => e.Type)
        );
        Assert.Contains(events, e => e.Type == "inspection.linesAdded");
        Assert.DoesNotContain(
            events,
            e =>
                e.Data.Contains("Ada", StringComparison.Ordinal)
                || e.Data.Contains("sill", StringComparison.OrdinalIgnoreCase)
                || e.Data.Contains("slip", StringComparison.Ordinal)
        );
    }

    private static Task<JsonElement> JobAsync(HttpClient api, string job) => api.GetJsonAsync($"/api/v1/jobs/{job}");
}

public sealed class ChangesApiOnSqlite(SqliteShop shop) : ChangesApiTests(shop), IClassFixture<SqliteShop>;

public sealed class ChangesApiOnPostgres(PostgresShop shop) : ChangesApiTests(shop), IClassFixture<PostgresShop>;
