using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using ShopFloor.Data;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.EndToEnd.Tests.Pictures;

namespace ShopFloor.EndToEnd.Tests.Routes;

/// <summary>Routes in a browser: the owner writes an edition, moves a job to it, orders rework; everything awaited on one page.</summary>
public sealed partial class RoutePagesTests(DemoShop shop) : IClassFixture<DemoShop>
{
    private static readonly string? Folder = Environment.GetEnvironmentVariable("SHOPFLOOR_PICTURES");

    [Fact]
    public async Task Owner_writes_an_edition_is_told_what_is_wrong_and_moves_a_running_job_to_it()
    {
        var page = await shop.OpenAsAsync(DemoShop.Owner, Device.Desk);
        await page.OpenLiveAsync("/route-templates/six-point-weld-in");
        await page.GetByRole(AriaRole.Button, new() { Name = "Begin a draft from edition 1" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("Draft");

        await page.GetByRole(AriaRole.Button, new() { Name = "270 Second-person sign-off" }).ClickAsync();
        var form = page.GetByTestId("operation");
        await Assertions.Expect(form.GetByLabel("Number")).ToHaveValueAsync("270");
        await form.GetByLabel("Title").FillAsync("Second-person sign-off, lights on");
        await form.GetByRole(AriaRole.Checkbox, new() { Name = "270 needs the trim out" }).CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save and check" }).ClickAsync();
        var check = page.GetByTestId("check");
        await Assertions.Expect(check).ToContainTextAsync("nothing more can be done");
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Put in force" })).ToBeDisabledAsync();

        await page.GetByTestId("operation")
            .GetByRole(AriaRole.Checkbox, new() { Name = "270 needs the trim out" })
            .UncheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save and check" }).ClickAsync();
        await Assertions.Expect(check).ToContainTextAsync("Nothing is in the way");
        await Assertions.Expect(check).ToContainTextAsync("270: The title was");
        await page.GetByRole(AriaRole.Button, new() { Name = "Put in force" }).ClickAsync();
        await Assertions
            .Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 }))
            .ToContainTextAsync("Six-point weld-in bar");
        await Assertions.Expect(page.GetByText("Edition 2, in force")).ToBeVisibleAsync();

        await page.OpenLiveAsync(await PathAsync("/jobs/{Id:guid}/route"));
        var move = page.GetByTestId("move");
        await move.GetByRole(AriaRole.Button, new() { Name = "Look at edition 2" }).ClickAsync();
        await Assertions.Expect(move).ToContainTextAsync("Changes: 270 Second-person sign-off, lights on.");
        await move.GetByLabel("Why").FillAsync("Better words");
        await move.GetByRole(AriaRole.Button, new() { Name = "Go over to edition 2" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Link, new() { Name = "edition 2" })).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText("270 Second-person sign-off, lights on").First).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Owner_ticks_on_which_jobs_an_operation_is_done_and_shows_a_picture_at_it()
    {
        var page = await shop.OpenAsAsync(DemoShop.Owner, Device.Desk);
        await page.OpenLiveAsync(await PathAsync("/route-templates/{Code}/draft"));
        await page.GetByRole(AriaRole.Button, new() { Name = "20 " }).First.ClickAsync();
        var form = page.GetByTestId("operation");
        await Assertions.Expect(form.GetByLabel("Number")).ToHaveValueAsync("20");
        var when = form.GetByTestId("condition-op");
        await when.Locator("summary").ClickAsync();
        await Assertions.Expect(when.Locator("summary")).ToContainTextAsync("on every job");
        await when.GetByRole(AriaRole.Checkbox, new() { Name = "Electric" }).CheckAsync();
        await when.GetByLabel("Rear seats").SelectOptionAsync(new SelectOptionValue { Label = "Rear seats are used" });
        await Assertions
            .Expect(when.Locator("summary"))
            .ToContainTextAsync("only on jobs for energy electric and where rear seats are used");

        var pictures = form.GetByTestId("pictures");
        await pictures
            .Locator("input[type=file]")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "clamp.png",
                    MimeType = "image/png",
                    Buffer = Intake.Pictures.Png,
                }
            );
        await pictures.GetByLabel("What picture 1 shows").FillAsync("Clamp beside the joint");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save and check" }).ClickAsync();
        var check = page.GetByTestId("check");
        await Assertions.Expect(check).ToContainTextAsync("on jobs for energy electric and where rear seats are used");
        await Assertions
            .Expect(check)
            .ToContainTextAsync("What the pictures show was empty, is \"Clamp beside the joint\".");
        await Assertions
            .Expect(page.GetByTestId("pictures").GetByRole(AriaRole.Img, new() { Name = "Clamp beside the joint" }))
            .ToBeVisibleAsync();

        // Back as it was, so that the draft stays what others begin from.
        await page.GetByTestId("pictures")
            .GetByRole(AriaRole.Button, new() { Name = "Take out picture 1" })
            .ClickAsync();
        // The form was made anew by saving, with its conditions folded.
        await page.GetByTestId("condition-op").Locator("summary").ClickAsync();
        await page.GetByTestId("condition-op").GetByRole(AriaRole.Button, new() { Name = "Clear" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save and check" }).ClickAsync();
        await Assertions.Expect(check).ToContainTextAsync("Nothing yet.");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Desk_records_stock_orders_rework_and_finds_both_among_what_is_awaited()
    {
        var page = await shop.OpenAsAsync(DemoShop.FrontDesk, Device.Desk);
        await page.OpenLiveAsync(await PathAsync("/jobs/{Id:guid}/route"));
        await Assertions.Expect(page.GetByTestId("sequence")).ToContainTextAsync("Can be finished");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add rework" }).ClickAsync();
        await page.GetByLabel("What is mended").SelectOptionAsync("140");
        await page.GetByLabel("What is done").FillAsync("Left brace joint ground out and welded again");
        await page.GetByLabel("Why").FillAsync("Undercut at the back");
        await page.GetByRole(AriaRole.Button, new() { Name = "Put it on the route" }).ClickAsync();
        await Assertions
            .Expect(page.GetByText("the bar's joints reachable off the car (closed, and nothing left opens it)"))
            .ToBeVisibleAsync();

        await page.GetByLabel("What is mended").SelectOptionAsync("190");
        await page.GetByRole(AriaRole.Button, new() { Name = "Put it on the route" }).ClickAsync();
        await Assertions.Expect(page.GetByText("191 Left brace joint").First).ToBeVisibleAsync();

        await page.GetByRole(AriaRole.Button, new() { Name = "Record stock or work sent out" }).ClickAsync();
        await page.GetByLabel("Which", new() { Exact = true }).FillAsync("Welding wire, 1 mm");
        await page.GetByLabel("Supplier").FillAsync("The wire merchant");
        await page.GetByRole(AriaRole.Checkbox, new() { Name = "191 Left brace joint" }).CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Record", Exact = true }).ClickAsync();
        await Assertions.Expect(page.GetByText("Welding wire, 1 mm")).ToBeVisibleAsync();

        await page.OpenLiveAsync("/waits");
        await Assertions
            .Expect(page.GetByRole(AriaRole.Heading, new() { Name = "From The wire merchant" }))
            .ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText("Welding wire, 1 mm")).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Owner_changes_an_inspection_plan_is_told_at_the_field_and_moves_a_running_job_to_it()
    {
        var page = await shop.OpenAsAsync(DemoShop.Owner, Device.Desk);
        await page.OpenLiveAsync("/inspection-plans/weld-in-bar/edit");
        await page.GetByRole(AriaRole.Button, new() { Name = "260 Bolts tight and marked, pins in" }).ClickAsync();
        var form = page.GetByTestId("line");
        await Assertions.Expect(form).ToContainTextAsync("Bolts tight and marked");
        await form.GetByLabel("At operation").SelectOptionAsync("240");
        await form.GetByRole(AriaRole.Checkbox, new() { Name = "230 All welds inspected" }).CheckAsync();
        await form.GetByLabel("Answered with").SelectOptionAsync(new SelectOptionValue { Label = "a measured value" });
        await form.GetByLabel("Unit").FillAsync("Nm");
        await form.GetByLabel("Lower limit").FillAsync("30");
        await form.GetByLabel("Upper limit").FillAsync("25");
        await page.GetByRole(AriaRole.Button, new() { Name = "Check", Exact = true }).ClickAsync();
        await Assertions.Expect(form).ToContainTextAsync("30 lies above the upper limit 25");
        await Assertions.Expect(form).ToContainTextAsync("move the line to an operation before 230");
        await Assertions.Expect(page.GetByTestId("check")).ToContainTextAsync("are in the way of saving it");

        await form.GetByRole(AriaRole.Checkbox, new() { Name = "230 All welds inspected" }).UncheckAsync();
        await form.GetByLabel("At operation").SelectOptionAsync("260");
        await form.GetByLabel("Lower limit").FillAsync("20");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a line" }).ClickAsync();
        await Assertions.Expect(form).ToContainTextAsync("New line");
        await form.GetByLabel("What is looked at").FillAsync("Seat belts' stitching sound");
        await form.GetByLabel("How it is measured or judged").FillAsync("By eye, pulled out whole");
        await page.GetByRole(AriaRole.Button, new() { Name = "↑ Earlier" }).ClickAsync();
        await page.GetByLabel("Why the plan is changed").FillAsync("Bolts are tightened to a figure");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save version 2" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Version 2, newest")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Compare version 1 with 2" }).ClickAsync();
        await Assertions
            .Expect(page.GetByText("New at 260: Seat belts' stitching sound (passed or failed)."))
            .ToBeVisibleAsync();

        await page.OpenLiveAsync(await PathAsync("/jobs/{Id:guid}"));
        var move = page.GetByTestId("plan-move");
        await Assertions.Expect(move).ToContainTextAsync("version 2 is newer");
        await move.GetByRole(AriaRole.Button, new() { Name = "Look at what going over would do" }).ClickAsync();
        await Assertions.Expect(move).ToContainTextAsync("New: Seat belts' stitching sound (260).");
        await move.GetByLabel("Why").FillAsync("The belts are old");
        await move.GetByRole(AriaRole.Button, new() { Name = "Go over to version 2" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Inspected by version 2 of its plan")).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Pages_fit_every_screen_light_and_dark_and_can_be_used_by_everybody()
    {
        string[] routes =
        [
            "/waits",
            "/route-templates",
            "/route-templates/{Code}",
            "/route-templates/{Code}/draft",
            "/jobs/{Id:guid}/route",
            "/inspection-plans",
            "/inspection-plans/{Code}",
            "/inspection-plans/{Code}/edit",
        ];
        var wrong = new List<string>();
        var page = await shop.OpenAsAsync(DemoShop.Owner, Device.Phone);
        foreach (var (i, route) in routes.Index())
        {
            await page.OpenLiveAsync(await PathAsync(route));
            await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToBeVisibleAsync();
            if (i == 4)
            {
                foreach (var name in new[] { "Add rework", "Record stock or work sent out", "Stop work on this job" })
                {
                    await page.GetByRole(AriaRole.Button, new() { Name = name }).ClickAsync();
                }

                await Assertions.Expect(page.GetByLabel("What is mended")).ToBeVisibleAsync();
            }

            wrong.AddRange(
                await page.ProblemsOnEveryScreenAsync(route, (device, scheme) => TakeAsync(page, i, device, scheme))
            );
        }

        await page.Context.CloseAsync();
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
    }

    private static async Task TakeAsync(IPage page, int number, Device device, ColorScheme scheme)
    {
        if (Folder is not null)
        {
            await page.ScreenshotAsync(
                new() { Path = Path.Combine(Folder, $"routes-{number}-{device.Name}-{scheme}.png"), FullPage = true }
            );
        }
    }

    private async Task<string> PathAsync(string route)
    {
        await using var scope = shop.Services.CreateAsyncScope();
        var contexts = scope.ServiceProvider.GetRequiredService<IDbContextFactory<ShopDbContext>>();
        await using var db = await contexts.CreateDbContextAsync();
        return (await DemoPlaces.PathOfAsync(route, db, scope.ServiceProvider))!;
    }
}
