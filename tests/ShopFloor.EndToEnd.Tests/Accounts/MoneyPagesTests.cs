using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.EndToEnd.Tests.Intake;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Accounts;

/// <summary>Invoices in parts, credit notes, costs and the day's close as people do them. With SHOPFLOOR_PICTURES=FOLDER also pictures of the opened forms.</summary>
public sealed class MoneyPagesTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    private static readonly string? Folder = Environment.GetEnvironmentVariable("SHOPFLOOR_PICTURES");

    [Fact]
    public async Task A_job_is_invoiced_in_parts_and_one_of_them_is_taken_back()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenAsync("Pia Parts");
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Desk);
        await page.OpenLiveAsync($"/jobs/{job}/account");

        await Button(page, "Write the invoice").ClickAsync();
        await page.GetByLabel("A percentage").CheckAsync();
        await Expect(page.GetByLabel("Percent of what is left")).ToBeVisibleAsync();
        await Button(page, "Issue the invoice").ClickAsync();
        await Expect(page.GetByText("Type a percentage such as 30 or 33.5.")).ToBeVisibleAsync();
        await page.GetByLabel("Percent of what is left").FillAsync("40");
        await page.GetByLabel("Percent of what is left").PressAsync("Tab");
        await Button(page, "Issue the invoice").ClickAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Part invoice I-" })).ToBeVisibleAsync();

        await Button(page, "Write another invoice").ClickAsync();
        await page.GetByLabel("Chosen lines").CheckAsync();
        await page.GetByRole(AriaRole.Group, new() { Name = "Lines, each with all" })
            .GetByRole(AriaRole.Checkbox)
            .First.CheckAsync();
        await TakeAsync(page, "account-part");
        await Button(page, "Issue the invoice").ClickAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Part invoice I-" })).ToHaveCountAsync(2);

        var invoices = page.GetByTestId("invoices");
        await invoices.GetByRole(AriaRole.Button, new() { Name = "Take back" }).First.ClickAsync();
        await Button(page, "Write the credit note").ClickAsync();
        await Expect(page.GetByText("The reason is needed.")).ToBeVisibleAsync();
        await page.GetByLabel("Why").FillAsync("Agreed otherwise");
        await TakeAsync(page, "account-credit");
        await Button(page, "Write the credit note").ClickAsync();
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Credit note C-" })).ToBeVisibleAsync();
        await Expect(invoices.GetByText("taken back").First).ToBeVisibleAsync();
        await page.Context.CloseAsync();

        var verified = await desk.ReadAsync($"/api/v1/jobs/{job}/account");
        Assert.Equal(3, verified.GetProperty("invoices").GetArrayLength());
    }

    [Fact]
    public async Task Work_waits_for_its_deposit_until_the_owner_lets_it_start()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenAsync("Dario Deposit");
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Tablet);
        await page.OpenLiveAsync($"/jobs/{job}/account");

        await Button(page, "Let work wait for it").ClickAsync();
        await Expect(page.GetByText("Work waits for the deposit:")).ToBeVisibleAsync();
        await page.OpenLiveAsync($"/jobs/{job}");
        await Expect(page.GetByText("Waiting for the deposit:").First).ToBeVisibleAsync();

        await page.OpenLiveAsync($"/jobs/{job}/account");
        await Button(page, "Let work start without the deposit").ClickAsync();
        await page.GetByLabel("Why").FillAsync("Known for years");
        await TakeAsync(page, "account-decision");
        await Button(page, "Decide so").ClickAsync();
        await Expect(page.GetByText("as the owner decided")).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_bill_is_booked_with_its_paper_and_the_day_is_counted_and_closed()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenAsync("Clara Count");
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Phone, ColorScheme.Dark);
        await page.OpenLiveAsync($"/jobs/{job}/costs");
        await Button(page, "Book the cost").ClickAsync();
        await Expect(page.GetByText("The supplier is needed.")).ToBeVisibleAsync();
        await TakeAsync(page, "costs-errors");
        await page.GetByLabel("Supplier", new() { Exact = true }).FillAsync("Tube Hall");
        await page.GetByLabel("Amount without tax").FillAsync("300");
        await page.GetByLabel("Date of the bill").FillAsync("2026-01-05");
        await page.GetByLabel("Date of the bill").PressAsync("Tab");
        await Button(page, "Book the cost").ClickAsync();
        await Expect(page.GetByText("Tube Hall")).ToBeVisibleAsync();
        await page.Locator("input[type=file]")
            .First.SetInputFilesAsync(
                new FilePayload
                {
                    Name = "bill.pdf",
                    MimeType = "application/pdf",
                    Buffer = "%PDF-1.7\n%%EOF\n"u8.ToArray(),
                }
            );
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "The bill" })).ToBeVisibleAsync();
        await TakeAsync(page, "costs");

        await desk.PostAsync($"/api/v1/jobs/{job}/account/payments", new { amountMinor = 12_345, method = "cash" });
        await page.OpenLiveAsync("/money");
        await page.GetByLabel("Counted").First.FillAsync("120");
        await page.GetByLabel("Counted").First.PressAsync("Tab");
        await Expect(page.GetByText("3.45 GBP less")).ToBeVisibleAsync();
        await Button(page, "Close this day").ClickAsync();
        await Button(page, "Close this day for good").ClickAsync();
        await Expect(page.GetByText("Counted and expected differ")).ToBeVisibleAsync();
        await TakeAsync(page, "money-difference");
        await page.GetByLabel("Why").FillAsync("Coins were short");
        await page.GetByLabel("Why").PressAsync("Tab");
        await Button(page, "Close this day").ClickAsync();
        await Button(page, "Close this day for good").ClickAsync();
        await Expect(page.GetByText("✓ Closed by Olga Owner")).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    private static ILocator Button(IPage page, string name) =>
        page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });

    /// <summary>Checks the page as it stands for WCAG violations, and takes its picture where one is wanted.</summary>
    private static async Task TakeAsync(IPage page, string name)
    {
        Assert.Empty((await page.BarriersAsync(within: "main")).Select(b => $"{name}: {b}"));
        if (Folder is not null)
        {
            await page.ScreenshotAsync(new() { Path = Path.Combine(Folder, $"form-{name}.png"), FullPage = true });
        }
    }
}
