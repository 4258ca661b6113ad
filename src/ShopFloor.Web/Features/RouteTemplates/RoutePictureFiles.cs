using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Photos;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.RouteTemplates;

/// <summary>Pictures of instructions, for pages and by the API.</summary>
public sealed class RoutePictureFiles : IEndpoints
{
    public static string Picture(Guid id) => $"route-pictures/{id}/picture";

    public static string Thumbnail(Guid id) => $"route-pictures/{id}/thumbnail";

    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/route-pictures/{id:guid}/picture", PictureAsync)
            .RequirePermission(Permission.SeeFloor)
            .ExcludeFromDescription();
        app.MapGet("/route-pictures/{id:guid}/thumbnail", ThumbnailAsync)
            .RequirePermission(Permission.SeeFloor)
            .ExcludeFromDescription();
    }

    private static async Task<IResult> PictureAsync(Guid id, HttpContext http, RoutePictureContent content) =>
        PhotoFiles.Serve(
            await content.ReadAsync(new RoutePictureId(id), thumbnail: false, Actors.Of(http), http.RequestAborted)
        );

    private static async Task<IResult> ThumbnailAsync(Guid id, HttpContext http, RoutePictureContent content) =>
        PhotoFiles.Serve(
            await content.ReadAsync(new RoutePictureId(id), thumbnail: true, Actors.Of(http), http.RequestAborted)
        );
}

/// <summary>The same by key: upload first, then name the picture's id in a draft.</summary>
public sealed class RoutePicturesEndpoints : IApiEndpoints
{
    private const string Root = "/route-pictures";

    public static void Map(RouteGroupBuilder api)
    {
        api.MapPost(Root, AddAsync)
            .RequirePermission(Permission.DecideOnRoutes)
            .WithSummary("Takes in a picture (multipart, field file) that operations of a draft can show by its id.")
            .Produces<RoutePictureView>(201)
            .DisableAntiforgery();
        api.MapGet(Root + "/{id:guid}/picture", PictureAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The picture, JPEG without metadata.");
        api.MapGet(Root + "/{id:guid}/thumbnail", ThumbnailAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("A small picture, JPEG.");
    }

    private static async Task<IResult> AddAsync(HttpRequest request, ApiCall call, AddRoutePicture add) =>
        (await PhotoUpload.ReadFileAsync(request, call.Cancellation)).TryGet(out var upload, out var failure)
            ? (await add.RunAsync(upload.File, call.Envelope(), call.Cancellation)).ToCreated(p =>
                $"{EndpointScan.ApiPrefix}{Root}/{p.Id}/picture"
            )
            : failure.ToProblem();

    private static async Task<IResult> PictureAsync(Guid id, ApiCall call, RoutePictureContent content) =>
        PhotoFiles.Serve(
            await content.ReadAsync(new RoutePictureId(id), thumbnail: false, call.Actor, call.Cancellation)
        );

    private static async Task<IResult> ThumbnailAsync(Guid id, ApiCall call, RoutePictureContent content) =>
        PhotoFiles.Serve(
            await content.ReadAsync(new RoutePictureId(id), thumbnail: true, call.Actor, call.Cancellation)
        );
}
