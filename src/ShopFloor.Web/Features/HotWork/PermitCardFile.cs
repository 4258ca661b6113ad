using ShopFloor.Application.Common;
using ShopFloor.Application.HotWork;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Account;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.HotWork;

/// <summary>The card that hangs at the place of a permit, for people who are signed in.</summary>
public sealed class PermitCardFile : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/hot-work/{id:guid}/card/pdf", CardAsync).RequirePermission(Permission.SeeFloor);

    internal static Task<IResult> CardAsync(
        Guid id,
        string? size,
        HttpContext http,
        PrintPermit print,
        Hosting.Settings settings,
        CancellationToken ct
    ) =>
        PaperEndpoints.FileAsync(
            size,
            s => print.RunAsync(new HotWorkPermitId(id), $"{settings.PublicUrl}/floor/hot-work", s, Actors.Of(http), ct)
        );
}
