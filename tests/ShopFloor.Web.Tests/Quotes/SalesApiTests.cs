using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using static ShopFloor.Web.Tests.Quotes.QuoteStory;

namespace ShopFloor.Web.Tests.Quotes;

/// <summary>The kinds of sale, further lines, copies and lost quotes by the API, on both databases.</summary>
public abstract class SalesApiTests(ShopHost shop)
{
    private const string Path = "/api/v1/quotes";

    [Fact]
    public async Task Kit_is_shipped_without_a_car_and_pays_freight_to_its_zone()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (customer, _) = await CustomerWithCarAsync(shop, "Shipped To", "SF-SL 1");
        object Sale(string? zone) =>
            new
            {
                customerId = customer,
                kind = "shipped",
                kitCode = "six-point-weld-in",
                doors = new[] { new { door = "left", hingeOptionCode = "fixed" } },
                freightZoneCode = zone,
            };

        var refused = await api.PostAsync(Path, Sale(null), 400);
        Assert.Contains(
            "inland",
            refused.GetProperty("errors").GetProperty("freightZoneCode")[0].GetString(),
            StringComparison.Ordinal
        );
        var quote = await api.PostAsync(Path, Sale("inland"));

        Assert.Equal(("shipped", "Kit packed and shipped"), (quote.Text("kind"), quote.Text("carTitle")));
        Assert.Contains(quote.GetProperty("lines").EnumerateArray(), l => l.Text("code") == "freight");
        var sent = await api.PostAsync($"{Path}/{quote.Text("id")}/send", new { }, 200);
        Assert.Equal(64, sent.Text("contentHash").Length);
        var list = await api.GetJsonAsync($"{Path}?search=shipped");
        Assert.Equal("no car", Assert.Single(list.GetProperty("items").EnumerateArray()).Text("carTitle"));
        using var pdf = await api.GetAsync(
            $"{Path}/{quote.Text("id")}/pdf?detail=lines",
            TestContext.Current.CancellationToken
        );
        Assert.Equal("application/pdf", pdf.Content.Headers.ContentType?.MediaType);
        using var wrong = await api.GetAsync(
            $"{Path}/{quote.Text("id")}/pdf?detail=all",
            TestContext.Current.CancellationToken
        );
        Assert.Equal(400, (int)wrong.StatusCode);
    }

    [Fact]
    public async Task Work_on_a_part_names_its_standards_and_a_car_that_is_fitted_cannot_be_left_out()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (customer, _) = await CustomerWithCarAsync(shop, "Part Only", "SF-SL 2");
        var bench = new[]
        {
            new
            {
                skill = "welder",
                standardCode = "weld-tube-mm",
                quantity = 300m,
            },
        };

        var quote = await api.PostAsync(
            Path,
            new
            {
                customerId = customer,
                kind = "bench",
                bench,
            }
        );
        Assert.Contains(quote.GetProperty("lines").EnumerateArray(), l => l.Text("code") == "labour:FinalWeld:welder");
        Assert.Equal(300, quote.GetProperty("bench")[0].GetProperty("quantity").GetDecimal());

        var problem = await api.PostAsync(Path, new { customerId = customer, kitCode = "four-point-half-bar" }, 400);
        Assert.True(problem.GetProperty("errors").TryGetProperty("carId", out _));
        var nothing = await api.PostAsync(Path, new { customerId = customer, kind = "bench" }, 400);
        Assert.True(nothing.GetProperty("errors").TryGetProperty("bench", out _));
        var unheard = await api.PostAsync(Path, new { customerId = customer, kind = "gift" }, 400);
        Assert.True(unheard.GetProperty("errors").TryGetProperty("kind", out _));
    }

    [Fact]
    public async Task Return_visit_belongs_to_a_job_of_the_same_car_and_is_free_only_with_a_reason()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Comes Back", "SF-SL 3");
        var other = await CustomerWithCarAsync(shop, "Somebody Else", "SF-SL 4");
        var first = await api.PostAsync(Path, Request(who));
        var sent = await api.PostAsync($"{Path}/{first.Text("id")}/send", new { }, 200);
        await api.PostAsync(
            $"{Path}/{first.Text("id")}/accept",
            new { acceptedBy = "Comes Back", contentHash = sent.Text("contentHash") },
            200
        );
        var job = await api.PostAsync("/api/v1/jobs", new { quoteId = first.Text("id") });
        object Visit((Guid Customer, Guid Car) of, object? extra, decimal? discountPercent = null) =>
            new
            {
                customerId = of.Customer,
                carId = of.Car,
                kind = "returnVisit",
                returnOfJobId = job.Text("id"),
                bench = new[]
                {
                    new
                    {
                        skill = "welder",
                        standardCode = "weld-plate-mm",
                        quantity = 80m,
                    },
                },
                freeReason = extra,
                discountPercent,
            };

        var free = await api.PostAsync(Path, Visit(who, "A weld of ours was missed"));
        Assert.Equal((0L, job.Text("id")), (free.Number("totalMinor"), free.Text("returnOfJobId")));
        var charged = await api.PostAsync(Path, Visit(who, null));
        Assert.True(charged.Number("totalMinor") > 0);
        var reasonless = await api.PostAsync(Path, Visit(who, null, 100), 400);
        Assert.True(reasonless.GetProperty("errors").TryGetProperty("freeReason", out _));
        var stranger = await api.PostAsync(Path, Visit(other, null), 400);
        Assert.True(stranger.GetProperty("errors").TryGetProperty("returnOfJobId", out _));
    }

    [Fact]
    public async Task Further_lines_outside_work_and_a_discount_on_chosen_lines_are_kept()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Chosen Lines", "SF-SL 5");
        var lines = new[]
        {
            new
            {
                description = "Window net",
                quantity = 2m,
                unitPriceMinor = 4_550,
                taxCodes = new[] { "goods" },
                unitCostMinor = 2_000,
            },
        };
        object Sale(string line) =>
            new
            {
                customerId = who.Customer,
                carId = who.Car,
                kitCode = "four-point-half-bar",
                outsideWorkCodes = new[] { "powder-coating" },
                lines,
                discountPercent = 50,
                discountLineCodes = new[] { line },
            };

        var quote = await api.PostAsync(Path, Sale("extra:1"));
        Assert.Equal(4_550, quote.Number("discountMinor"));
        var discounted = quote.GetProperty("lines").EnumerateArray().Single(l => l.Number("discountMinor") > 0);
        Assert.Equal("Window net", discounted.Text("description"));
        Assert.Equal(quote.ToString(), (await api.GetJsonAsync($"{Path}/{quote.Text("id")}")).ToString());
        var wrong = await api.PostAsync(Path, Sale("door:L"), 400);
        Assert.True(wrong.GetProperty("errors").TryGetProperty("discountLineCodes[0]", out _));
    }

    [Fact]
    public async Task What_the_customer_is_shown_has_no_costs_in_it()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Bare Figures", "SF-SL 6");
        var quote = await api.PostAsync(Path, Request(who));
        await api.PostAsync($"{Path}/{quote.Text("id")}/send", new { }, 200);

        var snapshot = await SnapshotAsync(shop, Guid.Parse(quote.Text("id")));

        Assert.Contains("\"engineVersion\":2", snapshot, StringComparison.Ordinal);
        Assert.Contains("\"cost\":null", snapshot, StringComparison.Ordinal);
        Assert.DoesNotContain("costMinor", snapshot, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("cost", quote.ToString(), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Older_quote_is_copied_for_another_customer_at_todays_prices()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "First Owner", "SF-SL 7");
        var next = await CustomerWithCarAsync(shop, "Second Owner", "SF-SL 8");
        var older = await api.PostAsync(Path, Request(who, new { rust = "heavy" }));

        var copy = await api.PostAsync(
            $"{Path}/{older.Text("id")}/copy",
            new { customerId = next.Customer, carId = next.Car }
        );

        Assert.NotEqual(older.Text("number"), copy.Text("number"));
        Assert.Equal(("Second Owner", "draft"), (copy.Text("customerName"), copy.Text("state")));
        Assert.Equal("heavy", copy.GetProperty("condition").Text("rust"));
        Assert.Equal(older.Number("totalMinor"), copy.Number("totalMinor"));
        Assert.Equal(older.Text("id"), copy.Text("copiedFrom"));
        await api.PostAsync($"{Path}/{Guid.CreateVersion7()}/copy", new { }, 404);
    }

    [Fact]
    public async Task Lost_quote_says_why()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Lost Quote", "SF-SL 9");
        var quote = await api.PostAsync(Path, Request(who));
        var path = $"{Path}/{quote.Text("id")}";
        await api.PostAsync($"{path}/send", new { }, 200);

        var unheard = await api.PostAsync($"{path}/decline", new { why = "mood" }, 400);
        Assert.True(unheard.GetProperty("errors").TryGetProperty("why", out _));
        var lost = await api.PostAsync(
            $"{path}/decline",
            new { why = "wentElsewhere", reason = "Nearer to home" },
            200
        );

        Assert.Equal(("declined", "wentElsewhere"), (lost.Text("state"), lost.Text("lostReason")));
    }

    [Theory]
    [InlineData(9_007_199_254_740_991, 0, "unitPriceMinor")]
    [InlineData(1, 9_007_199_254_740_991, "unitCostMinor")]
    public async Task Quantity_times_price_that_no_shop_can_add_up_is_named_at_its_field(
        long price,
        long cost,
        string field
    )
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var request = new
        {
            kitCode = "four-point-half-bar",
            lines = new[]
            {
                new
                {
                    description = "Everything",
                    quantity = 1_000_000,
                    unitPriceMinor = price,
                    unitCostMinor = cost,
                },
            },
        };

        var refused = await api.PostAsync($"{Path}/preview", request, 400);

        var at = refused.GetProperty("errors").EnumerateObject().Select(e => e.Name);
        Assert.Contains(at, n => n.EndsWith(field, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Preview_says_what_would_change_it()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "What If", "SF-SL 10");

        var price = await api.PostAsync($"{Path}/preview", Request(who), 200);

        var doors = price
            .GetProperty("alternatives")
            .EnumerateArray()
            .Single(a => a.Text("sentence").StartsWith("Both doors fixed: ", StringComparison.Ordinal));
        Assert.EndsWith(" less.", doors.Text("sentence"), StringComparison.Ordinal);
        Assert.True(doors.Number("totalMinorMore") < 0 && doors.GetProperty("lines").GetArrayLength() > 1);
    }

    [Fact]
    public async Task Tank_that_stays_fitted_brings_its_assessment_onto_the_route_with_a_gate_on_hot_work()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var who = await CustomerWithCarAsync(shop, "Tank Stays", "SF-SL 11");
        var quote = await api.PostAsync(Path, Request(who, new { tank = "stays-fitted" }));
        var sent = await api.PostAsync($"{Path}/{quote.Text("id")}/send", new { }, 200);
        await api.PostAsync(
            $"{Path}/{quote.Text("id")}/accept",
            new { acceptedBy = "Tank Stays", contentHash = sent.Text("contentHash") },
            200
        );

        var job = await api.PostAsync("/api/v1/jobs", new { quoteId = quote.Text("id") });

        var operations = job.GetProperty("operations").EnumerateArray().ToDictionary(o => o.Text("code"));
        Assert.Contains("Tank left fitted", operations["25"].Text("title"), StringComparison.Ordinal);
        var gates = operations["170"].GetProperty("gates").EnumerateArray();
        Assert.Contains(gates, g => g.Text("kind") == "holdPoint" && g.GetProperty("operation").GetString() == "25");
    }
}

public sealed class SalesApiOnSqlite(SqliteShop shop) : SalesApiTests(shop), IClassFixture<SqliteShop>;

public sealed class SalesApiOnPostgres(PostgresShop shop) : SalesApiTests(shop), IClassFixture<PostgresShop>;
