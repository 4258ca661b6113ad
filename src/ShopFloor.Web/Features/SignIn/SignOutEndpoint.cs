using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using ShopFloor.Data.Identity;
using ShopFloor.Web.Api;

namespace ShopFloor.Web.Features.SignIn;

public sealed class SignOutEndpoint : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) => app.MapPost("/sign-out", SignOutAsync).RequireAuthorization();

    // The form parameter makes the framework check the antiforgery token.
    private static async Task<IResult> SignOutAsync(SignInManager<User> signIn, [FromForm] string? stay)
    {
        await signIn.SignOutAsync();
        return Results.LocalRedirect("/sign-in");
    }
}
