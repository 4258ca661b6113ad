using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Photos;

/// <summary>Pictures for the shop's own pages, by the signed-in person's rights.</summary>
public sealed class PhotoFiles : IEndpoints
{
    public static string Picture(PhotoId id) => $"photos/{id}/picture";

    public static string Thumbnail(PhotoId id) => $"photos/{id}/thumbnail";

    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/photos/{id:guid}/picture", PictureAsync)
            .RequirePermission(Permission.SeeFloor)
            .ExcludeFromDescription();
        app.MapGet("/photos/{id:guid}/thumbnail", ThumbnailAsync)
            .RequirePermission(Permission.SeeFloor)
            .ExcludeFromDescription();
    }

    private static Task<IResult> PictureAsync(Guid id, HttpContext http, PhotoContent content) =>
        ServeAsync(id, thumbnail: false, Actors.Of(http), content, http.RequestAborted);

    private static Task<IResult> ThumbnailAsync(Guid id, HttpContext http, PhotoContent content) =>
        ServeAsync(id, thumbnail: true, Actors.Of(http), content, http.RequestAborted);

    internal static async Task<IResult> ServeAsync(
        Guid id,
        bool thumbnail,
        Actor actor,
        PhotoContent content,
        CancellationToken ct
    ) => Serve(await content.ReadAsync(new PhotoId(id), thumbnail, actor, ct));

    /// <summary>A picture for the one who may see it.</summary>
    internal static IResult Serve(Outcome<StoredFile> read) =>
        read.TryGet(out var file, out var failure)
            ? new PrivateFile(file.Bytes, file.ContentType)
            : failure.ToProblem();

    /// <summary>A file that a browser may keep for its own user for a while, and shows inside a page only.</summary>
    private sealed class PrivateFile(byte[] bytes, string contentType) : IResult
    {
        public async Task ExecuteAsync(HttpContext httpContext)
        {
            var response = httpContext.Response;
            response.Headers.CacheControl = "private, max-age=3600";
            response.Headers.XContentTypeOptions = "nosniff";
            response.Headers.ContentSecurityPolicy = "default-src 'none'; sandbox";
            response.ContentType = contentType;
            response.ContentLength = bytes.Length;
            await response.Body.WriteAsync(bytes, httpContext.RequestAborted);
        }
    }
}
