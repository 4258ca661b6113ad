using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Identity;
using ShopFloor.Data.Identity;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.SignIn;

/// <summary>E-mail and password. The answer never tells which of the two was wrong.</summary>
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
        var user = await signIn.UserManager.FindByEmailAsync(Input!.Email?.Trim() ?? "");
        var result = user is { IsActive: true }
            ? await signIn.PasswordSignInAsync(user, Input.Password ?? "", isPersistent: true, lockoutOnFailure: true)
            : SignInResult.Failed;
        if (result.Succeeded)
        {
            navigation.NavigateTo(IsLocal(ReturnUrl) ? ReturnUrl! : "/", forceLoad: true);
            return;
        }

        problem = result.IsLockedOut
            ? "Too many wrong tries. Wait ten minutes and try again."
            : "E-mail address and password do not belong together. Check both and try again.";
    }

    private static bool IsLocal(string? url) =>
        url is ['/', ..]
        && !url.StartsWith("//", StringComparison.Ordinal)
        && !url.Contains('\\', StringComparison.Ordinal);
}
