using ShopFloor.Application.Common;
using ShopFloor.Application.Setup;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Settings;

public sealed class LogoEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/shop/logo", ReadAsync)
            .RequirePermission(Permission.SeeOffice)
            .WithSummary("The shop's logo, JPEG.");
        api.MapPost("/shop/logo", SetAsync)
            .RequirePermission(Permission.RunShop)
            .Accepts<IFormFile>("multipart/form-data")
            .WithSummary("Puts a logo on the papers (multipart: file): PNG or JPEG up to 2 MB.")
            .Produces<LogoView>();
        api.MapDelete("/shop/logo", RemoveAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Takes the logo off the papers.")
            .Produces<LogoView>();
    }

    private static Task<IResult> ReadAsync(ApiCall call, ShopLogo logo) =>
        LogoFile.ServeAsync(call.Actor, logo, call.Cancellation);

    private static async Task<IResult> SetAsync(HttpRequest request, ApiCall call, ShopLogo logo)
    {
        var read = await UploadedFile.ReadAsync(request, ShopLogo.MostBytes, "A logo", call.Cancellation);
        return read.TryGet(out var file, out var failure)
            ? (await logo.SetAsync(file, call.Envelope(), call.Cancellation)).ToHttp()
            : failure.ToProblem();
    }

    private static async Task<IResult> RemoveAsync(ApiCall call, ShopLogo logo) =>
        (await logo.RemoveAsync(call.Envelope(), call.Cancellation)).ToHttp();
}

/// <summary>The logo for people who are signed in.</summary>
public sealed class LogoFile : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/shop/logo", ReadAsync).RequirePermission(Permission.SeeOffice).ExcludeFromDescription();

    private static Task<IResult> ReadAsync(HttpContext http, ShopLogo logo) =>
        ServeAsync(Actors.Of(http), logo, http.RequestAborted);

    internal static async Task<IResult> ServeAsync(Actor actor, ShopLogo logo, CancellationToken ct) =>
        (await logo.ReadAsync(actor, ct)).Match<IResult>(
            f => new PrivateFile(f.Bytes, f.ContentType),
            f => f.ToProblem()
        );
}
