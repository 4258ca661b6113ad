using System.Text;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Accounts;

/// <summary>Costs with their bills, and the shop's logo, on both databases.</summary>
public abstract class CostsApiTests(ShopHost shop)
{
    private static readonly byte[] Pdf = Encoding.ASCII.GetBytes(
        "%PDF-1.7\n1 0 obj\n<<>>\nendobj\ntrailer\n<<>>\n%%EOF\n"
    );

    [Fact]
    public async Task Costs_lower_the_margin_until_they_are_taken_back()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, quote) = await JobStory.OpenJobAsync(shop, api, "Cora Cost", "SF-CO 1");
        var net = quote.Number("totalMinor") - quote.Number("taxMinor");

        var booked = await api.PostAsync($"/api/v1/jobs/{job}/costs", Bill(amount: 30_000, operation: "10"), 200);

        Assert.Equal(
            (net, 30_000, net - 30_000),
            (booked.Number("agreedNetMinor"), booked.Number("costMinor"), booked.Number("marginMinor"))
        );
        var cost = booked.GetProperty("costs")[0];
        Assert.Equal(("10", "FrontDesk Person"), (cost.Text("operation"), cost.Text("bookedBy")));
        var path = $"/api/v1/costs/{cost.Text("id")}/reverse";
        await api.PostAsync(path, new { }, 400);
        var back = await api.PostAsync(path, new { reason = "Wrong car" }, 200);
        Assert.Equal((0, net), (back.Number("costMinor"), back.Number("marginMinor")));
        Assert.Equal("Wrong car", back.GetProperty("costs")[0].Text("reverseReason"));
        Assert.Equal("reversed", (await api.PostAsync(path, new { reason = "Again" }, 409)).ReasonCode());
    }

    [Theory]
    [InlineData("kind", "gift")]
    [InlineData("supplier", "")]
    [InlineData("amountMinor", 0)]
    [InlineData("taxMinor", -1)]
    [InlineData("taxMinor", 20_000)]
    [InlineData("on", "2027-01-01")]
    [InlineData("on", "1999-01-01")]
    [InlineData("operation", "999")]
    public async Task Bad_cost_is_named_at_its_field(string field, object value)
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await JobStory.OpenJobAsync(shop, api, "Bad Cost", "SF-CO 2");
        var body = System.Text.Json.JsonSerializer.SerializeToNode(Bill())!.AsObject();
        body[field] = System.Text.Json.JsonSerializer.SerializeToNode(value);

        var problem = await api.PostAsync($"/api/v1/jobs/{job}/costs", body, 400);

        Assert.True(problem.GetProperty("errors").TryGetProperty(field, out _), problem.ToString());
    }

    [Fact]
    public async Task Bill_is_kept_as_pdf_or_picture_and_nothing_else()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await JobStory.OpenJobAsync(shop, api, "Paula Paper", "SF-CO 3");
        var booked = await api.PostAsync($"/api/v1/jobs/{job}/costs", Bill(), 200);
        var path = $"/api/v1/costs/{booked.GetProperty("costs")[0].Text("id")}/paper";
        await api.GetJsonAsync(path, 404);

        var kept = await api.UploadAsync(path, Pdf, 200);
        Assert.True(kept.GetProperty("costs")[0].GetProperty("hasPaper").GetBoolean());
        using (var file = await api.GetAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken))
        {
            Assert.Equal("application/pdf", file.Content.Headers.ContentType?.MediaType);
            Assert.Equal("attachment", file.Content.Headers.ContentDisposition?.DispositionType);
            Assert.Equal("nosniff", file.Headers.GetValues("X-Content-Type-Options").Single());
            Assert.Equal(Pdf, await file.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
        }

        await api.UploadAsync(path, IntakeStory.Jpeg, 200);
        await api.UploadAsync(path, Pdf[..20], 400);
        await api.UploadAsync(path, "<html>"u8.ToArray(), 415);
        await api.UploadAsync(path, new byte[(10 * 1024 * 1024) + 1], 413);
        await api.UploadAsync(path, Pdf, 400, fields: ("extra", "1"));
    }

    [Fact]
    public async Task Fabricator_and_inspector_see_no_costs_and_papers_for_customers_hide_them()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await JobStory.OpenJobAsync(shop, api, "Heidi Hidden", "SF-CO 4");
        await api.PostAsync($"/api/v1/jobs/{job}/costs", Bill(supplier: "Secret Tubes"), 200);
        foreach (var role in new[] { Role.Fabricator, Role.Inspector })
        {
            using var other = await shop.ApiAsync(role);
            await other.GetJsonAsync($"/api/v1/jobs/{job}/costs", 403);
        }

        var order = await JobStory.PdfTextAsync(api, $"/api/v1/jobs/{job}/order-confirmation/pdf");
        var statement = await JobStory.PdfTextAsync(api, $"/api/v1/jobs/{job}/statement/pdf?size=letter");
        Assert.Contains("Order confirmation", order, StringComparison.Ordinal);
        Assert.Contains("Statement of account", statement, StringComparison.Ordinal);
        Assert.DoesNotContain("Secret", order + statement, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Logo_is_put_on_papers_and_taken_off_by_the_owner()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        await desk.UploadAsync("/api/v1/shop/logo", IntakeStory.Jpeg, 403);
        await owner.UploadAsync("/api/v1/shop/logo", "no picture"u8.ToArray(), 415);
        await owner.UploadAsync("/api/v1/shop/logo", new byte[(2 * 1024 * 1024) + 1], 413);
        var (job, _) = await JobStory.OpenJobAsync(shop, desk, "Lola Logo", "SF-CO 5");
        Assert.Equal(0, await PicturesAsync(desk, job));

        var set = await owner.UploadAsync("/api/v1/shop/logo", IntakeStory.Jpeg, 200);

        Assert.True(set.GetProperty("hasLogo").GetBoolean());
        Assert.Equal(1, await PicturesAsync(desk, job));
        using var gone = await owner.SendAsync(HttpMethod.Delete, "/api/v1/shop/logo");
        Assert.Equal(200, (int)gone.StatusCode);
        Assert.Equal(0, await PicturesAsync(desk, job));
        await desk.GetJsonAsync("/api/v1/shop/logo", 404);
    }

    private static async Task<int> PicturesAsync(HttpClient api, string job)
    {
        var bytes = await api.GetByteArrayAsync(
            new Uri($"/api/v1/jobs/{job}/statement/pdf", UriKind.Relative),
            TestContext.Current.CancellationToken
        );
        using var pdf = UglyToad.PdfPig.PdfDocument.Open(bytes);
        return pdf.GetPage(1).GetImages().Count();
    }

    private static object Bill(long amount = 10_000, string? operation = null, string supplier = "Tube Hall") =>
        new
        {
            kind = "supplierBill",
            supplier,
            description = "Tubes",
            amountMinor = amount,
            taxMinor = 1_900,
            on = "2026-05-04",
            reference = "B-77",
            operation,
        };
}

public sealed class CostsApiOnSqlite(SqliteShop shop) : CostsApiTests(shop), IClassFixture<SqliteShop>;

public sealed class CostsApiOnPostgres(PostgresShop shop) : CostsApiTests(shop), IClassFixture<PostgresShop>;
