using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using ShopFloor.Application.History;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Accounts;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Intake;

/// <summary>Kits that are sent, parts that come without their car, cars that come back: from the quote to the end, on both databases.</summary>
public abstract class GoodsOutApiTests(ShopHost shop)
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_kit_is_quoted_made_checked_paid_and_sent_and_no_page_asks_for_its_car()
    {
        var (customer, _) = await QuoteStory.CustomerWithCarAsync(shop, "Kit By Post", "SF-GO 1");
        var kit = await CarStory.OfSaleAsync(shop, "Kit By Post", Kit(customer));
        var job = await kit.JobAsync();
        Assert.Equal(("Kit packed and shipped", "shipped"), (job.Text("car"), job.Text("kind")));
        Assert.Equal(JsonValueKind.Null, job.GetProperty("carId").ValueKind);
        Assert.Equal(JsonValueKind.Null, job.GetProperty("carFacts").ValueKind);
        var row = await kit.Desk.GetJsonAsync("/api/v1/jobs?search=kit%20by%20post");
        Assert.Equal("Kit packed and shipped", Assert.Single(row.GetProperty("items").EnumerateArray()).Text("car"));
        var path = $"{kit.JobPath}/goods-out";
        Assert.Equal("operation", (await kit.Desk.PostAsync(path, Sent(), 409)).ReasonCode());
        await EveryPageSpeaksOfTheKitAsync(kit);

        await kit.WorkUntilAsync();
        var release = await kit.Desk.PostAsync(path, Sent(), 409);
        Assert.Equal("40", release.GetProperty("reasons")[0].Text("operation"));
        Assert.Contains(
            (await kit.Inspector.GetJsonAsync("/api/v1/inspection")).GetProperty("items").EnumerateArray(),
            w => w.Text("jobId") == kit.JobId && w.Text("car") == "Kit packed and shipped"
        );
        var unpaid = await kit.Inspector.PostAsync($"{kit.JobPath}/sign-off", new { }, 409);
        Assert.Equal("balanceDue", Assert.Single(unpaid.GetProperty("reasons").EnumerateArray()).Text("code"));
        Assert.Contains(
            "waits for the payment",
            (await kit.JobAsync()).GetProperty("waitsFor").ToString(),
            StringComparison.Ordinal
        );
        var invoice = await kit.Desk.PostAsync($"{kit.JobPath}/invoices", new { });
        Assert.True(invoice.Number("totalMinor") > 0);
        var due = (await kit.Desk.GetJsonAsync(path)).Number("balanceMinor");
        await kit.Desk.PostAsync(
            $"{kit.JobPath}/account/payments",
            new { amountMinor = due, method = "bankTransfer" },
            200
        );
        await kit.Inspector.PostAsync($"{kit.JobPath}/sign-off", new { }, 200);
        await kit.Fabricator.PostAsync(path, Sent(), 403);
        var left = await kit.Desk.PostAsync(path, Sent(), 200);

        Assert.Equal(("sent", "Saddleback Carriers"), (left.Text("way"), left.Text("carrier")));
        Assert.Equal((31.5m, 0L), (left.GetProperty("massKg").GetDecimal(), left.Number("balanceMinor")));
        var closed = await kit.JobAsync();
        Assert.Equal(("closed", Today()), (closed.Text("state"), closed.Text("wentOutOn")));
        Assert.Equal("closed", (await kit.Desk.PostAsync(path, Sent(), 409)).ReasonCode());
        var events = await kit.Owner.GetJsonAsync("/api/v1/events?after=0&pageSize=200");
        Assert.DoesNotContain("Cross Lane", events.ToString(), StringComparison.Ordinal);
        await EveryPageSpeaksOfTheKitAsync(kit);
    }

    [Fact]
    public async Task A_kit_has_no_drop_off_no_hand_over_and_no_authorisation()
    {
        var (customer, _) = await QuoteStory.CustomerWithCarAsync(shop, "No Car Here", "SF-GO 2");
        var kit = await CarStory.OfSaleAsync(shop, "No Car Here", Kit(customer));

        Assert.Equal("noCar", (await kit.Desk.GetJsonAsync($"{kit.JobPath}/drop-off", 409)).ReasonCode());
        var dropped = await kit.Desk.PutAsync($"{kit.JobPath}/drop-off", IntakeStory.DropOff, 409);
        Assert.Equal("noCar", dropped.ReasonCode());
        Assert.Equal("noCar", (await kit.Desk.GetJsonAsync($"{kit.JobPath}/hand-over", 409)).ReasonCode());
        Assert.Equal("noCar", (await kit.Desk.PostAsync($"{kit.JobPath}/hand-over", new { }, 409)).ReasonCode());
        await kit.Desk.PostAsync($"{kit.JobPath}/cancel", new { reason = "Changed their mind" }, 200);
        Assert.Equal("noCar", (await kit.Desk.GetJsonAsync($"{kit.JobPath}/return", 409)).ReasonCode());
        Assert.Equal("cancelled", (await kit.Desk.PostAsync($"{kit.JobPath}/goods-out", Sent(), 409)).ReasonCode());
    }

    [Fact]
    public async Task What_goes_out_wrongly_described_is_told_field_by_field()
    {
        var (customer, _) = await QuoteStory.CustomerWithCarAsync(shop, "Wrong Words", "SF-GO 3");
        var part = await DonePartAsync(customer, "Wrong Words");
        var path = $"{part.JobPath}/goods-out";

        await ErrorsAsync(part, path, new { }, "on", "parcels", "way");
        await ErrorsAsync(
            part,
            path,
            new
            {
                way = "sent",
                on = "2001-01-01",
                parcels = 0,
                massKg = 0.0005m,
            },
            "carrier",
            "consignmentNumber",
            "massKg",
            "on",
            "parcels",
            "sentTo"
        );
        await ErrorsAsync(
            part,
            path,
            new
            {
                way = "collected",
                on = Today(),
                parcels = 1,
                carrier = "Saddleback Carriers",
            },
            "carrier",
            "signature"
        );
        await ErrorsAsync(
            part,
            path,
            new
            {
                way = "sent",
                on = Today(),
                parcels = 1,
                massKg = 10_001,
                carrier = "C",
                consignmentNumber = "1",
                sentTo = "Somewhere",
                signature = IntakeStory.Drawn,
            },
            "massKg",
            "signature"
        );
    }

    [Fact]
    public async Task A_part_is_worked_on_with_its_hot_work_caution_and_collected_by_the_owners_decision()
    {
        var (customer, _) = await QuoteStory.CustomerWithCarAsync(shop, "Partha Teil", "SF-GO 4");
        var part = await DonePartAsync(customer, "Partha Teil");
        var work = (await part.JobAsync())
            .GetProperty("operations")
            .EnumerateArray()
            .Single(o => o.Text("code") == "20");
        Assert.True(work.GetProperty("hotWork").GetBoolean());
        Assert.Contains("Never heat a vessel that held fuel", work.Text("caution"), StringComparison.Ordinal);
        var path = $"{part.JobPath}/goods-out";
        var collected = new
        {
            way = "collected",
            on = Today(),
            parcels = 1,
            signature = new { kind = "printedSheet", signedBy = "Partha Teil" },
        };

        // The payment turns out not to have come: what was signed off still does not go.
        var paid = (await part.Desk.GetJsonAsync($"{part.JobPath}/account"))
            .GetProperty("entries")
            .EnumerateArray()
            .Last();
        await part.Owner.PostAsync(
            $"{part.JobPath}/account/entries/{paid.Text("id")}/reverse",
            new { reason = "The transfer was recalled" },
            200
        );
        Assert.Equal("balanceDue", (await part.Desk.PostAsync(path, collected, 409)).ReasonCode());
        await part.Owner.PostAsync(
            $"{part.JobPath}/account/hand-over-with-balance",
            new { reason = "Pays at the end of the month" },
            200
        );
        var gone = await part.Desk.PostAsync(path, collected, 200);
        Assert.Equal(("Partha Teil", true), (gone.Text("signedBy"), gone.Number("balanceMinor") > 0));
        Assert.Equal("closed", (await part.JobAsync()).Text("state"));

        await part.Owner.PostAsync($"/api/v1/customers/{customer}/erase", new { }, 200);
        var after = await part.Desk.GetJsonAsync(path);
        Assert.DoesNotContain("Partha", after.ToString(), StringComparison.Ordinal);
        Assert.Equal("collected", after.GetProperty("goodsOut").Text("way"));
        Assert.Empty(await shop.WithAsync<VerifyHistory, IReadOnlyList<string>>(v => v.RunAsync(Ct)));
    }

    [Fact]
    public async Task The_part_of_a_cancelled_job_goes_back_as_it_stands()
    {
        var (customer, _) = await QuoteStory.CustomerWithCarAsync(shop, "Half Done", "SF-GO 5");
        var part = await CarStory.OfSaleAsync(shop, "Half Done", Bench(customer));
        await part.Desk.PostAsync($"{part.JobPath}/cancel", new { reason = "Sold the car" }, 200);

        var gone = await part.Desk.PostAsync(
            $"{part.JobPath}/goods-out",
            new
            {
                way = "sent",
                on = Today(),
                parcels = 1,
                massKg = 4,
                carrier = "Saddleback Carriers",
                consignmentNumber = "SBC 2",
                sentTo = "Half Done, 2 Cross Lane",
            },
            200
        );

        Assert.Equal("sent", gone.Text("way"));
        var job = await part.JobAsync();
        Assert.Equal(("cancelled", Today()), (job.Text("state"), job.Text("wentOutOn")));
    }

    [Fact]
    public async Task A_car_that_comes_back_is_linked_to_its_first_job_dropped_off_and_handed_over()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (first, customer, car) = await IntakeStory.OpenDoneJobAsync(desk, "Rita Rueckkehr");
        using var owner = await shop.ApiAsync(Role.Owner);
        await owner.PostAsync(
            $"/api/v1/jobs/{first}/account/hand-over-with-balance",
            new { reason = "Pays on Friday" },
            200
        );
        await desk.PostAsync($"/api/v1/jobs/{first}/hand-over", HandOver(81_050), 200);
        var refused = await desk.PutAsync($"/api/v1/jobs/{first}/drop-off", IntakeStory.DropOff, 409);
        Assert.Contains("return visit", refused.ToString(), StringComparison.Ordinal);

        await JobPageLeadsToTheVisitAsync(first);

        var visit = await CarStory.OfSaleAsync(shop, "Rita Rueckkehr", Visit(customer, car, first));

        var earlier = await desk.GetJsonAsync($"/api/v1/jobs/{first}");
        var job = await visit.JobAsync();
        Assert.Equal(("returnVisit", car), (job.Text("kind"), job.Text("carId")));
        Assert.Equal(earlier.Text("number"), job.GetProperty("returnOf").Text("number"));
        var back = Assert.Single(earlier.GetProperty("cameBack").EnumerateArray());
        Assert.Equal((visit.JobId, job.Text("number")), (back.Text("id"), back.Text("number")));
        Assert.Equal("car", (await desk.PostAsync($"{visit.JobPath}/goods-out", Sent(), 409)).ReasonCode());

        await visit.SignAsync();
        await visit.WorkUntilAsync();
        await visit.SignOffAsync();
        var looks = (await desk.GetJsonAsync($"{visit.JobPath}/hand-over"))
            .GetProperty("photos")
            .EnumerateArray()
            .Select(p => (object)new { intakePhotoId = p.Text("id"), isSame = true });
        await desk.PostAsync($"{visit.JobPath}/hand-over", HandOver(120_010, looks), 200);
        Assert.Equal("closed", (await visit.JobAsync()).Text("state"));
    }

    private async Task JobPageLeadsToTheVisitAsync(string first)
    {
        using var page = await shop.SignedInAsync(Role.Owner);
        var html = await page.GetStringAsync(new Uri($"/jobs/{first}", UriKind.Relative), Ct);
        var link = WebUtility.HtmlDecode(Regex.Match(html, "href=\"(quotes/new[^\"]+)\"").Groups[1].Value);
        var counter = await page.GetStringAsync(new Uri("/" + link, UriKind.Relative), Ct);
        Assert.Contains("Comes back for", counter, StringComparison.Ordinal);
        Assert.Contains("Rita Rueckkehr", counter, StringComparison.Ordinal);
    }

    private async Task EveryPageSpeaksOfTheKitAsync(CarStory kit)
    {
        using var page = await shop.SignedInAsync(Role.Owner);
        foreach (
            var path in new[]
            {
                $"/jobs/{kit.JobId}",
                $"/jobs/{kit.JobId}/goods-out",
                $"/floor/jobs/{kit.JobId}",
                $"/inspection/{kit.JobId}",
                "/jobs?state=all",
                "/floor",
                "/inspection",
                "/week",
            }
        )
        {
            using var answer = await page.GetAsync(new Uri(path, UriKind.Relative), Ct);
            Assert.True(answer.StatusCode == HttpStatusCode.OK, $"{path}: {answer.StatusCode}");
            Assert.DoesNotContain("went wrong", await answer.Content.ReadAsStringAsync(Ct), StringComparison.Ordinal);
        }

        foreach (var paper in new[] { "traveller", "inspection" })
        {
            var text = await JobStory.PdfTextAsync(kit.Owner, $"{kit.JobPath}/{paper}/pdf");
            Assert.Contains("Kit packed and shipped", text, StringComparison.Ordinal);
        }

        var link = await kit.Desk.PostAsync($"{kit.JobPath}/progress-links", new { });
        using var guest = shop.CreateClient();
        var html = await guest.GetStringAsync(new Uri(link.Text("url")).AbsolutePath, Ct);
        Assert.Contains("Kit packed and shipped", html, StringComparison.Ordinal);
        Assert.DoesNotContain("Your signature", html, StringComparison.Ordinal);
        Assert.DoesNotContain("Your car", html, StringComparison.Ordinal);
    }

    private static async Task ErrorsAsync(CarStory part, string path, object body, params string[] expected)
    {
        var problem = await part.Desk.PostAsync(path, body, 400);
        Assert.Equal(expected, problem.GetProperty("errors").EnumerateObject().Select(e => e.Name).Order());
    }

    private async Task<CarStory> DonePartAsync(Guid customer, string name)
    {
        var part = await CarStory.OfSaleAsync(shop, name, Bench(customer));
        await part.WorkUntilAsync();
        await part.SignOffAsync();
        return part;
    }

    private string Today() =>
        shop.Clock.GetUtcNow().ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);

    private object Sent() =>
        new
        {
            way = "sent",
            on = Today(),
            parcels = 2,
            massKg = 31.5m,
            carrier = "Saddleback Carriers",
            consignmentNumber = "SBC 1",
            sentTo = "Kit By Post, 1 Cross Lane",
        };

    private static object Kit(Guid customer) =>
        new
        {
            customerId = customer,
            kind = "shipped",
            kitCode = "four-point-half-bar",
            freightZoneCode = "inland",
        };

    private static object Bench(Guid customer) =>
        new
        {
            customerId = customer,
            kind = "bench",
            bench = new[]
            {
                new
                {
                    skill = "welder",
                    standardCode = "weld-tube-mm",
                    quantity = 300m,
                },
            },
        };

    private static object Visit(string customer, string car, string job) =>
        new
        {
            customerId = customer,
            carId = car,
            kind = "returnVisit",
            returnOfJobId = job,
            freeReason = "A weld of ours was missed",
            bench = new[]
            {
                new
                {
                    skill = "welder",
                    standardCode = "weld-plate-mm",
                    quantity = 80m,
                },
            },
        };

    private static object HandOver(int odometerKm, IEnumerable<object>? looks = null) =>
        new
        {
            odometerKm,
            warningLights = Array.Empty<string>(),
            keysReturned = 2,
            looks = looks ?? [],
            signature = IntakeStory.Drawn,
        };
}

public sealed class GoodsOutApiOnSqlite(SqliteShop shop) : GoodsOutApiTests(shop), IClassFixture<SqliteShop>;

public sealed class GoodsOutApiOnPostgres(PostgresShop shop) : GoodsOutApiTests(shop), IClassFixture<PostgresShop>;
