using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.EndToEnd.Tests.Intake;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Removed;

/// <summary>What came out of a car, written down and ticked off at a tablet, without a connection too.</summary>
public sealed class RemovedPartsPagesTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    private static string Fabricator => StaffedShop.EmailOf(Role.Fabricator);

    [Fact]
    public async Task A_part_written_down_without_a_connection_is_kept_and_later_ticked_off()
    {
        var job = await (await DeskJob.AtAsync(shop)).OpenAsync("Nils Berg");
        var page = await shop.OpenAsAsync(Fabricator, Device.Tablet);
        await page.GotoAsync($"/floor/jobs/{job}");
        await page.GetByRole(AriaRole.Link, new() { Name = "Car, keys and removed parts" }).ClickAsync();
        await Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
        await page.Context.SetOfflineAsync(true);
        await page.GetByLabel("Part", new() { Exact = true }).FillAsync("Driver's seat");
        await page.GetByLabel("From where in the car").FillAsync("front left");
        await page.GetByLabel("Fasteners that came out with it", new() { Exact = false }).FillAsync("4");
        await page.Locator("#part-place").FillAsync("Shelf 3");
        await page.Locator("#part-photo")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "seat.png",
                    MimeType = "image/png",
                    Buffer = Intake.Pictures.Png,
                }
            );
        await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await Expect(page.Locator("#outbox")).ToContainTextAsync("1 saved here, not yet sent");
        await Expect(page.Locator("#outbox")).ToContainTextAsync("Part out: Driver's seat");
        await Expect(page.Locator("[data-part]")).ToHaveCountAsync(0);

        await page.Context.SetOfflineAsync(false);
        var card = page.Locator("[data-part='1']");
        await Expect(card).ToContainTextAsync("Driver's seat");
        await Expect(card.Locator("img")).ToBeVisibleAsync();
        await Expect(page.Locator("#outbox")).ToHaveAttributeAsync("data-count", "0");

        // Three of four fasteners and no word: refused, and shown for a decision.
        await card.GetByLabel("Fasteners that went back").FillAsync("3");
        await card.GetByRole(AriaRole.Button, new() { Name = "Back in the car" }).ClickAsync();
        await Expect(page.Locator("#outbox")).ToContainTextAsync("4 fasteners came out");
        await page.GetByRole(AriaRole.Button, new() { Name = "Drop it" }).ClickAsync();
        await card.GetByLabel("Fasteners that went back").FillAsync("4");
        await card.GetByRole(AriaRole.Button, new() { Name = "Back in the car" }).ClickAsync();
        await Expect(card).ToHaveAttributeAsync("data-state", "Refitted");
        await Expect(page.GetByTestId("parts-account")).ToContainTextAsync("accounted for");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_page_made_anew_leaves_somebody_in_the_field_they_are_in()
    {
        var job = await (await DeskJob.AtAsync(shop)).OpenAsync("Fia Field");
        var page = await shop.OpenAsAsync(Fabricator, Device.Tablet);
        await page.GotoAsync($"/floor/jobs/{job}/parts");
        await Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
        var part = page.GetByLabel("Part", new() { Exact = true });
        await part.FocusAsync();
        // As when somebody else changed something: the page is made anew.
        await page.EvaluateAsync(
            """
            () => new Promise(made => {
              document.addEventListener("shopfloor-fresh", made, { once: true });
              document.dispatchEvent(new Event("visibilitychange"));
            })
            """
        );

        await Expect(part).ToBeFocusedAsync();
        await page.Keyboard.TypeAsync("Seat");
        await Expect(part).ToHaveValueAsync("Seat");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Car_and_keys_are_one_tap_away_and_the_office_sees_them()
    {
        var job = await (await DeskJob.AtAsync(shop)).OpenAsync("Otto Berg");
        var page = await shop.OpenAsAsync(Fabricator, Device.Tablet);
        await page.GotoAsync($"/floor/jobs/{job}/parts");
        await Expect(page.Locator("#link-state")).ToHaveTextAsync("Connected");
        await page.GetByLabel("The car stands now").FillAsync("Bay 2");
        await page.GetByLabel("The keys are now").FillAsync("Hook 7");
        await page.GetByRole(AriaRole.Button, new() { Name = "Note it" }).First.ClickAsync();
        await Expect(page.GetByText("Car: Bay 2").First).ToBeVisibleAsync();
        await page.Context.CloseAsync();
        var desk = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await desk.OpenLiveAsync($"/jobs/{job}");
        await Expect(desk.GetByTestId("whereabouts")).ToHaveTextAsync("Car: Bay 2 · keys: Hook 7");
        await desk.Context.CloseAsync();
    }

    [Fact]
    public async Task Page_fits_tablet_and_phone_with_targets_for_gloves()
    {
        var job = await (await DeskJob.AtAsync(shop)).OpenAsync("Pia Berg");
        foreach (var device in new[] { Device.Tablet, Device.Phone })
        {
            var page = await shop.OpenAsAsync(Fabricator, device);
            await page.GotoAsync($"/floor/jobs/{job}/parts");
            Assert.True(
                await page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= window.innerWidth"),
                $"Wider than the {device.Name}."
            );
            Assert.Empty(
                await page.EvaluateAsync<string[]>(
                    "[...document.querySelectorAll('.tap, .back, main input:not([type=hidden])')].filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 64).map(e => e.outerHTML)"
                )
            );
            Assert.Empty(await page.BarriersAsync());
            await page.Context.CloseAsync();
        }
    }
}
