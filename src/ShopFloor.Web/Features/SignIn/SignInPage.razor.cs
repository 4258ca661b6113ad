using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Identity;
using ShopFloor.Data.Identity;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.SignIn;

/// <summary>E-mail and password. Neither the answer nor its time tells which of the two was wrong, or whether the address is known.</summary>
public partial class SignInPage(SignInManager<User> signIn, NavigationManager navigation, ShopHead head)
{
    private string? problem;
    private ShopHeading? shop;

    [SupplyParameterFromForm]
    public SignInModel? Input { get; set; }

    [SupplyParameterFromQuery]
    public string? ReturnUrl { get; set; }

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
        var password = Input!.Password ?? "";
        var user = await signIn.UserManager.FindByEmailAsync(Input.Email?.Trim() ?? "");
        if (user is not { IsActive: true })
        {
            // As much work as a known address makes, so that the time of the answer tells nothing either.
            signIn.UserManager.PasswordHasher.HashPassword(new User(), password);
        }
        else if (
            (await signIn.PasswordSignInAsync(user, password, isPersistent: true, lockoutOnFailure: true)).Succeeded
        )
        {
            navigation.NavigateTo(IsLocal(ReturnUrl) ? ReturnUrl! : "/", forceLoad: true);
            return;
        }

        problem =
            "E-mail address and password do not belong together. Check both and try again; after eight wrong tries wait ten minutes.";
    }

    private static bool IsLocal(string? url) =>
        url is ['/', ..]
        && !url.StartsWith("//", StringComparison.Ordinal)
        && !url.Contains('\\', StringComparison.Ordinal);
}
