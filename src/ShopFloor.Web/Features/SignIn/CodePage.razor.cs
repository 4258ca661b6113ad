using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Identity;
using ShopFloor.Application.SignIns;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.SignIn;

/// <summary>The second step: what the app shows. A wrong code counts for the account as a wrong password does.</summary>
public partial class CodePage(
    SignInManager<User> signIn,
    CheckSecondFactor check,
    SignInLimits limits,
    NavigationManager navigation
)
{
    private User? user;
    private bool isOver;
    private string? problem;

    [CascadingParameter]
    public HttpContext Http { get; set; } = default!;

    [SupplyParameterFromForm(FormName = "code")]
    public string? Code { get; set; }

    [SupplyParameterFromQuery]
    public string? ReturnUrl { get; set; }

    protected override async Task OnInitializedAsync()
    {
        user = await signIn.GetTwoFactorAuthenticationUserAsync();
        isOver = user is not { IsActive: true };
    }

    private async Task CheckAsync()
    {
        if (user is not { IsActive: true })
        {
            return;
        }

        var from = Http.Connection.RemoteIpAddress;
        if (await limits.IsPausedAsync(from, Http.RequestAborted) || await signIn.UserManager.IsLockedOutAsync(user))
        {
            problem = "Too many wrong tries. Wait a quarter of an hour.";
            return;
        }

        // Counted before it is looked at: of many tries at once only one is.
        var person = new PersonId(user.Id);
        if (!(await signIn.UserManager.AccessFailedAsync(user)).Succeeded)
        {
            problem = "Two codes were sent at the same time. Try again.";
            return;
        }

        if (await check.RunAsync(person, Code, Http.RequestAborted) is { } way)
        {
            await signIn.UserManager.ResetAccessFailedCountAsync(user);
            await signIn.UserManager.SetLockoutEndDateAsync(user, null);
            await Http.SignOutAsync(IdentityConstants.TwoFactorUserIdScheme);
            ((ShopSignInManager)signIn).Way = way;
            await signIn.SignInAsync(user, isPersistent: true);
            navigation.NavigateTo(ReturnPath.Of(ReturnUrl), forceLoad: true);
            return;
        }

        await limits.FailAsync(person, from, Http.RequestAborted);
        problem = "This code is not right, or it was used before. Wait for the next one.";
    }
}
