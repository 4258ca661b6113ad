using System.Globalization;
using System.Net;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.History;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Jobs;
using ShopFloor.Web.Tests.Quotes;
using PdfDocument = UglyToad.PdfPig.PdfDocument;

namespace ShopFloor.Web.Tests.Stock;

/// <summary>The store, from the first order to the last offcut, on both databases.</summary>
public abstract class StockApiTests(ShopHost shop)
{
    private static int items;

    [Fact]
    public async Task An_order_comes_in_parts_each_with_its_label_and_what_is_missing_is_on_the_list_to_buy()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var supplier = await owner.PostAsync("/api/v1/suppliers", new { name = Name("Tube Yard"), leadDays = 3 });
        var tube = await TubeAsync(owner, reorderLevel: 18_000, supplier: supplier.Text("id"));
        var need = Assert.Single(
            (await owner.GetJsonAsync("/api/v1/stock/to-buy"))
                .EnumerateArray()
                .SelectMany(l => l.GetProperty("lines").EnumerateArray()),
            l => l.GetProperty("item").Text("id") == tube
        );
        Assert.Equal(
            (18_000m, 3m),
            (need.GetProperty("missing").GetDecimal(), need.GetProperty("pieces").GetDecimal())
        );
        Assert.Contains("level", need.GetProperty("explanation").Text("rule"), StringComparison.Ordinal);

        var order = await owner.PostAsync(
            "/api/v1/stock/orders",
            new
            {
                supplierId = supplier.Text("id"),
                lines = new[]
                {
                    new
                    {
                        itemId = tube,
                        pieces = 3,
                        unitCostMinor = 4200,
                    },
                },
            }
        );
        Assert.Equal(("open", 12_600), (order.Text("state"), order.GetProperty("totalMinor").GetInt64()));
        Assert.Equal(18_000, (await ItemAsync(owner, tube)).GetProperty("onOrder").GetDecimal());
        Assert.DoesNotContain(
            tube,
            (await owner.GetJsonAsync("/api/v1/stock/to-buy")).GetRawText(),
            StringComparison.Ordinal
        );

        var receive = $"/api/v1/stock/orders/{order.Text("id")}/receive";
        var first = await owner.PostAsync(
            receive,
            new
            {
                line = 1,
                pieces = 2,
                mark = "H-1",
                location = "Rack A",
            }
        );
        Assert.Equal(
            (6000m, 8400L),
            (first.GetProperty("lengthMm").GetDecimal(), first.GetProperty("valueMinor").GetInt64())
        );
        await owner.PostAsync(
            receive,
            new
            {
                line = 1,
                pieces = 2,
                mark = "H-2",
            },
            400
        );
        await owner.PostAsync(
            receive,
            new
            {
                line = 1,
                pieces = 1,
                mark = "H-2",
                location = "Rack A",
            }
        );
        var item = await ItemAsync(owner, tube);
        Assert.Equal(
            (18_000m, 0m, 12_600L),
            (
                item.GetProperty("onHand").GetDecimal(),
                item.GetProperty("onOrder").GetDecimal(),
                item.GetProperty("valueMinor").GetInt64()
            )
        );
        Assert.Equal("closed", (await owner.GetJsonAsync($"/api/v1/stock/orders/{order.Text("id")}")).Text("state"));
        await CleanAsync();
    }

    [Fact]
    public async Task Nothing_falls_below_zero_and_a_correction_says_why()
    {
        using var fabricator = await shop.ApiAsync(Role.Fabricator);
        using var owner = await shop.ApiAsync(Role.Owner);
        var job = (await shop.SignedJobAsync()).ToString();
        var wire = await ThingAsync(owner);
        var lot = (await FoundAsync(fabricator, wire, 5)).Text("id");
        var path = $"/api/v1/stock/lots/{lot}";
        Assert.Equal(
            "notThere",
            (await fabricator.ActAsync($"{path}/use", new { pieces = 6, jobId = job }, 409)).ReasonCode()
        );
        await fabricator.ActAsync($"{path}/count", new { counted = 6 }, 400);
        var counted = await fabricator.ActAsync(
            $"{path}/count",
            new { counted = 6, reason = "one more behind the bench" }
        );
        Assert.Equal(6, counted.GetProperty("pieces").GetDecimal());
        await fabricator.ActAsync($"{path}/use", new { pieces = 6, jobId = job });
        await fabricator.ActAsync($"{path}/put-back", new { pieces = 7, jobId = job }, 409);
        await fabricator.ActAsync($"{path}/put-back", new { pieces = 2, jobId = job });
        await fabricator.ActAsync($"{path}/scrap", new { pieces = 1, reason = "rusty" });
        var parted = await fabricator.ActAsync($"{path}/move", new { pieces = 0.5, location = "Cabinet" });
        Assert.Equal(0.5m, parted.GetProperty("pieces").GetDecimal());
        var seen = await fabricator.GetJsonAsync(path);
        Assert.Equal(
            ["moved", "scrapped", "backFromJob", "used", "counted", "found"],
            seen.GetProperty("movements").EnumerateArray().Select(m => m.Text("move"))
        );
        // A fabricator sees no money, the owner does.
        Assert.Equal(JsonValueKind.Null, seen.GetProperty("lot").GetProperty("valueMinor").ValueKind);
        Assert.Equal(
            JsonValueKind.Number,
            (await owner.GetJsonAsync(path)).GetProperty("lot").GetProperty("valueMinor").ValueKind
        );
        Assert.Equal(4, Assert.Single(seen.GetProperty("takers").EnumerateArray()).GetProperty("pieces").GetDecimal());
        var taken = (await owner.GetJsonAsync($"/api/v1/jobs/{job}/cut-list")).GetProperty("taken").EnumerateArray();
        Assert.Equal(4, taken.Sum(t => t.GetProperty("amount").GetDecimal()));
        // Five at 2.50, the sixth counted in at what the rest cost: four of them stay with the job.
        var costs = await owner.GetJsonAsync($"/api/v1/jobs/{job}/costs");
        Assert.Equal(1000, costs.GetProperty("stockMinor").GetInt64());
        Assert.Equal(
            costs.GetProperty("agreedNetMinor").GetInt64() - 1000,
            costs.GetProperty("marginMinor").GetInt64()
        );
        await CleanAsync();
    }

    [Fact]
    public async Task What_is_set_aside_lessens_with_what_the_job_takes_and_ends_with_the_job()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var job = (await shop.SignedJobAsync()).ToString();
        var wire = await ThingAsync(desk);
        var lot = (await FoundAsync(desk, wire, 10)).Text("id");
        await desk.ActAsync($"/api/v1/stock/items/{wire}/reserve", new { jobId = job, amount = 8 });
        Assert.Equal((8m, 2m), Standing(await ItemAsync(desk, wire)));
        await desk.ActAsync($"/api/v1/stock/lots/{lot}/use", new { pieces = 5, jobId = job });
        Assert.Equal((3m, 2m), Standing(await ItemAsync(desk, wire)));
        await desk.ActAsync($"/api/v1/stock/items/{wire}/reserve", new { jobId = job, amount = -1 }, 400);
        using var owner = await shop.ApiAsync(Role.Owner);
        await owner.ActAsync($"/api/v1/jobs/{job}/cancel", new { reason = "The customer sold the car" });
        Assert.Equal((0m, 5m), Standing(await ItemAsync(desk, wire)));
        await desk.ActAsync($"/api/v1/stock/items/{wire}/reserve", new { jobId = job, amount = 1 }, 409);

        static (decimal, decimal) Standing(JsonElement item) =>
            (item.GetProperty("reserved").GetDecimal(), item.GetProperty("available").GetDecimal());
    }

    [Fact]
    public async Task Cut_lists_of_two_cars_are_nested_on_offcuts_and_sticks_and_sawn_in_one_step()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        using var fabricator = await shop.ApiAsync(Role.Fabricator);
        var (one, two) = ((await shop.SignedJobAsync()).ToString(), (await shop.SignedJobAsync()).ToString());
        var tube = await TubeAsync(owner);
        await WriteAsync(fabricator, one, tube, ("Main hoop", 3000, 1), ("Cross bar", 1100, 1));
        await WriteAsync(fabricator, two, tube, ("Rear stay", 1400, 2));
        var ask = new
        {
            jobIds = new[] { one, two },
            itemId = tube,
            kerfMm = 3,
            timeLimitSeconds = 5,
        };

        var none = await fabricator.PostAsync("/api/v1/stock/saw-cards", ask, 409);
        Assert.Equal("stockTooShort", none.ReasonCode());
        await FoundAsync(fabricator, tube, 1, 1200, "OFF-1");
        var stick = await FoundAsync(fabricator, tube, 1, null, "H-9", unitCostMinor: 6000);

        var card = await fabricator.PostAsync("/api/v1/stock/saw-cards", ask);
        // 1100 comes from the offcut, the rest fits one stick: 3000 + 2 × 1400 + 2 cuts = 5806.
        Assert.Equal(
            (7200m, true),
            (card.GetProperty("stockUsedMm").GetDecimal(), card.GetProperty("isProvenOptimal").GetBoolean())
        );
        Assert.Equal(["H-9", "OFF-1"], Bars(card).Select(b => b.Text("mark")).Order(StringComparer.Ordinal));
        var held = await fabricator.ActAsync(
            $"/api/v1/stock/lots/{stick.Text("id")}/scrap",
            new { pieces = 1, reason = "bent" },
            409
        );
        Assert.Equal("held", held.ReasonCode());
        Assert.Equal("nothingToSaw", (await fabricator.PostAsync("/api/v1/stock/saw-cards", ask, 409)).ReasonCode());
        var cards = $"/api/v1/stock/saw-cards/{card.Text("id")}";
        using (var pdf = await PdfAsync(fabricator, cards + "/pdf"))
        {
            var text = string.Concat(pdf.GetPages().Select(p => p.Text));
            Assert.Contains(card.Text("number"), text, StringComparison.Ordinal);
            Assert.Contains("heat H-9", text, StringComparison.Ordinal);
            Assert.Contains("Rear stay", text, StringComparison.Ordinal);
        }

        var stickBar = Bars(card).ToList().FindIndex(b => b.Text("mark") == "H-9") + 1;
        await fabricator.ActAsync(cards + "/sawn", new { remnants = new[] { new { bar = 3, lengthMm = 1 } } }, 400);
        var sawn = await fabricator.ActAsync(
            cards + "/sawn",
            new { remnants = new[] { new { bar = stickBar, lengthMm = 180 } }, location = "Offcut rack" }
        );
        var offcut = Assert.Single(sawn.GetProperty("offcuts").EnumerateArray());
        Assert.Equal(
            (180m, "H-9", "Offcut rack"),
            (offcut.GetProperty("lengthMm").GetDecimal(), offcut.Text("mark"), offcut.Text("location"))
        );
        Assert.Equal("sawn", (await fabricator.ActAsync(cards + "/sawn", new { }, 409)).ReasonCode());
        Assert.Empty(sawn.GetProperty("notes").EnumerateArray());

        var list = await owner.GetJsonAsync($"/api/v1/jobs/{two}/cut-list");
        Assert.Equal(2, list.GetProperty("lines")[0].GetProperty("sawn").GetInt32());
        var materials = (await owner.GetJsonAsync($"/api/v1/jobs/{two}/materials")).GetRawText();
        Assert.Contains("H-9", materials, StringComparison.Ordinal);
        // The stick's 60.00 stand in the offcut and with the two jobs.
        var values = new List<long>
        {
            (await owner.GetJsonAsync($"/api/v1/stock/lots/{offcut.Text("id")}"))
                .GetProperty("lot")
                .GetProperty("valueMinor")
                .GetInt64(),
        };
        foreach (var job in new[] { one, two })
        {
            var taken = (await owner.GetJsonAsync($"/api/v1/jobs/{job}/cut-list"))
                .GetProperty("taken")
                .EnumerateArray();
            values.Add(taken.Where(t => t.Text("mark") == "H-9").Sum(t => t.GetProperty("valueMinor").GetInt64()));
        }

        Assert.Equal(6000, values.Sum());
        await CleanAsync();
    }

    [Fact]
    public async Task A_card_that_is_discarded_lets_go_of_its_bars_and_pieces()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var job = (await shop.SignedJobAsync()).ToString();
        var tube = await TubeAsync(owner);
        await FoundAsync(owner, tube, 2);
        await WriteAsync(owner, job, tube, ("Leg", 2000, 2));
        var ask = new { jobIds = new[] { job }, itemId = tube };
        var card = await owner.PostAsync("/api/v1/stock/saw-cards", ask, key: "once");
        // A repeat after a lost answer gets the same card, though nothing is left to be nested.
        Assert.Equal(card.Text("id"), (await owner.PostAsync("/api/v1/stock/saw-cards", ask, key: "once")).Text("id"));
        await owner.PutAsync($"/api/v1/jobs/{job}/cut-list", new { lines = Array.Empty<object>() }, 400);
        await owner.ActAsync($"/api/v1/stock/saw-cards/{card.Text("id")}/discard", new { }, 400);
        await owner.ActAsync($"/api/v1/stock/saw-cards/{card.Text("id")}/discard", new { reason = "another tube" });
        await owner.PutAsync($"/api/v1/jobs/{job}/cut-list", new { lines = Array.Empty<object>() });
        Assert.Equal("nothingToSaw", (await owner.PostAsync("/api/v1/stock/saw-cards", ask, 409)).ReasonCode());
    }

    [Fact]
    public async Task A_card_of_a_job_that_has_ended_is_discarded_and_not_sawn()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var job = (await shop.SignedJobAsync()).ToString();
        var tube = await TubeAsync(owner);
        await FoundAsync(owner, tube, 1);
        await WriteAsync(owner, job, tube, ("Leg", 2000, 1));
        // What it is stays, now that a cut list says so.
        var item = await ItemAsync(owner, tube);
        await owner.PutAsync(
            $"/api/v1/stock/items/{tube}",
            new
            {
                code = item.Text("code"),
                title = "No tube",
                kind = "plate",
            },
            400
        );
        var card = await owner.PostAsync("/api/v1/stock/saw-cards", new { jobIds = new[] { job }, itemId = tube });
        await owner.ActAsync($"/api/v1/jobs/{job}/cancel", new { reason = "The customer sold the car" });
        var cards = $"/api/v1/stock/saw-cards/{card.Text("id")}";
        Assert.Equal("jobEnded", (await owner.ActAsync(cards + "/sawn", new { }, 409)).ReasonCode());
        await owner.ActAsync(cards + "/discard", new { reason = "the job has ended" });
    }

    [Fact]
    public async Task A_line_that_is_missing_in_a_list_is_said_so()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var job = (await shop.SignedJobAsync()).ToString();
        var supplier = await owner.PostAsync("/api/v1/suppliers", new { name = Name("Yard") });
        await owner.PutAsync($"/api/v1/jobs/{job}/cut-list", new { lines = new object?[] { null } }, 400);
        await owner.PostAsync(
            "/api/v1/stock/orders",
            new { supplierId = supplier.Text("id"), lines = new object?[] { null } },
            400
        );
        await owner.PostAsync("/api/v1/labour-learning/accept", new { keys = new string?[] { null } }, 400);
    }

    [Fact]
    public async Task A_piece_longer_than_a_stick_is_explained()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var job = (await shop.SignedJobAsync()).ToString();
        var tube = await TubeAsync(owner);
        await FoundAsync(owner, tube, 2);
        await WriteAsync(owner, job, tube, ("Long bar", 6100, 1));
        var refused = await owner.PostAsync(
            "/api/v1/stock/saw-cards",
            new { jobIds = new[] { job }, itemId = tube },
            409
        );
        Assert.Equal("pieceTooLong", refused.ReasonCode());
        await owner.PostAsync(
            "/api/v1/stock/saw-cards",
            new
            {
                jobIds = Array.Empty<string>(),
                itemId = tube,
                kerfMm = 21,
            },
            400
        );
    }

    [Fact]
    public async Task Tubes_of_the_kit_are_offered_for_the_cut_list()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var job = (await shop.SignedJobAsync()).ToString();
        var list = await owner.GetJsonAsync($"/api/v1/jobs/{job}/cut-list");
        var offered = list.GetProperty("suggestions").EnumerateArray().ToList();
        Assert.NotEmpty(offered);
        var first = offered[0];
        var size = first.Text("size").Split(' ');
        var tube = await TubeAsync(owner, diameter: Number(size[0]), wall: Number(size[2]));
        await owner.PutAsync(
            $"/api/v1/jobs/{job}/cut-list",
            new
            {
                lines = new[]
                {
                    new
                    {
                        label = first.Text("label"),
                        itemId = tube,
                        lengthMm = first.GetProperty("lengthMm").GetDecimal(),
                        quantity = first.GetProperty("quantity").GetInt32(),
                        from = first.Text("from"),
                    },
                },
            }
        );
        var after = await owner.GetJsonAsync($"/api/v1/jobs/{job}/cut-list");
        Assert.Equal(offered.Count - 1, after.GetProperty("suggestions").GetArrayLength());
    }

    /// <summary>Twelve people take one of ten at the same moment: ten get it, two are told that nothing is left.</summary>
    [Fact]
    public async Task Twelve_hands_at_ten_pieces_leave_zero()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var job = (await shop.SignedJobAsync()).ToString();
        var thing = await ThingAsync(owner, measure: "piece");
        var lot = (await FoundAsync(owner, thing, 10)).Text("id");
        var answers = new List<HttpStatusCode>();
        await Parallel.ForEachAsync(
            Enumerable.Range(0, 12),
            TestContext.Current.CancellationToken,
            async (_, ct) =>
            {
                for (; ; )
                {
                    using var answer = await owner.SendAsync(
                        HttpMethod.Post,
                        $"/api/v1/stock/lots/{lot}/use",
                        new { pieces = 1, jobId = job }
                    );
                    var text = await answer.Content.ReadAsStringAsync(ct);
                    if (!text.Contains("\"busy\"", StringComparison.Ordinal))
                    {
                        lock (answers)
                        {
                            answers.Add(answer.StatusCode);
                        }

                        return;
                    }
                }
            }
        );
        Assert.Equal(10, answers.Count(a => a == HttpStatusCode.OK));
        Assert.Equal(2, answers.Count(a => a == HttpStatusCode.Conflict));
        Assert.Equal(0, (await ItemAsync(owner, thing)).GetProperty("onHand").GetDecimal());
        await CleanAsync();
    }

    [Fact]
    public async Task Labels_and_the_counting_sheet_name_what_lies_there_and_not_how_much()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var tube = await TubeAsync(owner);
        var lot = await FoundAsync(owner, tube, 7, 1234, "HEAT-7", location: Name("Shelf"));
        using (var labels = await PdfAsync(owner, $"/api/v1/stock/labels/pdf?lot={lot.Text("id")}"))
        {
            var text = labels.GetPage(1).Text;
            Assert.Contains(lot.Text("number"), text, StringComparison.Ordinal);
            Assert.Contains("HEAT-7", text, StringComparison.Ordinal);
        }

        var place = Uri.EscapeDataString(lot.Text("location"));
        using var sheet = await PdfAsync(owner, $"/api/v1/stock/counting-sheet/pdf?location={place}");
        var said = string.Concat(sheet.GetPages().Select(p => p.Text));
        Assert.Contains(lot.Text("number"), said, StringComparison.Ordinal);
        Assert.Contains(lot.Text("location"), said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Items_are_found_by_words_kept_apart_by_code_and_retired_only_when_empty()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var id = await ThingAsync(owner);
        var item = await ItemAsync(owner, id);
        var found = await owner.GetJsonAsync($"/api/v1/stock/items?search={item.Text("code").ToLowerInvariant()}");
        Assert.Equal(id, Assert.Single(found.GetProperty("items").EnumerateArray()).Text("id"));
        await owner.PostAsync(
            "/api/v1/stock/items",
            new
            {
                code = item.Text("code"),
                title = "Twice",
                kind = "hardware",
            },
            400
        );
        await owner.GetJsonAsync("/api/v1/stock/items?kind=Tube", 400);
        var lot = (await FoundAsync(owner, id, 1)).Text("id");
        await owner.ActAsync($"/api/v1/stock/items/{id}/retire", new { isRetired = true }, 409);
        await owner.ActAsync($"/api/v1/stock/lots/{lot}/scrap", new { pieces = 1, reason = "old" });
        await owner.ActAsync($"/api/v1/stock/items/{id}/retire", new { isRetired = true });
        found = await owner.GetJsonAsync($"/api/v1/stock/items?search={item.Text("code")}");
        Assert.Equal(0, found.GetProperty("totalCount").GetInt32());
        await owner.PostAsync(
            "/api/v1/stock/lots",
            new
            {
                itemId = id,
                pieces = 1,
                location = "X",
            },
            409
        );
    }

    private static JsonElement.ArrayEnumerator Bars(JsonElement card) => card.GetProperty("bars").EnumerateArray();

    private static async Task<PdfDocument> PdfAsync(HttpClient client, string path) =>
        PdfDocument.Open(
            await client.GetByteArrayAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken)
        );

    private static string Name(string start) =>
        string.Create(CultureInfo.InvariantCulture, $"{start} {Interlocked.Increment(ref items)}");

    private static decimal Number(string text) => decimal.Parse(text, CultureInfo.InvariantCulture);

    private static async Task<string> TubeAsync(
        HttpClient client,
        decimal reorderLevel = 0,
        string? supplier = null,
        decimal diameter = 45,
        decimal wall = 2.5m
    ) =>
        (
            await client.PostAsync(
                "/api/v1/stock/items",
                new
                {
                    code = Name("TUBE"),
                    title = "Tube",
                    kind = "tube",
                    material = "seamless",
                    outsideDiameterMm = diameter,
                    wallMm = wall,
                    stickMm = 6000,
                    reorderLevel,
                    supplierId = supplier,
                    location = "Rack",
                }
            )
        ).Text("id");

    private static async Task<string> ThingAsync(HttpClient client, string measure = "kilogram") =>
        (
            await client.PostAsync(
                "/api/v1/stock/items",
                new
                {
                    code = Name("THING"),
                    title = "Wire",
                    kind = "consumable",
                    measure,
                    location = "Cage",
                    lastCostMinor = 250,
                }
            )
        ).Text("id");

    private static Task<JsonElement> FoundAsync(
        HttpClient client,
        string item,
        decimal pieces,
        decimal? lengthMm = null,
        string? mark = null,
        string? location = null,
        long? unitCostMinor = null
    ) =>
        client.PostAsync(
            "/api/v1/stock/lots",
            new
            {
                itemId = item,
                pieces,
                lengthMm,
                mark,
                location,
                unitCostMinor,
            }
        );

    private static async Task<JsonElement> ItemAsync(HttpClient client, string id) =>
        (await client.GetJsonAsync($"/api/v1/stock/items/{id}")).GetProperty("item");

    private static Task<JsonElement> WriteAsync(
        HttpClient client,
        string job,
        string tube,
        params (string Label, decimal Length, int Quantity)[] lines
    ) =>
        client.PutAsync(
            $"/api/v1/jobs/{job}/cut-list",
            new
            {
                lines = lines.Select(l => new
                {
                    label = l.Label,
                    itemId = tube,
                    lengthMm = l.Length,
                    quantity = l.Quantity,
                }),
            }
        );

    private async Task CleanAsync()
    {
        await using var scope = shop.Services.CreateAsyncScope();
        var differences = await scope
            .ServiceProvider.GetRequiredService<VerifyHistory>()
            .RunAsync(TestContext.Current.CancellationToken);
        Assert.Empty(differences);
    }
}

file static class Calls
{
    /// <summary>Posts a command that makes nothing new.</summary>
    public static Task<JsonElement> ActAsync(this HttpClient client, string path, object body, int expected = 200) =>
        client.PostAsync(path, body, expected);
}

public sealed class StockApiOnSqlite(SqliteShop shop) : StockApiTests(shop), IClassFixture<SqliteShop>;

public sealed class StockApiOnPostgres(PostgresShop shop) : StockApiTests(shop), IClassFixture<PostgresShop>;
