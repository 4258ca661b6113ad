using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Identity;
using ShopFloor.Application.SignIns;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.SignIns;
using ShopFloor.Web.Layout;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.SignIn;

/// <summary>E-mail and password, or a passkey. Neither the answer nor its time tells which of the two was wrong, or whether the address is known.</summary>
public partial class SignInPage(
    SignInManager<User> signIn,
    SignInLimits limits,
    NavigationManager navigation,
    ShopHead head,
    Hosting.Settings settings
)
{
    private const string TooMany = "Too many wrong tries from here. Wait a quarter of an hour.";
    private string? problem;
    private ShopHeading? shop;

    [CascadingParameter]
    public HttpContext Http { get; set; } = default!;

    [SupplyParameterFromForm(FormName = "sign-in")]
    public SignInModel? Input { get; set; }

    /// <summary>What the browser's passkey answered, as JSON.</summary>
    [SupplyParameterFromForm(FormName = "passkey")]
    public string? Passkey { get; set; }

    [SupplyParameterFromQuery]
    public string? ReturnUrl { get; set; }

    /// <summary><c>password-set</c> after a link was used.</summary>
    [SupplyParameterFromQuery(Name = "said")]
    public string? Said { get; set; }

    public sealed class SignInModel
    {
        public string? Email { get; set; }
        public string? Password { get; set; }
    }

    protected override async Task OnInitializedAsync()
    {
        Input ??= new SignInModel();
        shop = await head.ReadAsync();
    }

    private async Task SignInAsync()
    {
        if (await IsPausedAsync())
        {
            return;
        }

        var password = Input!.Password ?? "";
        var user = await signIn.UserManager.FindByEmailAsync(Input.Email?.Trim() ?? "");
        if (user is not { IsActive: true, PasswordHash: not null })
        {
            // As much work as a known address makes, so that the time of the answer tells nothing either.
            signIn.UserManager.PasswordHasher.HashPassword(new User(), password);
        }
        else
        {
            var result = await signIn.PasswordSignInAsync(user, password, isPersistent: true, lockoutOnFailure: true);
            if (result.Succeeded)
            {
                navigation.NavigateTo(ReturnPath.Of(ReturnUrl), forceLoad: true);
                return;
            }

            if (result.RequiresTwoFactor)
            {
                navigation.NavigateTo(
                    $"/sign-in/code?ReturnUrl={Uri.EscapeDataString(ReturnPath.Of(ReturnUrl))}",
                    forceLoad: true
                );
                return;
            }

            if (result.IsLockedOut)
            {
                // A locked account is refused before its password is looked at: as much work all the same.
                signIn.UserManager.PasswordHasher.HashPassword(new User(), password);
            }
        }

        await limits.FailAsync(
            user is null ? null : new PersonId(user.Id),
            Http.Connection.RemoteIpAddress,
            Http.RequestAborted
        );
        problem =
            "E-mail address and password do not belong together. Check both and try again; after eight wrong tries wait ten minutes.";
    }

    private async Task SignInByPasskeyAsync()
    {
        if (await IsPausedAsync())
        {
            return;
        }

        if (Passkey is { Length: > 0 and <= PasskeyEndpoints.LongestAnswer } answer)
        {
            var shown = await signIn.PerformPasskeyAssertionAsync(answer);
            if (
                shown.Succeeded
                && shown.User.IsActive
                && (await signIn.UserManager.AddOrUpdatePasskeyAsync(shown.User, shown.Passkey)).Succeeded
            )
            {
                ((ShopSignInManager)signIn).Way = SignInWay.Passkey;
                await signIn.SignInAsync(shown.User, isPersistent: true);
                navigation.NavigateTo(ReturnPath.Of(ReturnUrl), forceLoad: true);
                return;
            }
        }

        await limits.FailAsync(null, Http.Connection.RemoteIpAddress, Http.RequestAborted);
        problem = "This passkey is not known here, or it took too long. Try again, or sign in by password.";
    }

    /// <summary>Where the shop is reached by https, a browser that came otherwise keeps no sign-in.</summary>
    private bool IsWrongWay => settings.IsSecure && !Http.Request.IsHttps;

    private async Task<bool> IsPausedAsync()
    {
        if (!await limits.IsPausedAsync(Http.Connection.RemoteIpAddress, Http.RequestAborted))
        {
            return false;
        }

        problem = TooMany;
        return true;
    }
}

/// <summary>Where a person goes on after signing in: a page of this program, never another site.</summary>
internal static class ReturnPath
{
    public static string Of(string? url) =>
        url is ['/', ..]
        && !url.StartsWith("//", StringComparison.Ordinal)
        && !url.Contains('\\', StringComparison.Ordinal)
        && !url.Any(char.IsControl)
            ? url
            : "/";
}
