using System.Security.Claims;
using AngleSharp.Dom;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor;
using MudBlazor.Services;
using ShopFloor.Application.Accounts;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Account;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Accounts;

/// <summary>Writing invoices and credit notes as components, on the program's own services.</summary>
public sealed class InvoicesPanelTests : BunitContext, IClassFixture<SqliteShop>
{
    private readonly SqliteShop shop;

    public InvoicesPanelTests(SqliteShop shop)
    {
        this.shop = shop;
        System.Globalization.CultureInfo.CurrentCulture = System.Globalization.CultureInfo.InvariantCulture;
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddMudServices();
        Services.AddFallbackServiceProvider(new OwnServices(shop.Services));
        var auth = AddAuthorization();
        auth.SetAuthorized("FrontDesk Person");
        auth.SetRoles(nameof(Role.FrontDesk));
        auth.SetClaims(new Claim(ClaimTypes.NameIdentifier, shop.People[Role.FrontDesk].ToString()));
        SetRendererInfo(new("Server", true));
        Render<MudPopoverProvider>();
    }

    [Fact]
    public async Task Half_is_invoiced_by_percent_and_the_rest_is_said()
    {
        var job = await JobAsync("Petra Panel", "SF-IP 1");
        var wrote = false;
        var panel = Panel(await AccountAsync(job), () => wrote = true);

        Button(panel, "Write the invoice").Click();
        Choice(panel, "A percentage").Change("on");
        panel.Find("#invoicePercent").Change("50");
        Button(panel, "Issue the invoice").Click();

        panel.WaitForAssertion(() => Assert.True(wrote));
        var after = await AccountAsync(job);
        Assert.InRange(after.NotInvoicedMinor, (after.ChargedMinor / 2) - 1, (after.ChargedMinor / 2) + 1);
        Assert.Contains("left to invoice", Panel(after).Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_wrong_percent_is_explained_at_its_field_and_nothing_is_written()
    {
        var job = await JobAsync("Wanda Wrong", "SF-IP 2");
        var panel = Panel(await AccountAsync(job));

        Button(panel, "Write the invoice").Click();
        Choice(panel, "A percentage").Change("on");
        panel.Find("#invoicePercent").Change("140");
        Button(panel, "Issue the invoice").Click();

        panel.WaitForAssertion(() => Assert.NotEmpty(panel.FindAll("[role=alert], .mud-input-error")));
        Assert.Empty((await AccountAsync(job)).Invoices);
    }

    [Fact]
    public async Task A_credit_note_needs_its_reason()
    {
        var job = await JobAsync("Carla Credit", "SF-IP 3");
        using (var api = await shop.ApiAsync(Role.FrontDesk))
        {
            await api.PostAsync($"/api/v1/jobs/{job}/invoices", new { });
        }

        var panel = Panel(await AccountAsync(job));
        Button(panel, "Take back").Click();
        Button(panel, "Write the credit note").Click();
        panel.WaitForAssertion(() => Assert.NotEmpty(panel.FindAll(".mud-input-error")));
        Assert.Single((await AccountAsync(job)).Invoices);

        panel.Find("#creditReason").Change("Agreed otherwise");
        Button(panel, "Write the credit note").Click();
        panel.WaitForState(() => panel.FindAll("#creditReason").Count == 0);
        Assert.Contains((await AccountAsync(job)).Invoices, i => i.Kind == InvoiceKind.Credit);
    }

    [Fact]
    public async Task A_changed_rate_is_said_before_the_invoice_is_issued()
    {
        var account = await AccountAsync(await JobAsync("Rita Rate", "SF-IP 4"));
        var panel = Panel(account with { RateChanges = [new RateChange("Value added tax", 19m, 21m)] });
        Assert.DoesNotContain("A tax rate has changed", panel.Markup, StringComparison.Ordinal);

        Button(panel, "Write the invoice").Click();

        Assert.Contains("was agreed at 19 %, and the price book now has 21 %", panel.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_amount_that_cannot_be_read_issues_nothing()
    {
        var job = await JobAsync("Rosa Red", "SF-IP 5");
        var panel = Panel(await AccountAsync(job));
        Button(panel, "Write the invoice").Click();
        Choice(panel, "An amount").Change("on");

        panel.Find("#invoiceAmount").Input("500");
        panel.Find("#invoiceAmount").Input("x");
        Button(panel, "Issue the invoice").Click();

        Assert.Contains("'x' is no amount", panel.Markup, StringComparison.Ordinal);
        Assert.Empty((await AccountAsync(job)).Invoices);
        panel.Find("#invoiceAmount").Input("500");
        Button(panel, "Issue the invoice").Click();
        await panel.WaitForAssertionAsync(async () =>
            Assert.Equal(50_000, Assert.Single((await AccountAsync(job)).Invoices).TotalMinor)
        );
    }

    [Fact]
    public async Task A_payment_that_cannot_be_read_is_not_booked_as_an_older_figure()
    {
        var job = await JobAsync("Paul Payer", "SF-IP 6");
        var panel = Render<AccountPanel>(p => p.Add(x => x.JobId, job));
        panel.WaitForState(() => panel.FindAll("button").Any(b => b.TextContent.Trim() == "Payment"));
        panel.FindAll("button").First(b => b.TextContent.Trim() == "Payment").Click();

        panel.Find("#amount").Input("1,234");
        panel.Find("#amount").Input("12.345");
        panel.FindAll("label").Single(l => l.TextContent.Trim() == "Cash").QuerySelector("input")!.Change("on");
        Submit();

        Assert.Contains("'12.345' has more", panel.Markup, StringComparison.Ordinal);
        Assert.Equal(0, (await AccountAsync(job)).PaidMinor);
        panel.Find("#amount").Input("12,34");
        Submit();
        await panel.WaitForAssertionAsync(async () => Assert.Equal(1_234, (await AccountAsync(job)).PaidMinor));

        void Submit() => panel.Find("form").Submit();
    }

    private IRenderedComponent<InvoicesPanel> Panel(AccountView account, Action? wrote = null) =>
        Render<InvoicesPanel>(p => p.Add(x => x.Account, account).Add(x => x.OnWritten, () => wrote?.Invoke()));

    private async Task<JobId> JobAsync(string name, string registration)
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var (job, _) = await JobStory.OpenJobAsync(shop, api, name, registration);
        return JobId.From(Guid.Parse(job));
    }

    private async Task<AccountView> AccountAsync(JobId job)
    {
        using var scope = shop.Services.CreateScope();
        var outcome = await scope
            .ServiceProvider.GetRequiredService<GetAccount>()
            .RunAsync(job, Actor.System, Xunit.TestContext.Current.CancellationToken);
        return outcome.Value;
    }

    private static IElement Button(IRenderedComponent<InvoicesPanel> panel, string text) =>
        panel.FindAll("button").Single(b => b.TextContent.Trim() == text);

    private static IElement Choice(IRenderedComponent<InvoicesPanel> panel, string word) =>
        panel.FindAll("label").Single(l => l.TextContent.Trim() == word).QuerySelector("input")!;
}
