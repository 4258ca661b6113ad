using System.Text.RegularExpressions;
using Microsoft.Playwright;
using ShopFloor.Domain.Common;
using ShopFloor.EndToEnd.Tests.Fixtures;
using static Microsoft.Playwright.Assertions;

namespace ShopFloor.EndToEnd.Tests.Story;

/// <summary>A shop under a name: passkeys belong to names.</summary>
public sealed class NamedShop : StaffedShop
{
    protected override string HostName => "localhost";
}

/// <summary>Passkeys with the browser's own authenticator (Web Authentication, 11: virtual authenticators), and the other ways of signing in as a person sees them.</summary>
public sealed class PasskeyTests(NamedShop shop) : IClassFixture<NamedShop>
{
    private static readonly string? Folder = Environment.GetEnvironmentVariable("SHOPFLOOR_PICTURES");

    [Fact]
    public async Task Person_adds_a_passkey_signs_in_with_it_and_takes_it_away()
    {
        var page = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.FrontDesk), Device.Desk);
        await WithAuthenticatorAsync(page);
        await page.GotoAsync("/my-sign-in");
        await page.GetByLabel("Name of this device").FillAsync("Counter PC");
        await page.GetByLabel("Your password, once more").FillAsync("not the password");
        await Button(page, "Add a passkey on this device").ClickAsync();
        await Expect(page.GetByText("This is not your password.")).ToBeVisibleAsync();
        await page.GetByLabel("Name of this device").FillAsync("Counter PC");
        await page.GetByLabel("Your password, once more").FillAsync(BrowserShop.Password);
        await Button(page, "Add a passkey on this device").ClickAsync();
        await Expect(page.GetByText("✓ The passkey is added.")).ToBeVisibleAsync();
        await Expect(page.GetByTestId("passkeys")).ToContainTextAsync("Counter PC, since");
        Assert.Empty(
            await page.ProblemsOnEveryScreenAsync(
                "My sign-in",
                (device, scheme) => PictureAsync(page, $"my-sign-in-{device.Name}-{scheme}")
            )
        );

        await LeaveAsync(page);
        Assert.Empty(
            await page.ProblemsOnEveryScreenAsync(
                "Sign in",
                (device, scheme) => PictureAsync(page, $"sign-in-{device.Name}-{scheme}")
            )
        );
        await Button(page, "Sign in with a passkey").ClickAsync();
        await Expect(page).Not.ToHaveURLAsync(new Regex("/sign-in"));

        await page.GotoAsync("/my-sign-in");
        await Expect(page.GetByTestId("sessions")).ToContainTextAsync("by passkey");
        await Button(page, "Remove Counter PC").ClickAsync();
        await Expect(page.GetByText("✓ The passkey is gone.")).ToBeVisibleAsync();

        await LeaveAsync(page);
        await Button(page, "Sign in with a passkey").ClickAsync();
        await Expect(page.GetByText("not known here")).ToBeVisibleAsync();
        await page.Context.CloseAsync();
    }

    [Fact]
    public async Task Owner_invites_somebody_who_then_works_with_a_password_of_their_own()
    {
        var owner = await shop.OpenAsAsync(StaffedShop.EmailOf(Role.Owner), Device.Desk);
        await owner.OpenLiveAsync("/people");
        await owner.GetByLabel("Name", new() { Exact = true }).FillAsync("Ines Dahl");
        await owner.GetByLabel("E-mail address").FillAsync("ines@shop.example");
        await owner.Locator("form .roles").GetByLabel("Fabricator").CheckAsync();
        await Button(owner, "Add").ClickAsync();
        var link = await owner.GetByTestId("password-link").Locator("code").InnerTextAsync();
        Assert.StartsWith($"{shop.Url}/j/", link, StringComparison.Ordinal);
        Assert.Empty(
            await owner.ProblemsOnEveryScreenAsync(
                "People",
                (device, scheme) => PictureAsync(owner, $"people-{device.Name}-{scheme}")
            )
        );
        await owner.ShowOnAsync(Device.Desk);

        var page = await shop.OpenAsync(Device.Phone);
        await page.GotoAsync(link);
        Assert.Empty(
            await page.ProblemsOnEveryScreenAsync(
                "Join",
                (device, scheme) => PictureAsync(page, $"join-{device.Name}-{scheme}")
            )
        );
        await page.GetByLabel("Password, 10 characters").FillAsync("seven brown boxes");
        await Button(page, "Take this password").ClickAsync();
        await Expect(page.GetByText("✓ Your password is set.")).ToBeVisibleAsync();
        await page.GetByLabel("E-mail address").FillAsync("ines@shop.example");
        await page.GetByLabel("Password").FillAsync("seven brown boxes");
        await Button(page, "Sign in").ClickAsync();
        await Expect(page).Not.ToHaveURLAsync(new Regex("/sign-in"));

        // Their password is the door: an app is put before it.
        await page.GotoAsync("/my-sign-in");
        await page.GetByLabel("Your password", new() { Exact = true }).FillAsync("seven brown boxes");
        await Button(page, "Set up an app").ClickAsync();
        await Expect(page.GetByTestId("secret")).ToBeVisibleAsync();
        Assert.Empty(
            await page.ProblemsOnEveryScreenAsync(
                "App",
                (device, scheme) => PictureAsync(page, $"app-{device.Name}-{scheme}")
            )
        );
        await page.Context.CloseAsync();
        await owner.Context.CloseAsync();
    }

    private static async Task WithAuthenticatorAsync(IPage page)
    {
        var cdp = await page.Context.NewCDPSessionAsync(page);
        await cdp.SendAsync("WebAuthn.enable");
        await cdp.SendAsync(
            "WebAuthn.addVirtualAuthenticator",
            new()
            {
                ["options"] = new
                {
                    protocol = "ctap2",
                    transport = "internal",
                    hasResidentKey = true,
                    hasUserVerification = true,
                    isUserVerified = true,
                    automaticPresenceSimulation = true,
                },
            }
        );
    }

    private static async Task LeaveAsync(IPage page)
    {
        await page.OpenLiveAsync("/");
        await Button(page, "Sign out").ClickAsync();
        await Expect(page).ToHaveURLAsync(new Regex("/sign-in"));
    }

    private static Task PictureAsync(IPage page, string name) =>
        Folder is null
            ? Task.CompletedTask
            : page.ScreenshotAsync(
                new() { Path = Path.Combine(Folder, $"{name}.png".ToLowerInvariant()), FullPage = true }
            );

    private static ILocator Button(IPage page, string name) =>
        page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });
}
