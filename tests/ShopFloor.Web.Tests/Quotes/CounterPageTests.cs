using System.Security.Claims;
using System.Text.Json.Nodes;
using AngleSharp.Dom;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor;
using MudBlazor.Services;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Quotes;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Quotes;

/// <summary>The counter page as components, on the program's own services.</summary>
public sealed class CounterPageTests : BunitContext, IClassFixture<SqliteShop>
{
    private readonly SqliteShop shop;

    public CounterPageTests(SqliteShop shop)
    {
        this.shop = shop;
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
    public void Price_and_hours_follow_an_answer_at_once()
    {
        var page = NewQuote();
        var before = Headline(page);

        Answer(page, "Rust", "heavy").Change("on");

        page.WaitForAssertion(() => Assert.NotEqual(before, Headline(page)));
        Assert.Contains("no plate is welded to metal that cannot carry it", page.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_line_opens_to_how_it_came_about()
    {
        var page = NewQuote();

        var lines = page.FindAll(".lines > li");

        Assert.True(lines.Count > 10);
        Assert.All(lines, l => Assert.NotNull(l.QuerySelector("details .explanation .result dd")));
    }

    [Fact]
    public void Hinge_options_disappear_for_a_kit_without_door_bars()
    {
        var page = NewQuote();
        Assert.Contains(page.FindAll("legend"), l => l.TextContent == "Left door bar");

        Answer(page, "Kit", "Four-point half bar").Change("on");

        page.WaitForAssertion(() =>
            Assert.DoesNotContain(page.FindAll("legend"), l => l.TextContent == "Left door bar")
        );
    }

    [Fact]
    public void Use_and_rule_sets_are_asked_before_the_kit()
    {
        var headings = NewQuote().FindAll("h2").Select(h => h.TextContent).ToList();

        Assert.True(
            headings.FindIndex(h => h.Contains("for", StringComparison.Ordinal))
                < headings.FindIndex(h => h.Contains("Kit", StringComparison.Ordinal))
        );
    }

    [Fact]
    public void Use_that_needs_a_rule_set_asks_for_it_instead_of_showing_a_price()
    {
        var page = NewQuote();

        Answer(page, "Intended use", "Events under a sanctioning body").Change("on");

        page.WaitForAssertion(() =>
            Assert.Contains("it decides the tube sizes", Headline(page), StringComparison.Ordinal)
        );
        page.Find(".sets input").Change(true);
        page.WaitForAssertion(() => Assert.Contains("EUR", Headline(page), StringComparison.Ordinal));
    }

    [Fact]
    public void Saving_without_a_customer_says_so_at_the_field()
    {
        var page = NewQuote();

        page.FindAll("button").Single(b => b.TextContent.Trim() == "Save draft").Click();

        page.WaitForAssertion(() => Assert.Contains("A quote needs a customer", page.Markup, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_price_that_changes_while_a_quote_is_being_typed_is_told()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var page = NewQuote();
        var before = Sums(page);

        const string draft = "/api/v1/price-book/draft";
        var book = JsonNode.Parse((await owner.PostAsync(draft, new { })).GetProperty("document").GetRawText())!;
        book["taxes"]![0]!["rates"]!.AsArray()[^1]!["ratePercent"] = 17.5;
        using var saved = await owner.SendAsync(HttpMethod.Put, draft, new { document = book }, ifMatch: 1);
        await saved.JsonAsync(200);
        await owner.PostAsync(draft + "/adopt", new { });

        page.WaitForAssertion(
            () => Assert.Contains("Prices have changed", page.Markup, StringComparison.Ordinal),
            TimeSpan.FromSeconds(30)
        );
        Assert.NotEqual(before, Sums(page));
        Assert.Contains("17.5 %", Sums(page), StringComparison.Ordinal);
    }

    [Fact]
    public void A_discount_with_a_comma_is_that_discount_and_no_other()
    {
        var page = NewQuote();
        page.Find("#discountPercent").Input("5.5");
        page.WaitForAssertion(() => Assert.Contains("Discount", Sums(page), StringComparison.Ordinal));
        var with = Sums(page);

        page.Find("#discountPercent").Input("");
        page.WaitForAssertion(() => Assert.DoesNotContain("Discount", Sums(page), StringComparison.Ordinal));
        page.Find("#discountPercent").Input("5,5");

        page.WaitForAssertion(() => Assert.Equal(with, Sums(page)));
    }

    [Fact]
    public void While_a_figure_cannot_be_read_there_is_no_price_and_nothing_is_saved()
    {
        var page = NewQuote();

        page.Find("#discountPercent").Input("5,5,5");
        page.WaitForAssertion(() => Assert.DoesNotContain("EUR", Headline(page), StringComparison.Ordinal));
        page.FindAll("button").Single(b => b.TextContent.Trim() == "Save draft").Click();

        Assert.DoesNotContain("A quote needs a customer", page.Markup, StringComparison.Ordinal);
        page.Find("#discountPercent").Input("5.5");
        page.WaitForAssertion(() => Assert.Contains("EUR", Headline(page), StringComparison.Ordinal));
    }

    private static string Sums(IRenderedComponent<QuotePage> page) => page.Find("table.sums").TextContent;

    private IRenderedComponent<QuotePage> NewQuote()
    {
        var page = Render<QuotePage>();
        page.WaitForAssertion(() => Assert.Contains("EUR", Headline(page), StringComparison.Ordinal));
        return page;
    }

    private static string Headline(IRenderedComponent<QuotePage> page) =>
        page.Find("[data-testid=headline]").TextContent;

    private static IElement Answer(IRenderedComponent<QuotePage> page, string question, string answer) =>
        page.FindAll("fieldset")
            .Single(f => f.QuerySelector("legend")?.TextContent == question)
            .QuerySelectorAll("label")
            .Single(l => l.TextContent.Trim() == answer)
            .QuerySelector("input")!;
}
