using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Accounts;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Changes;

/// <summary>What change orders do to invoices, cancelled jobs and papers, by the API, on both databases.</summary>
public abstract class ChangeMoneyApiTests(ShopHost shop)
{
    [Fact]
    public async Task Reduction_never_goes_below_what_is_invoiced_without_a_credit_note()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, quoted) = await ChangeStory.SignedJobAsync(desk);
        var draft = await desk.PostAsync(
            $"/api/v1/jobs/{job}/change-orders",
            new { reason = "No rust after all.", conditionFound = new { rust = "none" } }
        );
        var less = draft.Number("totalMinor");
        Assert.True(less < 0);
        var offered = await ChangeStory.OfferAsync(desk, draft);
        var invoice = await desk.PostAsync($"/api/v1/jobs/{job}/invoices", new { });

        var refused = await ChangeStory.ApproveAsync(desk, offered, 409);
        Assert.Equal("invoiced", refused.ReasonCode());
        Assert.Contains("credit note", refused.ToString(), StringComparison.Ordinal);
        await desk.PostAsync(
            $"/api/v1/invoices/{invoice.Text("id")}/credit-notes",
            new { reason = "Less rust than agreed", amountMinor = -less }
        );
        await ChangeStory.ApproveAsync(desk, offered);

        var account = await desk.GetJsonAsync($"/api/v1/jobs/{job}/account");
        Assert.Equal(
            (quoted + less, quoted + less, 0),
            (account.Number("chargedMinor"), account.Number("invoicedMinor"), account.Number("notInvoicedMinor"))
        );
        Assert.Empty(await ChangeStory.VerifyAsync(shop));
    }

    [Fact]
    public async Task Reduction_stands_on_the_invoice_and_lines_alone_cannot_be_invoiced_past_it()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, quoted) = await ChangeStory.SignedJobAsync(desk);
        var draft = await desk.PostAsync(
            $"/api/v1/jobs/{job}/change-orders",
            new { reason = "No rust after all.", conditionFound = new { rust = "none" } }
        );
        await ChangeStory.ApproveAsync(desk, await ChangeStory.OfferAsync(desk, draft));
        var lines = (await desk.GetJsonAsync($"/api/v1/jobs/{job}/account"))
            .GetProperty("lines")
            .EnumerateArray()
            .Where(l => l.Number("leftMinor") > 0)
            .Select(l => l.Text("key"))
            .ToArray();

        await desk.PostAsync($"/api/v1/jobs/{job}/invoices", new { lines }, 400);
        var half = await desk.PostAsync($"/api/v1/jobs/{job}/invoices", new { percent = 50 });
        var rest = await desk.PostAsync($"/api/v1/jobs/{job}/invoices", new { });

        Assert.Equal(quoted + draft.Number("totalMinor"), half.Number("totalMinor") + rest.Number("totalMinor"));
        Assert.Contains(draft.Text("number"), rest.ToString(), StringComparison.Ordinal);
        Assert.Empty(await ChangeStory.VerifyAsync(shop));
    }

    [Fact]
    public async Task Cancelled_job_charges_of_its_changes_what_was_done()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var bench = await shop.ApiAsync(Role.Fabricator);
        var (job, _) = await ChangeStory.SignedJobAsync(desk, rustFound: "heavy");
        var condition = await desk.PostAsync($"/api/v1/jobs/{job}/change-orders/from-drop-off", new { });
        await ChangeStory.ApproveAsync(desk, await ChangeStory.OfferAsync(desk, condition));
        var further = await desk.PostAsync($"/api/v1/jobs/{job}/change-orders", ChangeStory.FurtherPlate());
        await ChangeStory.ApproveAsync(desk, await ChangeStory.OfferAsync(desk, further));
        await bench.PostAsync($"/api/v1/jobs/{job}/operations/10/finish", new { }, 200);

        await desk.PostAsync(
            $"/api/v1/jobs/{job}/cancel",
            new { reason = "Sold the car", usedLineCodes = new[] { further.Text("number") + "/extra:1" } },
            200
        );

        var account = await desk.GetJsonAsync($"/api/v1/jobs/{job}/account");
        Assert.InRange(account.Number("chargedMinor"), 4_501, 100_000);
        Assert.Empty(await ChangeStory.VerifyAsync(shop));
    }

    [Fact]
    public async Task Cancelled_job_takes_back_what_was_offered_and_what_was_begun()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await ChangeStory.SignedJobAsync(desk);
        var draft = await desk.PostAsync($"/api/v1/jobs/{job}/change-orders", ChangeStory.FurtherPlate());
        var offered = await ChangeStory.OfferAsync(
            desk,
            await desk.PostAsync($"/api/v1/jobs/{job}/change-orders", ChangeStory.FurtherPlate())
        );

        await desk.PostAsync($"/api/v1/jobs/{job}/cancel", new { reason = "Sold the car" }, 200);

        foreach (var change in new[] { draft, offered })
        {
            var now = await desk.GetJsonAsync($"/api/v1/change-orders/{change.Text("id")}");
            Assert.Equal(("withdrawn", "Sold the car"), (now.Text("state"), now.Text("closeReason")));
        }

        await ChangeStory.ApproveAsync(desk, offered, 409);
        Assert.Empty(await ChangeStory.VerifyAsync(shop));
    }

    [Fact]
    public async Task Paper_says_why_how_much_when_and_where_to_sign()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await ChangeStory.SignedJobAsync(desk);
        var photo = await desk.UploadAsync(
            $"/api/v1/jobs/{job}/photos",
            IntakeStory.Jpeg,
            fields: ("caption", "Crack in the left sill")
        );
        var draft = await desk.PostAsync(
            $"/api/v1/jobs/{job}/change-orders",
            new
            {
                reason = "The sill is cracked.",
                photoIds = new[] { photo.Text("id") },
                lines = new[]
                {
                    new
                    {
                        description = "Sill section",
                        quantity = 2,
                        unitPriceMinor = 3_000,
                    },
                },
                discountPercent = 10,
                promiseDays = 3,
            }
        );
        var offered = await ChangeStory.OfferAsync(desk, draft);

        var text = await JobStory.PdfTextAsync(desk, $"/api/v1/change-orders/{offered.Text("id")}/pdf");

        Assert.Contains("The sill is cracked.", text, StringComparison.Ordinal);
        Assert.Contains("Crack in the left sill", text, StringComparison.Ordinal);
        Assert.Contains("Sill section", text, StringComparison.Ordinal);
        Assert.Contains("54.00", text, StringComparison.Ordinal);
        Assert.Contains("instead of", text, StringComparison.Ordinal);
        Assert.Contains("Signature of customer", text, StringComparison.Ordinal);
        Assert.Contains("Local law decides", text, StringComparison.Ordinal);
        Assert.Contains(offered.Text("contentHash"), text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Customers_page_says_in_words_only_that_the_shop_waits_for_the_answer()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await ChangeStory.SignedJobAsync(desk);
        var url = (await desk.PostAsync($"/api/v1/jobs/{job}/progress-links", new { })).Text("url");
        var page = new Uri(new Uri(url).AbsolutePath, UriKind.Relative);
        var offered = await ChangeStory.OfferAsync(
            desk,
            await desk.PostAsync($"/api/v1/jobs/{job}/change-orders", ChangeStory.FurtherPlate())
        );
        using var phone = shop.CreateClient();

        var waiting = await phone.GetStringAsync(page, TestContext.Current.CancellationToken);
        await ChangeStory.ApproveAsync(desk, offered);
        var after = await phone.GetStringAsync(page, TestContext.Current.CancellationToken);

        Assert.Contains($"Your answer to our change order {offered.Text("number")}", waiting, StringComparison.Ordinal);
        Assert.DoesNotContain("sill", waiting, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("45.00", waiting, StringComparison.Ordinal);
        Assert.DoesNotContain("Your answer to our change order", after, StringComparison.Ordinal);
    }
}

public sealed class ChangeMoneyApiOnSqlite(SqliteShop shop) : ChangeMoneyApiTests(shop), IClassFixture<SqliteShop>;

public sealed class ChangeMoneyApiOnPostgres(PostgresShop shop)
    : ChangeMoneyApiTests(shop),
        IClassFixture<PostgresShop>;
