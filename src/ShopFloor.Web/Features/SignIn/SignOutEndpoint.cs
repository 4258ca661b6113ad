using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using ShopFloor.Application.SignIns;
using ShopFloor.Data.Identity;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.SignIn;

public sealed class SignOutEndpoint : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) => app.MapPost("/sign-out", SignOutAsync).RequireAuthorization();

    // The form parameter makes the framework check the antiforgery token.
    private static async Task<IResult> SignOutAsync(
        HttpContext http,
        SignInManager<User> signIn,
        EndSessions end,
        [FromForm] string? stay
    )
    {
        // Also for whoever kept a copy of the cookie.
        if (Sessions.Of(http.User) is { } session && Actors.Of(http).Person is { } person)
        {
            await end.SignOutAsync(session, person, http.RequestAborted);
        }

        await signIn.SignOutAsync();
        return Results.LocalRedirect("/sign-in");
    }
}
