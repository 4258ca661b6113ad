using System.IO.Compression;
using System.Text;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Intake;

/// <summary>The file of one customer's data, on both databases.</summary>
public abstract class CustomerExportTests(ShopHost shop)
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    private static async Task<ZipArchive> ExportAsync(HttpClient owner, string customer) =>
        new(
            new MemoryStream(
                await owner.GetByteArrayAsync(new Uri($"/api/v1/customers/{customer}/export", UriKind.Relative), Ct)
            )
        );

    private static string DataOf(ZipArchive zip)
    {
        using var reader = new StreamReader(zip.GetEntry("data.json")!.Open(), Encoding.UTF8);
        return reader.ReadToEnd();
    }

    [Fact]
    public async Task It_has_all_of_one_customer_nothing_of_another_and_no_costs()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var owner = await shop.ApiAsync(Role.Owner);
        await IntakeStory.OpenJobAsync(desk, "Other Person");
        var (job, customer, _) = await IntakeStory.OpenDoneJobAsync(desk, "Petra Portable");
        await desk.PutAsync($"/api/v1/jobs/{job}/drop-off", IntakeStory.DropOff);
        var photo = (await desk.UploadAsync($"/api/v1/jobs/{job}/photos", IntakeStory.Jpeg)).Text("id");
        await owner.PostAsync(
            $"/api/v1/jobs/{job}/costs",
            new
            {
                kind = "supplierBill",
                supplier = "Secret purchase",
                amountMinor = 98_765,
                taxMinor = 0,
                on = "2026-05-02",
            },
            200
        );

        var zip = await ExportAsync(owner, customer);
        var data = DataOf(zip);
        Assert.Contains("Petra Portable", data, StringComparison.Ordinal);
        Assert.Contains(
            (await desk.GetJsonAsync($"/api/v1/jobs/{job}")).Text("number"),
            data,
            StringComparison.Ordinal
        );
        Assert.Contains("\"dropOffs\"", data, StringComparison.Ordinal);
        Assert.DoesNotContain("Other Person", data, StringComparison.Ordinal);
        Assert.DoesNotContain("98765", data, StringComparison.Ordinal);
        Assert.DoesNotContain("Secret purchase", data, StringComparison.Ordinal);
        using (var picture = zip.GetEntry($"photos/{photo}.jpg")!.Open())
        {
            Assert.Equal((0xFF, 0xD8), (picture.ReadByte(), picture.ReadByte()));
        }

        // The history knows that it was made, and after erasing nothing personal is left to hand out.
        Assert.Contains(
            (await owner.GetJsonAsync("/api/v1/events?after=0")).GetProperty("items").EnumerateArray(),
            e => e.Text("type") == "customer.exported" && e.Text("subjectId") == customer
        );
        using var refused = await desk.GetAsync(new Uri($"/api/v1/customers/{customer}/export", UriKind.Relative), Ct);
        Assert.Equal(403, (int)refused.StatusCode);
    }

    [Fact]
    public async Task After_erasing_no_name_is_left_and_every_check_still_holds()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var owner = await shop.ApiAsync(Role.Owner);
        var made = await desk.PostAsync(
            "/api/v1/customers",
            new
            {
                name = "Gerda Gone",
                email = "gerda@gone.example",
                phone = "+49 30 123456",
            }
        );
        var id = made.Text("id");
        Assert.Contains("gerda@gone.example", DataOf(await ExportAsync(owner, id)), StringComparison.Ordinal);

        await owner.PostAsync($"/api/v1/customers/{id}/erase", new { }, 200);

        var left = DataOf(await ExportAsync(owner, id));
        Assert.DoesNotContain("Gerda", left, StringComparison.Ordinal);
        Assert.DoesNotContain("gone.example", left, StringComparison.Ordinal);
        Assert.DoesNotContain("123456", left, StringComparison.Ordinal);
        using var missing = await owner.GetAsync(
            new Uri($"/api/v1/customers/{Guid.CreateVersion7()}/export", UriKind.Relative),
            Ct
        );
        Assert.Equal(404, (int)missing.StatusCode);
    }
}

public sealed class SqliteCustomerExportTests(SqliteShop shop) : CustomerExportTests(shop), IClassFixture<SqliteShop>;

public sealed class PostgresCustomerExportTests(PostgresShop shop)
    : CustomerExportTests(shop),
        IClassFixture<PostgresShop>;
