using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Progress;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.EndToEnd.Tests.Intake;

namespace ShopFloor.EndToEnd.Tests.Inspection;

/// <summary>The inspector's tablet and the customer's phone in a real browser.</summary>
public sealed class InspectionPagesTests(StaffedShop shop) : IClassFixture<StaffedShop>
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    private static string Inspector => StaffedShop.EmailOf(Role.Inspector);

    [Fact]
    public async Task A_value_out_of_limit_fails_a_better_one_passes_and_the_finished_car_is_signed_off_and_taken_back()
    {
        var job = await (await DeskJob.AtAsync(shop)).OpenDoneAsync("Ada Kremer");
        var page = await shop.OpenAsAsync(Inspector, Device.Tablet);
        await page.GotoAsync($"/inspection/{job}");
        var gap = page.Locator("#line-plate-gap");
        await Assertions.Expect(gap.Locator("figure")).ToHaveAttributeAsync("data-result", "open");

        await gap.GetByLabel("Measured value in mm").FillAsync("1,5");
        await gap.GetByRole(AriaRole.Button, new() { Name = "Record value" }).ClickAsync();
        await Assertions.Expect(gap.Locator("figure")).ToHaveAttributeAsync("data-result", "failed");

        await gap.GetByLabel("Measured value in mm").FillAsync("0.4");
        await gap.GetByRole(AriaRole.Button, new() { Name = "Record value" }).ClickAsync();
        await Assertions.Expect(gap.Locator("figure")).ToHaveAttributeAsync("data-result", "passed");
        await Assertions.Expect(gap.Locator(".measure-earlier")).ToHaveCountAsync(1);

        var bare = page.Locator("#line-bare-metal-left");
        await bare.GetByRole(AriaRole.Button, new() { Name = "Passed" }).ClickAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("A photo is needed");
        await page.GetByRole(AriaRole.Button, new() { Name = "Understood" }).ClickAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToBeHiddenAsync();
        await bare.GetByLabel("Photo")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "seam.png",
                    MimeType = "image/png",
                    Buffer = await page.ScreenshotAsync(),
                }
            );
        await bare.GetByRole(AriaRole.Button, new() { Name = "Passed" }).ClickAsync();
        await Assertions.Expect(bare).ToHaveAttributeAsync("data-state", "passed");
        await Assertions.Expect(bare).ToContainTextAsync("1 photo");

        await PassTheRestAsync(job, bare: await PhotoOfAsync(job));
        await page.GotoAsync($"/inspection/{job}");
        await Assertions.Expect(page.Locator("#sign-off-card")).ToContainTextAsync("account is not settled");
        await (await DeskJob.AtAsync(shop)).SettleAsync(job, shop);
        await page.GotoAsync($"/inspection/{job}");
        // The page has put the server's newest state in place once; from then on a begun signature keeps its card.
        await page.WaitForFunctionAsync("() => 'fresh' in document.documentElement.dataset");
        await page.DrawSignatureAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign off" }).ClickAsync();
        await Assertions.Expect(page.Locator("#said")).ToHaveTextAsync("Signed off. The record is frozen.");
        await Assertions.Expect(page.Locator("form.entry")).ToHaveCountAsync(0);
        await AnybodyChecksAsync(await RecordOfAsync(page));

        await page.GetByText("Withdraw the sign-off").ClickAsync();
        await page.GetByLabel("Reason").FillAsync("Pin loose on the test drive");
        await page.GetByRole(AriaRole.Button, new() { Name = "Withdraw" }).ClickAsync();
        await Assertions.Expect(page.Locator("#said")).ToContainTextAsync("withdrawn");
        await Assertions.Expect(page.GetByText("Pin loose on the test drive")).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_reading_entered_without_connection_is_kept_and_applied_once()
    {
        var job = await (await DeskJob.AtAsync(shop)).OpenDoneAsync("Dora Finch");
        var page = await shop.OpenAsAsync(Inspector, Device.Tablet);
        await page.GotoAsync($"/inspection/{job}");
        var gap = page.Locator("#line-plate-gap");
        await page.Context.SetOfflineAsync(true);
        await gap.GetByLabel("Measured value in mm").FillAsync("0.4");
        await gap.GetByRole(AriaRole.Button, new() { Name = "Record value" }).ClickAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("saved here, not yet sent");
        await page.Context.SetOfflineAsync(false);
        await Assertions.Expect(gap.Locator("figure")).ToHaveAttributeAsync("data-result", "passed");
        await Assertions.Expect(page.Locator("#outbox")).ToBeHiddenAsync();
        await page.ReloadAsync();
        await Assertions.Expect(gap).ToContainTextAsync("1. 0.4 mm, passed");
        await Assertions.Expect(gap).Not.ToContainTextAsync("2. ");
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task A_pair_of_angles_says_its_difference_before_it_is_sent_and_a_hold_point_stays_shut_until_the_server_answered()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenDoneAsync("Otto Lind", before: "240");
        var page = await shop.OpenAsAsync(Inspector, Device.Tablet);
        await page.GotoAsync($"/inspection/{job}");
        await page.WaitForFunctionAsync("() => 'fresh' in document.documentElement.dataset");
        var pair = page.Locator("#line-hinge-pair-left");
        var told = pair.Locator("output");
        await pair.GetByLabel("Straight-leg angle in °").FillAsync("31,25");
        await Assertions.Expect(told).ToBeEmptyAsync();
        await pair.GetByLabel("Angle past the bend in °").FillAsync("28.9");
        await Assertions.Expect(told).ToHaveTextAsync("Difference 2.35 °: ✕ out of -2 to 2 °");
        await pair.GetByLabel("Angle past the bend in °").FillAsync("32.5");
        await Assertions.Expect(told).ToHaveTextAsync("Difference −1.25 °: ✓ within -2 to 2 °");

        // Without connection the reading waits here, and so does the work behind the hold point.
        await page.Context.SetOfflineAsync(true);
        await pair.GetByRole(AriaRole.Button, new() { Name = "Record value" }).ClickAsync();
        var outbox = page.Locator("#outbox");
        await Assertions.Expect(outbox).ToContainTextAsync("not yet sent; work still waits at this hold point");
        await Assertions.Expect(told).ToBeEmptyAsync();
        await Assertions.Expect(pair).ToHaveAttributeAsync("data-state", "open");
        await PassTheRestAsync(
            job,
            await desk.AddPhotoAsync(job, Intake.Pictures.Png),
            l => l.Operation == "230" && l.Code != "hinge-pair-left"
        );
        Assert.Equal(["hinge-pair-left"], await HeldByAsync(desk, job));

        await page.Context.SetOfflineAsync(false);
        await Assertions.Expect(pair).ToHaveAttributeAsync("data-state", "passed");
        await Assertions.Expect(outbox).ToBeHiddenAsync();
        await Assertions.Expect(pair).ToContainTextAsync("-1.25 °");
        Assert.Empty(await HeldByAsync(desk, job));
        await page.Context.CloseAsync();
    }

    /// <summary>Hold lines that keep the paint waiting, as the server says.</summary>
    private static async Task<IReadOnlyList<string>> HeldByAsync(DeskJob desk, string job)
    {
        var paint = (await desk.ReadAsync($"/api/v1/jobs/{job}"))
            .GetProperty("operations")
            .EnumerateArray()
            .Single(o => o.GetProperty("code").GetString() == "240");
        var isHeld = paint
            .GetProperty("gates")
            .EnumerateArray()
            .Any(g => g.GetProperty("kind").GetString() == "holdPoint" && !g.GetProperty("isMet").GetBoolean());
        var lines = (await desk.ReadAsync($"/api/v1/jobs/{job}/inspection"))
            .GetProperty("inspection")
            .GetProperty("lines")
            .EnumerateArray()
            .Where(l =>
                l.GetProperty("operation").GetString() == "230" && l.GetProperty("state").GetString() != "passed"
            )
            .Select(l => l.GetProperty("code").GetString()!);
        return isHeld ? [.. lines] : [];
    }

    [Fact]
    public async Task The_owner_adds_an_instrument_and_the_tablet_reads_with_it_in_inches_twice_where_it_is_close()
    {
        var job = await (await DeskJob.AtAsync(shop)).OpenDoneAsync("Hanna Dross");
        var desk = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Desk);
        await desk.OpenLiveAsync("/instruments");
        await desk.GetByRole(AriaRole.Button, new() { Name = "Add an instrument" }).ClickAsync();
        await desk.GetByLabel("Name or number on it").FillAsync("Caliper 7");
        await desk.GetByLabel("Uncertainty, ± mm").FillAsync("0,03");
        await desk.GetByRole(AriaRole.Button, new() { Name = "Save the instrument" }).ClickAsync();
        await Assertions.Expect(desk.GetByTestId("instrument")).ToContainTextAsync("±0.03 mm");

        var page = await shop.OpenAsAsync(Inspector, Device.Tablet);
        await page.GotoAsync($"/inspection/{job}");
        var thickness = page.Locator("#line-plate-thickness");
        await thickness.GetByLabel("Measured value in mm").FillAsync("2.91");
        await thickness
            .GetByLabel("Measured with")
            .SelectOptionAsync(new SelectOptionValue { Label = "Caliper 7 (±0.03 mm)" });
        await thickness.GetByRole(AriaRole.Button, new() { Name = "Record value" }).ClickAsync();
        await Assertions.Expect(thickness.Locator("figure")).ToHaveAttributeAsync("data-result", "again");
        await Assertions.Expect(thickness).ToContainTextAsync("close to the limit: read once more");

        // The instrument in one's hand stays chosen.
        await thickness.GetByLabel("Measured value in mm").FillAsync("1/8\"");
        await thickness.GetByRole(AriaRole.Button, new() { Name = "Record value" }).ClickAsync();
        await Assertions.Expect(thickness.Locator("figure")).ToHaveAttributeAsync("data-result", "passed");
        await Assertions.Expect(thickness).ToContainTextAsync("3.175 mm (typed 1/8\")");
        await Assertions.Expect(thickness).ToContainTextAsync("Caliper 7");

        // A mistyped reading is corrected; both stay.
        await thickness.GetByText("Check it again").ClickAsync();
        await thickness.GetByLabel("Measured value in mm").FillAsync("3.1");
        await thickness.GetByText("Add a note or a photo, correct a reading").ClickAsync();
        await thickness.GetByLabel("Corrects a mistyped reading").SelectOptionAsync("2");
        await thickness.GetByRole(AriaRole.Button, new() { Name = "Record value" }).ClickAsync();
        await Assertions.Expect(thickness).ToContainTextAsync("corrects reading 2");

        await desk.GetByRole(AriaRole.Button, new() { Name = "Take Caliper 7 out of use" }).ClickAsync();
        await desk.GetByRole(AriaRole.Button, new() { Name = "Yes, take Caliper 7 out of use" }).ClickAsync();
        await Assertions.Expect(desk.GetByText("Out of use: Caliper 7.")).ToBeVisibleAsync();
        await page.Context.CloseAsync();
        await desk.Context.CloseAsync();
    }

    [Fact]
    public async Task A_failed_line_is_reworked_passes_and_another_person_signs_off_while_the_one_who_worked_is_refused()
    {
        var job = await (await DeskJob.AtAsync(shop)).OpenDoneAsync("Gerd Amsel");
        var page = await shop.OpenAsAsync(Inspector, Device.Tablet);
        await page.GotoAsync($"/inspection/{job}");
        var line = page.Locator("#line-electrics");
        await line.GetByRole(AriaRole.Button, new() { Name = "Failed" }).ClickAsync();
        var fault = line.GetByTestId("fault");
        await Assertions.Expect(fault).ToContainTextAsync("Nonconformance 1");
        await fault.GetByLabel("What is wrong").FillAsync("Warning lamp stays on");
        await fault.GetByLabel("Cause").SelectOptionAsync(new SelectOptionValue { Label = "damage" });
        await fault.GetByLabel("What is done").FillAsync("Find the chafed wire and renew it");
        await fault.GetByRole(AriaRole.Button, new() { Name = "Put rework on the route" }).ClickAsync();
        await Assertions.Expect(line.GetByRole(AriaRole.Status)).ToContainTextAsync("is on the route");
        await Assertions.Expect(fault).ToContainTextAsync("Rework in operation");
        Assert.Empty(await page.BarriersAsync());

        var pass = line.GetByRole(AriaRole.Button, new() { Name = "Passed" });
        await pass.ClickAsync();
        await Assertions.Expect(page.Locator("#outbox")).ToContainTextAsync("passes when its rework");
        await page.GetByRole(AriaRole.Button, new() { Name = "Understood" }).ClickAsync();
        await FinishReworkAsync(job);
        await pass.ClickAsync();
        await Assertions.Expect(line).ToHaveAttributeAsync("data-state", "passed");
        await Assertions.Expect(line).ToContainTextAsync("Nonconformance 1, closed: Warning lamp stays on");

        var picture = await (await DeskJob.AtAsync(shop)).AddPhotoAsync(job, await page.ScreenshotAsync());
        await PassTheRestAsync(job, picture);
        await (await DeskJob.AtAsync(shop)).SettleAsync(job, shop);
        var owner = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Tablet);
        await owner.GotoAsync($"/inspection/{job}");
        await Assertions.Expect(owner.Locator("#sign-off-card")).ToContainTextAsync("You worked on this car");
        await Assertions.Expect(owner.GetByRole(AriaRole.Button, new() { Name = "Sign off" })).ToHaveCountAsync(0);
        await page.ReloadAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign off" }).ClickAsync();
        await Assertions.Expect(page.Locator("#said")).ToHaveTextAsync("Signed off. The record is frozen.");

        await owner.OpenLiveAsync("/nonconformances");
        await Assertions.Expect(owner.GetByTestId("cause").First).ToBeVisibleAsync();
        await Assertions
            .Expect(owner.GetByTestId("fault-row").Filter(new() { HasText = "Warning lamp stays on" }))
            .ToContainTextAsync("Closed");
        await owner.Context.CloseAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task With_script_off_the_form_is_posted_as_it_is_and_the_answer_stands_at_the_line()
    {
        var job = await (await DeskJob.AtAsync(shop)).OpenDoneAsync("Emil Stone");
        var signedIn = await shop.OpenAsAsync(Inspector, Device.Tablet);
        await using var context = await shop.Browser.NewContextAsync(
            new()
            {
                BaseURL = shop.Url,
                JavaScriptEnabled = false,
                StorageState = await signedIn.Context.StorageStateAsync(),
            }
        );
        var page = await context.NewPageAsync();
        await page.GotoAsync($"/inspection/{job}");
        var gap = page.Locator("#line-plate-gap");
        await gap.GetByLabel("Measured value in mm").FillAsync("1,5");
        await gap.GetByRole(AriaRole.Button, new() { Name = "Record value" }).ClickAsync();
        await Assertions.Expect(gap.GetByRole(AriaRole.Alert)).ToContainTextAsync("Its limits are 0 to 1 mm");
        await gap.GetByLabel("Measured value in mm").FillAsync("a bit");
        await gap.GetByRole(AriaRole.Button, new() { Name = "Record value" }).ClickAsync();
        await Assertions.Expect(gap.GetByRole(AriaRole.Alert)).ToContainTextAsync("is no value in mm");
        await signedIn.Context.CloseAsync();
    }

    [Fact]
    public async Task Inspection_pages_fit_every_screen_with_large_targets_and_no_barrier()
    {
        var job = await (await DeskJob.AtAsync(shop)).OpenDoneAsync("Ben Arlo");
        foreach (var path in new[] { "/inspection", $"/inspection/{job}" })
        {
            foreach (var device in Device.All)
            {
                var page = await shop.OpenAsAsync(Inspector, device);
                await page.GotoAsync(path);
                await FitsAsync(page, path, device);
                var small = await page.EvaluateAsync<string[]>(
                    "[...document.querySelectorAll('.big, .work-link, summary, .entry-value input')].filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 63.5).map(e => e.outerHTML)"
                );
                Assert.Empty(small);
                await page.Context.CloseAsync();
            }
        }
    }

    [Fact]
    public async Task The_customers_page_is_one_request_on_every_screen_and_has_no_barrier()
    {
        var address = await CustomersPageAsync(await (await DeskJob.AtAsync(shop)).OpenAsync("Cleo Marsh"));
        foreach (var device in Device.All)
        {
            var page = await shop.OpenAsync(device);
            var problems = new List<string>();
            page.Console += (_, message) => problems.Add(message.Text);
            var requests = new List<string>();
            page.Request += (_, request) => requests.Add(request.Url);
            await page.GotoAsync(address);
            await Assertions
                .Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Now: Intake" }))
                .ToBeVisibleAsync();
            // Beside the page itself only the stream that says when to read it anew.
            Assert.Single(
                requests,
                url =>
                    !url.StartsWith("data:", StringComparison.Ordinal)
                    && !url.Contains("/changes?", StringComparison.Ordinal)
            );
            Assert.DoesNotContain(problems, p => p.Contains("Content Security Policy", StringComparison.Ordinal));
            Assert.Empty(await page.Context.CookiesAsync());
            await FitsAsync(page, "/p/…", device);
            await page.Context.CloseAsync();
        }
    }

    [Fact]
    public async Task The_customers_page_reads_without_script()
    {
        var address = await CustomersPageAsync(await (await DeskJob.AtAsync(shop)).OpenAsync("Gil Orme"));
        await using var context = await shop.Browser.NewContextAsync(
            new() { BaseURL = shop.Url, JavaScriptEnabled = false }
        );
        var page = await context.NewPageAsync();
        await page.GotoAsync(address);
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Now: Intake" })).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByText("Your signature that we may cut and weld")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task The_customers_page_follows_the_shop_by_itself_until_its_link_is_revoked()
    {
        var desk = await DeskJob.AtAsync(shop);
        var job = await desk.OpenAsync("Hope Lund");
        var page = await shop.OpenAsync(Device.Phone);
        await page.RunAndWaitForResponseAsync(
            async () => await page.GotoAsync(await CustomersPageAsync(job)),
            response => response.Url.Contains("/changes?", StringComparison.Ordinal)
        );
        await Assertions.Expect(page.GetByText("Your signature that we may cut and weld")).ToBeVisibleAsync();

        await desk.PutAsync(
            $"/api/v1/jobs/{job}/drop-off",
            new
            {
                odometerKm = 1000,
                warningLights = Array.Empty<string>(),
                fuelPercent = 40,
                keys = 1,
                conditionFound = new { floor = "sound" },
                staysFitted = Array.Empty<string>(),
                inTheCar = Array.Empty<string>(),
                battery = "good",
                photoConsent = "refused",
            }
        );
        await desk.PostAsync(
            $"/api/v1/jobs/{job}/authorisation",
            new { signature = new { kind = "printedSheet", signedBy = "Hope Lund" } }
        );
        await Assertions.Expect(page.GetByText("Your signature that we may cut and weld")).ToBeHiddenAsync();

        await using var scope = shop.Services.CreateAsyncScope();
        var id = JobId.From(Guid.Parse(job));
        var links = await scope.ServiceProvider.GetRequiredService<ListProgressLinks>().RunAsync(id, Actor.System, Ct);
        await scope
            .ServiceProvider.GetRequiredService<RevokeProgressLink>()
            .RunAsync(links.Value[0].Id, Envelope.Of(Actor.System), Ct);
        await Assertions
            .Expect(page.GetByRole(AriaRole.Heading, new() { Name = "There is nothing here" }))
            .ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    private async Task<string> CustomersPageAsync(string job)
    {
        await using var scope = shop.Services.CreateAsyncScope();
        var ticket = await scope
            .ServiceProvider.GetRequiredService<CreateProgressLink>()
            .RunAsync(JobId.From(Guid.Parse(job)), new(), Envelope.Of(Actor.System), Ct);
        return $"/p/{ticket.Value.Token}";
    }

    [Fact]
    public async Task The_front_desk_makes_a_link_on_the_jobs_page_shows_it_and_takes_it_back()
    {
        var job = await (await DeskJob.AtAsync(shop)).OpenAsync("Fay Norden");
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await page.OpenLiveAsync($"/jobs/{job}");
        await Assertions.Expect(page.GetByText("lines passed")).ToContainTextAsync("0 of 42 lines passed");
        await page.GetByRole(AriaRole.Button, new() { Name = "Make a link for the customer" }).ClickAsync();
        var link = page.GetByTestId("progress-link");
        await Assertions.Expect(link.Locator("svg")).ToBeVisibleAsync();
        var address = await link.Locator("a").GetAttributeAsync("href");
        var phone = await shop.OpenAsync(Device.Phone);
        await phone.GotoAsync(address!);
        await Assertions.Expect(phone.GetByText("2004 Corvane Lynx")).ToBeVisibleAsync();

        await page.GetByRole(AriaRole.Button, new() { Name = "Revoke" }).ClickAsync();
        await Assertions.Expect(page.GetByText("✕ Revoked on")).ToBeVisibleAsync();
        // A page of its own: the open one goes to look by itself when it hears of the change.
        var later = await phone.Context.NewPageAsync();
        var gone = await later.GotoAsync(address!);
        Assert.Equal(404, gone!.Status);
        await phone.Context.CloseAsync();
        await page.Context.CloseAsync();
    }

    [Theory]
    [InlineData("/week")]
    [InlineData("/instruments")]
    [InlineData("/nonconformances")]
    [InlineData("/rule-sets")]
    [InlineData("/rule-sets/motorsport-uk-ncr-2026")]
    public async Task Office_pages_of_proof_fit_every_screen(string path)
    {
        foreach (var device in Device.All)
        {
            var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), device);
            await page.OpenLiveAsync(path);
            Assert.True(
                await page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= window.innerWidth"),
                $"{path} is wider than the {device.Name}."
            );
            await page.Context.CloseAsync();
        }
    }

    /// <summary>Downloads the record, and holds the printed pack against it.</summary>
    private static async Task<byte[]> RecordOfAsync(IPage page)
    {
        var download = await page.RunAndWaitForDownloadAsync(() => page.GetByText("Record (JSON)").ClickAsync());
        var record = await File.ReadAllBytesAsync(await download.PathAsync(), Ct);
        var pack = await page.APIRequest.GetAsync(
            (await page.GetByText("Inspection pack (PDF)").GetAttributeAsync("href"))!.Insert(0, "/")
        );
        using var pdf = UglyToad.PdfPig.PdfDocument.Open(await pack.BodyAsync());
        var text = string.Concat(pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        Assert.Contains(HashOf(record), text, StringComparison.Ordinal);
        Assert.Contains(
            pdf.GetPages().SelectMany(p => p.GetImages()),
            i => i is { WidthInSamples: 800, HeightInSamples: 280 }
        );
        return record;
    }

    /// <summary>Without account and without script, on a phone.</summary>
    private async Task AnybodyChecksAsync(byte[] record)
    {
        var hash = HashOf(record);
        await using var context = await shop.Browser.NewContextAsync(
            new()
            {
                BaseURL = shop.Url,
                JavaScriptEnabled = false,
                ViewportSize = new() { Width = 390, Height = 844 },
            }
        );
        var page = await context.NewPageAsync();
        await page.GotoAsync($"/record/{hash}");
        await Assertions.Expect(page.GetByText("✓ This record exists, unchanged")).ToBeVisibleAsync();
        await CheckAsync(page, record);
        await Assertions
            .Expect(page.GetByRole(AriaRole.Status))
            .ToContainTextAsync("This file is the record, unchanged");
        record[record.Length / 2] ^= 1;
        await CheckAsync(page, record);
        await Assertions.Expect(page.GetByRole(AriaRole.Alert)).ToContainTextAsync("is not the record");
        Assert.Empty(await context.CookiesAsync());
    }

    private static async Task CheckAsync(IPage page, byte[] record)
    {
        await page.GetByLabel("The JSON file that the shop gave you")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "record.json",
                    MimeType = "application/json",
                    Buffer = record,
                }
            );
        await page.GetByRole(AriaRole.Button, new() { Name = "Check the file" }).ClickAsync();
    }

    private static string HashOf(byte[] record) =>
        Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(record));

    private static async Task FitsAsync(IPage page, string path, Device device)
    {
        Assert.True(
            await page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= window.innerWidth"),
            $"{path} is wider than the {device.Name}."
        );
        Assert.Empty((await page.BarriersAsync()).Select(b => $"{path} on the {device.Name}: {b}"));
    }

    private async Task<Guid> PhotoOfAsync(string job)
    {
        await using var scope = shop.Services.CreateAsyncScope();
        var view = await scope
            .ServiceProvider.GetRequiredService<ReadInspections>()
            .OneAsync(JobId.From(Guid.Parse(job)), Actor.System, Ct);
        return view.Value.Inspection.Lines.SelectMany(l => l.Readings).SelectMany(r => r.PhotoIds).First().Value;
    }

    /// <summary>The owner does what the rework asks for.</summary>
    private async Task FinishReworkAsync(string job)
    {
        await using var scope = shop.Services.CreateAsyncScope();
        var users =
            scope.ServiceProvider.GetRequiredService<Microsoft.AspNetCore.Identity.UserManager<Data.Identity.User>>();
        var owner = await users.FindByEmailAsync(StaffedShop.EmailOf(Role.Owner));
        var actor = Actor.OfPerson(PersonId.From(owner!.Id), [Role.Owner]);
        var id = JobId.From(Guid.Parse(job));
        var view = await scope.ServiceProvider.GetRequiredService<ReadInspections>().OneAsync(id, actor, Ct);
        var code = view.Value.Inspection.Nonconformances.Single().Reworks.Single();
        var finish = scope.ServiceProvider.GetRequiredService<Application.Routing.FinishOperation>();
        var done = await finish.RunAsync(id, code, Envelope.Of(actor), Ct);
        Assert.True(done.IsSuccess, done.Failure?.Sentence);
    }

    /// <summary>Everything not passed yet is passed by the owner.</summary>
    private async Task PassTheRestAsync(string job, Guid bare, Func<InspectionLineView, bool>? only = null)
    {
        await using var scope = shop.Services.CreateAsyncScope();
        var users =
            scope.ServiceProvider.GetRequiredService<Microsoft.AspNetCore.Identity.UserManager<Data.Identity.User>>();
        var owner = await users.FindByEmailAsync(StaffedShop.EmailOf(Role.Owner));
        var actor = Actor.OfPerson(PersonId.From(owner!.Id), [Role.Owner]);
        var id = JobId.From(Guid.Parse(job));
        var view = await scope.ServiceProvider.GetRequiredService<ReadInspections>().OneAsync(id, actor, Ct);
        var record = scope.ServiceProvider.GetRequiredService<RecordReading>();
        foreach (
            var line in view.Value.Inspection.Lines.Where(l => l.State != LineState.Passed && only?.Invoke(l) != false)
        )
        {
            var request = new RecordReading.Request(
                line.Code,
                line.Unit is null ? null : line.Nominal ?? (line.Lower + line.Upper) / 2,
                line.Unit is null ? "passed" : null,
                "With the bench's own gauge",
                PhotoIds: line.PhotoRequired ? [bare] : null
            );
            var taken = await record.RunAsync(id, request, Envelope.Of(actor), Ct);
            Assert.True(taken.IsSuccess, taken.Failure?.Sentence);
            Assert.Equal(LineState.Passed, taken.Value.LineState);
        }
    }
}
