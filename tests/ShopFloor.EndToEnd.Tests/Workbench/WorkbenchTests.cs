using System.Globalization;
using Microsoft.Playwright;
using ShopFloor.Application.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.EndToEnd.Tests.Intake;
using UglyToad.PdfPig;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Workbench;

/// <summary>The workbench as a fabricator uses it. With SHOPFLOOR_PICTURES=FOLDER also a picture of each calculator.</summary>
public sealed class WorkbenchTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    private static readonly string? Folder = Environment.GetEnvironmentVariable("SHOPFLOOR_PICTURES");

    [Fact]
    public async Task From_tape_measure_figures_to_a_printed_notch_wrap_in_at_most_twelve_interactions()
    {
        // Nobody else's test works as the front desk: what a person typed before would be there again.
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await page.OpenLiveAsync("/workbench");
        var interactions = 0;
        async Task Do(Task step)
        {
            await step;
            interactions++;
        }

        await Do(page.GetByRole(AriaRole.Link, new() { Name = "Notch Cut the end of one tube" }).ClickAsync());
        // Readers of screens begin at the new page's heading.
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Notch", Exact = true })).ToBeFocusedAsync();
        await Do(page.GetByLabel("inches").CheckAsync());
        await Do(page.GetByLabel("Tube that is cut, from the rack").SelectOptionAsync("1 1/2 × 0.095 in"));
        // As a person does: the next figure is typed when the chosen tube has come into its fields.
        await Expect(page.GetByLabel("Cut tube: outside diameter")).ToHaveValueAsync("38.1 mm");
        await Do(page.GetByLabel("Tube it lands on: outside diameter").FillAsync("1 3/4"));
        await Do(page.GetByLabel("Angle between the tubes").FillAsync("60"));
        await Do(page.GetByLabel("Which edge meets").SelectOptionAsync("inside"));
        // 38.1 × 2.413 mm, inside edge, on 44.45 mm at 60°: worked from the closed formula and by bisection.
        await Expect(page.GetByTestId("answer")).ToContainTextAsync("20.53 mm");
        var link = page.GetByRole(AriaRole.Link, new() { Name = "Wrap to print, 1:1, Letter" });
        var href = (await link.GetAttributeAsync("href"))!;
        await Do(link.ClickAsync());

        Assert.True(interactions <= 12, $"{interactions} interactions");
        var paper = await page.Context.APIRequest.GetAsync(new Uri(new Uri(page.Url), "/" + href).ToString());
        Assert.Equal("application/pdf", paper.Headers["content-type"]);
        using var pdf = PdfDocument.Open(await paper.BodyAsync());
        var drawn = pdf.GetPages()
            .SelectMany(p => p.Paths)
            .SelectMany(path => path)
            .Where(sub => sub.Commands.Count > 100)
            .Select(sub => sub.GetBoundingRectangle()!.Value)
            .Single();
        Assert.Equal(20.5322, drawn.Height * 25.4 / 72, 0.05);
        Assert.Equal(119.6947, drawn.Width * 25.4 / 72, 0.05);
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Strokes_typed_while_the_line_is_slow_all_stay()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Inspector), Device.Desk);
        // Each stroke is at the server a third of a second later; its answer finds the next ones typed already.
        await page.AddInitScriptAsync(
            "(() => { const send = WebSocket.prototype.send; WebSocket.prototype.send = function (data) { setTimeout(() => send.call(this, data), 300); }; })()"
        );
        await page.OpenLiveAsync("/workbench/bend?angleDegrees=90");
        var angle = page.GetByLabel("Bend angle");
        await angle.ClearAsync();
        // The page begins at its heading when it has come, which may be late; never under somebody's hands.
        await page.EvaluateAsync("async () => (await import('/js/heading-focus.js')).focusHeading()");
        await Expect(angle).ToBeFocusedAsync();
        await angle.PressSequentiallyAsync("61.625", new() { Delay = 120 });

        await Expect(page.GetByTestId("answer")).ToContainTextAsync("145.20 mm");
        await Expect(angle).ToHaveValueAsync("61.625");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Wrong_figures_are_said_at_their_field_while_the_last_good_picture_stays()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Inspector), Device.Tablet);
        await page.OpenLiveAsync("/workbench/notch?angleDegrees=50&headerOutsideDiameterMm=60");
        var picture = page.GetByRole(AriaRole.Img, new() { Name = "The end of the cut tube" });
        var good = await picture.InnerHTMLAsync();

        await page.GetByLabel("Angle between the tubes").FillAsync("120");
        await Expect(page.GetByText("over 0 and at most 90 degrees")).ToBeVisibleAsync();
        Assert.Equal("true", await page.GetByLabel("Angle between the tubes").GetAttributeAsync("aria-invalid"));
        Assert.Equal(good, await picture.InnerHTMLAsync());
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "Wrap to print" })).ToHaveCountAsync(0);

        await page.GetByLabel("Angle between the tubes").FillAsync("40");
        await Expect(page.GetByText("over 0 and at most 90 degrees")).ToHaveCountAsync(0);
        Assert.NotEqual(good, await picture.InnerHTMLAsync());
        await page.GetByText("Depth of the notch").ClickAsync();
        await Expect(page.GetByText("two cylinders that meet: analytic geometry").First).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task What_a_person_typed_is_there_again_and_a_link_brings_its_own_figures()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), Device.Desk);
        // By a link, so that what this person typed here in another test is not the beginning.
        await page.OpenLiveAsync("/workbench/bend?angleDegrees=60");
        await page.GetByLabel("Bend angle").FillAsync("33");
        await Expect(page.GetByTestId("answer")).ToContainTextAsync("77.75 mm");
        await Expect(page.Locator("[data-kept=yes]")).ToBeVisibleAsync();

        await page.OpenLiveAsync("/workbench/bend");
        await Expect(page.GetByLabel("Bend angle")).ToHaveValueAsync("33");
        await page.OpenLiveAsync("/workbench/bend?angleDegrees=90");
        await Expect(page.GetByLabel("Bend angle")).ToHaveValueAsync("90");
        await Expect(page.GetByTestId("answer")).ToContainTextAsync("212.06 mm");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_copied_link_brings_the_same_figures_to_somebody_else_and_the_page_prints()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), Device.Desk);
        await page.Context.GrantPermissionsAsync(["clipboard-read", "clipboard-write"]);
        await page.OpenLiveAsync("/workbench/notch?angleDegrees=41&headerOutsideDiameterMm=2%20in");
        await page.GetByLabel("Offset of the middles").FillAsync("2.5 mm");
        await page.GetByRole(AriaRole.Button, new() { Name = "Copy link with these figures" }).ClickAsync();
        await Expect(page.GetByText("The link is on the clipboard")).ToBeVisibleAsync();
        var link = await page.EvaluateAsync<string>("navigator.clipboard.readText()");
        await page.EvaluateAsync("window.print = () => { document.title = 'Printed'; }");
        await page.GetByRole(AriaRole.Button, new() { Name = "Print this page" }).ClickAsync();
        await Expect(page).ToHaveTitleAsync("Printed");
        // On paper nothing is left to be pressed.
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Print this page" })).ToBeHiddenAsync();
        await Expect(page.GetByTestId("answer")).ToBeVisibleAsync();
        await page.Context.CloseAsync();

        var other = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Inspector), Device.Phone);
        await other.OpenLiveAsync(new Uri(link).PathAndQuery);
        await Expect(other.GetByLabel("Offset of the middles")).ToHaveValueAsync("2.5 mm");
        await Expect(other.GetByLabel("Angle between the tubes")).ToHaveValueAsync("41");
        await other.Context.CloseAsync();
    }

    [Fact]
    public async Task Saved_figures_stand_at_their_step_on_the_tablet_and_open_again_with_what_was_typed()
    {
        var job = await (await DeskJob.AtAsync(shop)).OpenDoneAsync("Figure Driver", before: "30");
        var tablet = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), Device.Tablet);
        await tablet.GotoAsync($"/floor/jobs/{job}");
        // The braces are notched at a later step; their figures may be worked out now.
        await tablet.GetByRole(AriaRole.Link, new() { Name = "Work it out: Notch" }).First.ClickAsync();
        await Expect(tablet.Locator("#mode")).ToHaveAttributeAsync("data-live", "yes");
        await tablet.GetByLabel("Angle between the tubes").FillAsync("60");
        await tablet.GetByRole(AriaRole.Button, new() { Name = "Save these figures" }).ClickAsync();
        await Expect(tablet.GetByLabel("At which step")).ToHaveValueAsync("110");
        await tablet.GetByLabel("At which step").SelectOptionAsync("30");
        await tablet.GetByLabel("What they are for").FillAsync("Brace, top end");
        Assert.Empty(await tablet.ProblemsOnEveryScreenAsync("saving", (d, c) => TakeAsync(tablet, "saving", d, c)));
        await tablet.ShowOnAsync(Device.Tablet);
        await tablet.GetByRole(AriaRole.Button, new() { Name = "Save", Exact = true }).ClickAsync();
        await Expect(tablet.GetByText("“Brace, top end” is saved with")).ToBeVisibleAsync();
        Assert.Empty(await tablet.BarriersAsync());

        await tablet.GotoAsync($"/floor/jobs/{job}");
        var card = tablet.Locator("article[data-code='30'][data-section='next'] [data-figure]");
        await Expect(card).ToContainTextAsync("Depth of the notch");
        Assert.Empty(await tablet.ProblemsOnEveryScreenAsync("floor", (d, c) => TakeAsync(tablet, "floor", d, c)));
        await tablet.ShowOnAsync(Device.Tablet);
        var href = (await card.GetByRole(AriaRole.Link, new() { Name = "Wrap to print" }).GetAttributeAsync("href"))!;
        var paper = await tablet.Context.APIRequest.GetAsync(new Uri(new Uri(tablet.Url), "/" + href).ToString());
        using (var pdf = PdfDocument.Open(await paper.BodyAsync()))
        {
            Assert.Contains("J-", pdf.GetPage(1).Text, StringComparison.Ordinal);
        }

        await card.GetByRole(AriaRole.Link, new() { Name = "Open at the workbench" }).ClickAsync();
        await Expect(tablet.Locator("#mode")).ToHaveAttributeAsync("data-live", "yes");
        await Expect(tablet.GetByLabel("Angle between the tubes")).ToHaveValueAsync("60");
        await tablet.GetByLabel("Angle between the tubes").FillAsync("55");
        await Expect(tablet.GetByTestId("from-saved")).ToContainTextAsync("changed since and is not saved");
        await tablet.GetByRole(AriaRole.Button, new() { Name = "Save these figures" }).ClickAsync();
        await Expect(tablet.GetByLabel("In place of")).ToBeCheckedAsync();
        await tablet.GetByRole(AriaRole.Button, new() { Name = "Save", Exact = true }).ClickAsync();
        await Expect(tablet.GetByText("“Brace, top end” is saved with")).ToBeVisibleAsync();
        await tablet.Context.CloseAsync();

        var owner = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Desk);
        await owner.OpenLiveAsync($"/jobs/{job}");
        await Expect(owner.GetByTestId("saved-figure")).ToHaveCountAsync(1);
        await Expect(owner.GetByText("1 earlier, no longer worked by")).ToBeVisibleAsync();
        await owner.GetByTestId("saved-figure").GetByText("Brace, top end").ClickAsync();
        await owner.GetByRole(AriaRole.Button, new() { Name = "Withdraw…" }).ClickAsync();
        Assert.Empty(await owner.ProblemsOnEveryScreenAsync("job", (d, c) => TakeAsync(owner, "job", d, c)));
        await owner.GetByLabel("Why they are not worked by").FillAsync("Braces come from a kit");
        await owner.GetByRole(AriaRole.Button, new() { Name = "Withdraw them" }).ClickAsync();
        await Expect(owner.GetByTestId("saved-figure")).ToHaveCountAsync(0);
        await Expect(owner.GetByText("2 earlier, no longer worked by")).ToBeVisibleAsync();
        await owner.Context.CloseAsync();
    }

    [Fact]
    public async Task Best_nest_is_sought_a_long_search_is_stopped_and_the_saw_card_prints_what_was_found()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Inspector), Device.Desk);
        await page.OpenLiveAsync(
            "/workbench/nest?pieces=3%3B%202%3B%20long%0A2%3B%204%3B%20short&stock=7&kerfMm=0&unit=mm"
        );
        // The plain rule lays 3 3 | 2 2 2 | 2; two bars hold 3 2 2 each.
        await Expect(page.GetByTestId("answer")).ToContainTextAsync("by a plain rule");
        await page.GetByRole(AriaRole.Button, new() { Name = "Find the best nest" }).ClickAsync();
        await Expect(page.GetByTestId("nest-told")).ToContainTextAsync("proven");
        await Expect(page.GetByTestId("answer")).ToContainTextAsync("proven best");
        await Expect(page.GetByTestId("answer")).ToContainTextAsync("2: 2 × 7.0 mm");
        var href = (await page.GetByRole(AriaRole.Link, new() { Name = "Saw card, A4" }).GetAttributeAsync("href"))!;
        var paper = await page.Context.APIRequest.GetAsync(new Uri(new Uri(page.Url), "/" + href).ToString());
        using (var pdf = PdfDocument.Open(await paper.BodyAsync()))
        {
            var text = string.Concat(pdf.GetPages().Select(p => p.Text));
            Assert.Contains("proven best", text, StringComparison.Ordinal);
            Assert.Contains("Bar 2 of 2", text, StringComparison.Ordinal);
        }

        // What was found is not said of another list.
        await page.GetByLabel("Kerf").FillAsync("0.5");
        await Expect(page.GetByText("The list was changed since")).ToBeVisibleAsync();

        // Two hundred different lengths and odd offcuts: nothing that is done before it is stopped.
        var pieces = string.Join(
            '\n',
            Enumerable.Range(0, 200).Select(i => $"{700 + (i * 37 % 1900)}.{i % 7}; 3; T{i}")
        );
        await page.GetByRole(AriaRole.Textbox, new() { Name = "Pieces" }).FillAsync(pieces);
        await page.GetByLabel("Sticks and offcuts").FillAsync("6096\n5011; 1\n3333; 2\n2741; 1");
        await page.GetByLabel("Seek for at most").SelectOptionAsync("two minutes");
        await page.GetByRole(AriaRole.Button, new() { Name = "Find the best nest" }).ClickAsync();
        await Expect(page.GetByTestId("nest-progress")).ToContainTextAsync("no nest can use less than");
        await page.GetByRole(AriaRole.Button, new() { Name = "Stop seeking" }).ClickAsync();
        await Expect(page.GetByTestId("nest-told")).ToContainTextAsync("Stopped");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_die_of_the_shop_brings_its_springback_to_the_calculator()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), Device.Desk);
        await page.OpenLiveAsync("/workbench/dies");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a die" }).ClickAsync();
        await page.GetByLabel("What you call the die").FillAsync("Big one");
        await page.GetByLabel("For tube of outside diameter").FillAsync("45");
        await page.GetByLabel("Radius of the die").FillAsync("140");
        await page.GetByLabel("Springback trials").FillAsync("87; 90\n91; 89");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the die" }).ClickAsync();
        await Expect(page.GetByText("Trial 2: The bender stood at")).ToBeVisibleAsync();
        await page.GetByLabel("Springback trials").FillAsync("87; 90\n43.5; 45");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the die" }).ClickAsync();
        await Expect(page.GetByTestId("die")).ToContainTextAsync("for 60° bend to 62.07°");
        Assert.Empty(await page.ProblemsOnEveryScreenAsync("dies", (d, c) => TakeAsync(page, "dies", d, c)));

        await page.OpenLiveAsync("/workbench/bend");
        await page.GetByLabel("Die, from the shop's table").SelectOptionAsync("Big one");
        await page.GetByLabel("Bend angle").FillAsync("60");
        await Expect(page.GetByTestId("answer")).ToContainTextAsync("62.07°");
        // R × tan(30°).
        await Expect(page.GetByTestId("answer")).ToContainTextAsync("80.83 mm");
        await page.GetByLabel("1/32").CheckAsync();
        await Expect(page.GetByTestId("answer")).ToContainTextAsync("3 3/16 in less 0.13 mm");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Arrow_keys_turn_the_picture_and_leave_the_page_where_it_is()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), Device.Phone);
        await page.OpenLiveAsync("/workbench/tube-path");
        var picture = page.GetByTestId("turn");
        await Expect(picture).ToHaveAttributeAsync("data-held", "yes");
        await picture.FocusAsync();
        const string places = "[...document.querySelectorAll('*')].map(e => e.scrollTop).join()";
        var before = await page.EvaluateAsync<string>(places);
        var drawn = await picture.InnerHTMLAsync();

        await page.Keyboard.PressAsync("ArrowUp");
        await page.Keyboard.PressAsync("ArrowUp");
        await page.WaitForFunctionAsync("b => document.querySelector('[data-testid=turn]').innerHTML !== b", drawn);

        Assert.Equal(before, await page.EvaluateAsync<string>(places));
        // The keys that leave it still do.
        await page.Keyboard.PressAsync("Tab");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Turn left" })).ToBeFocusedAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Tube_with_bends_turns_by_key_by_button_and_by_dragging()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), Device.Desk);
        await page.OpenLiveAsync("/workbench/tube-path");
        var picture = page.GetByTestId("turn");
        var seen = new List<string> { await picture.InnerHTMLAsync() };
        async Task TurnsAsync()
        {
            await page.WaitForFunctionAsync(
                "before => document.querySelector('[data-testid=turn]').innerHTML !== before",
                seen[^1]
            );
            seen.Add(await picture.InnerHTMLAsync());
        }

        await picture.FocusAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        await TurnsAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Top" }).ClickAsync();
        await TurnsAsync();
        await picture.ScrollIntoViewIfNeededAsync();
        var box = (await picture.BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(box.X + 200, box.Y + 100);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(box.X + 260, box.Y + 100);
        await page.Mouse.UpAsync();
        await TurnsAsync();
        // Legs of 1 m, a top of 1 m, two bends of 90° at R = 135 mm: worked in a table of bends.
        await Expect(page.GetByTestId("answer")).ToContainTextAsync("2884.12 mm");
        await page.Context.CloseAsync();
    }

    public static TheoryData<string> Codes => [.. Benches.All.Select(s => s.Code)];

    [Theory]
    [MemberData(nameof(Codes))]
    public async Task Every_calculator_can_be_used_by_everybody_and_fits_its_screen(string code)
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Fabricator), Device.Phone);
        var errors = new List<string>();
        page.PageError += (_, error) => errors.Add(error);
        await page.OpenLiveAsync("/workbench/" + code);
        await Expect(page.Locator("svg.bench-picture")).ToBeVisibleAsync();
        var wrong = await page.ProblemsOnEveryScreenAsync(
            code,
            (device, scheme) => TakeAsync(page, code, device, scheme)
        );
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
        Assert.Empty(errors);
        await page.Context.CloseAsync();
    }

    private static async Task TakeAsync(IPage page, string code, Device device, ColorScheme scheme)
    {
        if (Folder is not null)
        {
            var name = string.Create(
                CultureInfo.InvariantCulture,
                $"workbench-{code}-{device.Name}-{scheme.ToString().ToLowerInvariant()}.png"
            );
            await page.ScreenshotAsync(new() { Path = Path.Combine(Folder, name), FullPage = true });
        }
    }
}
