using System.Text.RegularExpressions;
using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.Quotes;

/// <summary>The conversation at the counter, from an empty shop to a quote accepted by name.</summary>
public sealed class CounterConversation(StaffedShop shop) : IClassFixture<StaffedShop>
{
    private const int MostInteractions = 40;

    [Fact]
    public async Task New_customer_gets_a_sent_quote_in_under_forty_interactions_and_accepts_it()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        var hand = new Hand(page);
        await page.OpenLiveAsync("/quotes/new");
        await Assertions.Expect(page.GetByTestId("headline")).ToContainTextAsync("GBP");

        await hand.ClickAsync(page.GetByRole(AriaRole.Button, new() { Name = "New customer" }));
        await hand.FillAsync(page.GetByLabel("Name", new() { Exact = true }), "Nadia Ferro");
        await hand.FillAsync(page.GetByLabel("Telephone"), "+44 20 7946 0000");
        await hand.ClickAsync(page.GetByRole(AriaRole.Button, new() { Name = "Add customer" }));
        await hand.FillAsync(page.GetByLabel("Make", new() { Exact = true }), "Corvane");
        await hand.FillAsync(page.GetByLabel("Model", new() { Exact = true }), "Lynx");
        await hand.FillAsync(page.GetByLabel("Model year"), "2004");
        await hand.FillAsync(page.GetByLabel("Registration"), "SF04 QTE");
        await hand.ClickAsync(page.GetByRole(AriaRole.Button, new() { Name = "Add car" }));
        await Assertions
            .Expect(page.GetByRole(AriaRole.Radio, new() { Name = "2004 Corvane Lynx · SF04 QTE" }))
            .ToBeCheckedAsync();

        var before = await TotalAsync(page);
        await hand.ClickAsync(Answer(page, "Left door bar", "swing-out with pin"));
        await Assertions.Expect(page.GetByTestId("total")).Not.ToHaveTextAsync(before);
        var withHinge = await TotalAsync(page);
        await hand.ClickAsync(Answer(page, "Rust", "heavy"));
        await Assertions.Expect(page.GetByTestId("total")).Not.ToHaveTextAsync(withHinge);
        await Assertions.Expect(page.GetByText("no plate is welded to metal that cannot carry it")).ToBeVisibleAsync();
        await hand.FillAsync(page.GetByLabel("Discount in %"), "5");
        await Assertions.Expect(page.GetByRole(AriaRole.Rowheader, new() { Name = "Discount" })).ToBeVisibleAsync();
        await hand.ClickAsync(page.Locator(".price summary", new() { HasText = "Seam prep: fitting" }));
        await Assertions
            .Expect(page.Locator("details[open]").GetByText("Hours of this skill in this phase × its hourly rate."))
            .ToBeVisibleAsync();

        await hand.ClickAsync(page.GetByRole(AriaRole.Button, new() { Name = "Send", Exact = true }));
        await Assertions.Expect(page).ToHaveURLAsync(new Regex("/quotes/[0-9a-f-]{36}$"));
        await Assertions.Expect(page.GetByText("➤ Sent").First).ToBeVisibleAsync();
        await hand.FillAsync(page.GetByLabel("Accepted by (name)"), "Nadia Ferro");
        await hand.ClickAsync(page.GetByRole(AriaRole.Button, new() { Name = "Customer accepts" }));
        await Assertions.Expect(page.GetByText("Accepted by Nadia Ferro")).ToBeVisibleAsync();

        Assert.InRange(hand.Interactions, 1, MostInteractions - 1);
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Second_of_two_people_on_one_draft_is_told_and_loses_nothing_typed()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await page.OpenLiveAsync("/quotes/new");
        await page.GetByRole(AriaRole.Button, new() { Name = "New customer" }).ClickAsync();
        await page.GetByLabel("Name", new() { Exact = true }).FillAsync("Two Writers");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add customer" }).ClickAsync();
        await page.GetByLabel("Make", new() { Exact = true }).FillAsync("Corvane");
        await page.GetByLabel("Model", new() { Exact = true }).FillAsync("Lynx");
        await page.GetByLabel("Model year").FillAsync("2004");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add car" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save draft" }).ClickAsync();
        await Assertions.Expect(page).ToHaveURLAsync(new Regex("/quotes/[0-9a-f-]{36}$"));
        var other = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Desk);
        await other.OpenLiveAsync(new Uri(page.Url).AbsolutePath);

        await page.GetByLabel("Note for the customer").FillAsync("Typed meanwhile");
        await page.Keyboard.PressAsync("Tab");
        await Answer(other, "Rust", "light").ClickAsync();
        await other.GetByRole(AriaRole.Button, new() { Name = "Save draft" }).ClickAsync();

        await Assertions.Expect(page.GetByText("Somebody else saved this draft")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByLabel("Note for the customer")).ToHaveValueAsync("Typed meanwhile");
        await Assertions.Expect(page.Locator(".problem li", new() { HasText = "Rust: light" })).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Put both together and save" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "✓ Draft saved" })).ToBeVisibleAsync();
        await Assertions.Expect(Answer(page, "Rust", "light")).ToBeCheckedAsync();
        await Assertions.Expect(page.GetByLabel("Note for the customer")).ToHaveValueAsync("Typed meanwhile");
        await page.Context.CloseAsync();
        await other.Context.CloseAsync();
    }

    [Fact]
    public async Task Sentence_about_both_doors_opens_to_its_lines_and_can_be_taken()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await page.OpenLiveAsync("/quotes/new");
        var sentence = page.Locator(".what-if summary", new() { HasText = "Both doors swing-out with pin" });
        await sentence.ClickAsync();
        await Assertions
            .Expect(page.Locator(".what-if details[open] td", new() { HasText = "Left door bar" }).First)
            .ToBeVisibleAsync();

        await page.Locator(".what-if details[open]")
            .GetByRole(AriaRole.Button, new() { Name = "Take this" })
            .ClickAsync();

        await Assertions.Expect(Answer(page, "Left door bar", "swing-out with pin")).ToBeCheckedAsync();
        await Assertions.Expect(Answer(page, "Right door bar", "swing-out with pin")).ToBeCheckedAsync();
        await Assertions
            .Expect(page.Locator(".what-if summary", new() { HasText = "Both doors fixed" }))
            .ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Work_on_a_part_is_quoted_without_a_car()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Tablet);
        await page.OpenLiveAsync("/quotes/new");
        await Answer(page, "What is sold", "Work on a part").ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Add work" }).ClickAsync();
        await page.GetByRole(AriaRole.Combobox, new() { Name = "Work", Exact = true })
            .SelectOptionAsync("weld-tube-mm");
        await page.GetByRole(AriaRole.Combobox, new() { Name = "By", Exact = true }).SelectOptionAsync("welder");
        await page.GetByLabel("How much, mm").FillAsync("600");
        await page.Keyboard.PressAsync("Tab");
        await Assertions
            .Expect(page.Locator(".price summary", new() { HasText = "Final weld: welding" }))
            .ToBeVisibleAsync();

        await page.GetByRole(AriaRole.Button, new() { Name = "Add a line" }).ClickAsync();
        await page.GetByLabel("What it is").FillAsync("Straightening");
        await page.Keyboard.PressAsync("Tab");
        await page.GetByLabel("Price each").FillAsync("45.50");
        await page.Keyboard.PressAsync("Tab");

        await Assertions.Expect(page.Locator(".price summary", new() { HasText = "Straightening" })).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Kit_without_door_bars_asks_for_no_hinges()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Tablet);
        await page.OpenLiveAsync("/quotes/new");
        await Assertions.Expect(page.GetByText("Left door bar", new() { Exact = true })).ToBeVisibleAsync();

        await Answer(page, "Kit", "Four-point half bar").ClickAsync();

        await Assertions.Expect(page.GetByText("Left door bar", new() { Exact = true })).ToHaveCountAsync(0);
        await page.Context.CloseAsync();
    }

    [Theory]
    [InlineData("/quotes")]
    [InlineData("/quotes/new")]
    [InlineData("/price-book")]
    public async Task Pages_about_money_can_be_used_by_everybody_and_fit_a_phone(string path)
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Phone);
        await page.OpenLiveAsync(path);
        await Assertions.Expect(page.Locator("h1")).ToBeVisibleAsync();

        Assert.Empty(await page.BarriersAsync());
        Assert.Equal(
            0,
            await page.EvaluateAsync<int>("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        );
        await page.Context.CloseAsync();
    }

    private static ILocator Answer(IPage page, string question, string answer) =>
        page.GetByRole(AriaRole.Group, new() { Name = question, Exact = true })
            .GetByRole(AriaRole.Radio, new() { Name = answer, Exact = true });

    private static Task<string> TotalAsync(IPage page) => page.GetByTestId("total").InnerTextAsync();

    /// <summary>Counts what a person does.</summary>
    private sealed class Hand(IPage page)
    {
        public int Interactions { get; private set; }

        public async Task ClickAsync(ILocator target)
        {
            Interactions++;
            await target.ClickAsync();
        }

        public async Task FillAsync(ILocator field, string text)
        {
            Interactions++;
            await field.FillAsync(text);
            // Fields hand their text on when they are left.
            await page.Keyboard.PressAsync("Tab");
        }
    }
}
