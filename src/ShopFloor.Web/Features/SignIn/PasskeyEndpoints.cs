using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Identity;
using ShopFloor.Application.Common;
using ShopFloor.Data.Identity;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.SignIn;

/// <summary>What a browser needs to make or show a passkey (Web Authentication, W3C). The answer goes into a form of the page that asked.</summary>
public sealed class PasskeyEndpoints : IEndpoints
{
    /// <summary>Longest answer of a browser that is read, in characters.</summary>
    public const int LongestAnswer = 16_384;

    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapPost("/sign-in/passkey-options", ToShowAsync).AllowAnonymous();
        app.MapPost("/my-sign-in/passkey-options", ToMakeAsync).RequirePermission(Permission.KeepOwnSignIn);
    }

    private static async Task<IResult> ToShowAsync(
        HttpContext http,
        SignInManager<User> signIn,
        IAntiforgery antiforgery
    ) =>
        await antiforgery.IsRequestValidAsync(http)
            ? Results.Content(await signIn.MakePasskeyRequestOptionsAsync(null), "application/json")
            : Results.BadRequest();

    private static async Task<IResult> ToMakeAsync(
        HttpContext http,
        SignInManager<User> signIn,
        IAntiforgery antiforgery
    )
    {
        if (
            !await antiforgery.IsRequestValidAsync(http)
            || await signIn.UserManager.GetUserAsync(http.User) is not { } user
        )
        {
            return Results.BadRequest();
        }

        // Wrong tries count as at signing in: an open page is no place to guess a password.
        var form = await http.Request.ReadFormAsync(http.RequestAborted);
        var checkedPassword = await signIn.CheckPasswordSignInAsync(
            user,
            form["PasskeyPassword"].ToString(),
            lockoutOnFailure: true
        );
        if (!checkedPassword.Succeeded)
        {
            return Results.StatusCode(StatusCodes.Status403Forbidden);
        }

        var options = await signIn.MakePasskeyCreationOptionsAsync(
            new PasskeyUserEntity
            {
                Id = user.Id.ToString(),
                Name = user.Email!,
                DisplayName = user.DisplayName,
            }
        );
        return Results.Content(options, "application/json");
    }
}
