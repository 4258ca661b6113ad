using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Stock;

/// <summary>The store in the browser: the owner buys, the fabricator writes the cut list, nests, saws and counts.</summary>
public sealed class StockPagesTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    [Fact]
    public async Task Tube_is_bought_nested_sawn_and_its_offcut_counted()
    {
        var job = await shop.SignedJobAsync();
        var owner = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Desk);
        await owner.OpenLiveAsync("/stock/suppliers");
        await owner.GetByLabel("Name", new() { Exact = true }).FillAsync("Northgate Tube Yard");
        await Button(owner, "Add").ClickAsync();
        await Expect(owner.GetByTestId("supplier")).ToContainTextAsync("Northgate Tube Yard");

        await owner.OpenLiveAsync("/stock");
        await owner.GetByText("Add an item").ClickAsync();
        await owner.GetByLabel("Short name, for labels and lists").FillAsync("T45");
        await owner.GetByLabel("What it is").FillAsync("Tube for hoops");
        await owner.GetByLabel("Outside diameter (mm)").FillAsync("45");
        await owner.GetByLabel("Wall (mm)").FillAsync("22.5");
        await owner.GetByLabel("Length of a stick as bought (mm)").FillAsync("6000");
        await owner.GetByLabel("Buy when less than this is free (mm)").FillAsync("6000");
        await owner.GetByLabel("Where it usually lies").FillAsync("Rack 2");
        await owner.GetByLabel("Supplier", new() { Exact = true }).SelectOptionAsync("Northgate Tube Yard");
        await Button(owner, "Add it").ClickAsync();
        await Expect(owner.GetByText("Give the wall: over 0 and under half the diameter.")).ToBeVisibleAsync();
        await owner.GetByLabel("Wall (mm)").FillAsync("2.5");
        await owner.GetByLabel("A stick costs, without tax (GBP)").FillAsync("71.40");
        await Button(owner, "Add it").ClickAsync();
        await Expect(owner.GetByTestId("stock-item")).ToContainTextAsync("0 m ◆ buy");

        await owner.OpenLiveAsync("/stock/buy");
        var need = owner.GetByTestId("to-buy");
        await Expect(need.GetByLabel("Sticks")).ToHaveValueAsync("1");
        await need.GetByLabel("Sticks").FillAsync("2");
        await Button(need, "Write down the order").ClickAsync();
        await owner.GetByRole(AriaRole.Link, new() { Name = "PO-" }).ClickAsync();
        var line = owner.GetByTestId("order-line");
        await line.GetByLabel("Has come").FillAsync("1");
        await line.GetByLabel("Heat or lot number on it").FillAsync("H 51244");
        await Button(line, "It is here").ClickAsync();
        await Expect(owner.GetByText("New labels: L-")).ToBeVisibleAsync();
        await Expect(line).ToContainTextAsync("Awaited: 1.");
        await owner.Context.CloseAsync();

        var fabricator = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), Device.Tablet);
        await fabricator.OpenLiveAsync($"/jobs/{job}/cut-list");
        await Button(fabricator, "Add a line").ClickAsync();
        var cut = fabricator.GetByTestId("cut-line");
        await cut.GetByLabel("Piece").FillAsync("Main hoop");
        await cut.GetByLabel("Tube").SelectOptionAsync(new SelectOptionValue { Index = 1 });
        await cut.GetByLabel("Length off the saw (mm)").FillAsync("3800");
        await Button(fabricator, "Save the list").ClickAsync();
        await Expect(fabricator.GetByText("The cut list is saved.")).ToBeVisibleAsync();

        await fabricator.OpenLiveAsync("/stock/saw");
        await fabricator.GetByLabel("Tube").SelectOptionAsync(new SelectOptionValue { Index = 1 });
        await fabricator.GetByRole(AriaRole.Checkbox).CheckAsync();
        await Button(fabricator, "Make the saw card").ClickAsync();
        await Expect(fabricator.GetByTestId("how-good")).ToContainTextAsync("Proven best");
        var problems = await fabricator.ProblemsOnEveryScreenAsync("saw card");
        Assert.True(problems.Count == 0, string.Join('\n', problems));
        await fabricator.ShowOnAsync(Device.Tablet);
        await fabricator.GetByLabel("Where the offcuts lie").FillAsync("Offcut rack");
        await Button(fabricator, "It is sawn").ClickAsync();
        await Button(fabricator, "Not yet").ClickAsync();
        await Button(fabricator, "It is sawn").ClickAsync();
        await Button(fabricator, "Yes, the bar is sawn").ClickAsync();
        var offcut = fabricator.GetByRole(AriaRole.Listitem).Filter(new() { HasText = "at Offcut rack" });
        // 6000 − 3800 − 3 of kerf.
        await Expect(offcut).ToContainTextAsync("2,197 mm");
        await offcut.GetByRole(AriaRole.Link).ClickAsync();
        await Expect(fabricator.GetByTestId("lot-amount")).ToHaveTextAsync("1 × 2,197 mm");

        await fabricator.GetByLabel("Count", new() { Exact = true }).CheckAsync();
        await fabricator.GetByLabel("Counted (pcs)").FillAsync("0");
        await Button(fabricator, "Count").ClickAsync();
        await Expect(fabricator.GetByText("The book says 1.")).ToBeVisibleAsync();
        await fabricator.GetByLabel("Why it differs").FillAsync("Cut up for test pieces");
        await Button(fabricator, "Count").ClickAsync();
        await Expect(fabricator.GetByTestId("lot-amount")).ToHaveTextAsync("Nothing is left");
        await Expect(fabricator.GetByTestId("movement").First).ToContainTextAsync("Cut up for test pieces");
        await fabricator.GotoAsync($"/floor/jobs/{job}/materials");
        await Expect(fabricator.GetByTestId("material")).ToContainTextAsync("Heat or lot H 51244");
        await fabricator.Context.CloseAsync();
    }

    [Fact]
    public async Task A_label_that_nobody_knows_is_said_so_and_an_empty_store_can_be_counted()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Phone);
        await page.OpenLiveAsync("/stock");
        await page.GetByLabel("Number on a label").FillAsync("L-1999-0001");
        await Button(page, "Open it").ClickAsync();
        await Expect(page.GetByText("No label in the store has the number")).ToBeVisibleAsync();
        await page.OpenLiveAsync("/stock/count");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Count the store");
        await page.Context.CloseAsync();
    }

    private static ILocator Button(IPage page, string name) =>
        page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });

    private static ILocator Button(ILocator within, string name) =>
        within.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });
}
