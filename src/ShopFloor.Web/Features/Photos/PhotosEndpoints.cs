using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Web.Api;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Photos;

public sealed class PhotosEndpoints : IApiEndpoints
{
    /// <summary>A link for a phone; the address is shown this once.</summary>
    public sealed record UploadLinkView(UploadLinkId Id, string Url, DateTimeOffset ExpiresAt);

    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/jobs/{id:guid}/photos", ListAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Photos of a job, oldest first; kind is walkRound, operation, reading or handOver.");
        api.MapPost("/jobs/{id:guid}/photos", AddAsync)
            .RequirePermission(Permission.AddPhotos)
            .Accepts<IFormFile>("multipart/form-data")
            .WithSummary(
                "Adds a photo (multipart: file, kind?, operation?, x?, y?, caption?, occurredAt?); JPEG, PNG or WebP up to 15 MB."
            )
            .Produces<PhotoView>(201);
        api.MapGet("/photos/{id:guid}/picture", PictureAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The picture, JPEG without metadata.");
        api.MapGet("/photos/{id:guid}/thumbnail", ThumbnailAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("A small picture, JPEG.");
        api.MapPut("/photos/{id:guid}", DescribeAsync)
            .RequirePermission(Permission.AddPhotos)
            .WithSummary("Places a photo on the plan of the car and captions it.")
            .Produces<PhotoView>();
        api.MapDelete("/photos/{id:guid}", RemoveAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("Deletes a picture for good; its record and hashes stay.")
            .Produces<PhotoView>();
        api.MapPut("/photos/{id:guid}/shown", ShowAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("Shows a photo on the customer's page (isShown: true), or takes it off there.")
            .Produces<PhotoView>();
        api.MapPost("/jobs/{id:guid}/upload-links", CreateLinkAsync)
            .RequirePermission(Permission.AddPhotos)
            .WithSummary("Makes a link by which a phone adds photos for a few hours.")
            .WithDescription(
                "The answer is not remembered under an Idempotency-Key, since it holds the secret: a repeat makes another link."
            )
            .Produces<UploadLinkView>(201);
        api.MapDelete("/upload-links/{id:guid}", RevokeLinkAsync)
            .RequirePermission(Permission.AddPhotos)
            .WithSummary("Shuts an upload link.")
            .Produces(204);
    }

    private static async Task<IResult> ListAsync(
        Guid id,
        ApiCall call,
        ListPhotos list,
        string? kind,
        string? operation
    )
    {
        PhotoKind? wanted = null;
        if (kind is not null)
        {
            wanted = Enum.GetValues<PhotoKind>()
                .Select(k => (PhotoKind?)k)
                .FirstOrDefault(k =>
                    System.Text.Json.JsonNamingPolicy.CamelCase.ConvertName(k!.Value.ToString()) == kind
                );
            if (wanted is null)
            {
                return Failure.Field("kind", "The kind is walkRound, operation, reading or handOver.").ToProblem();
            }
        }

        return (await list.RunAsync(new JobId(id), wanted, operation, call.Actor, call.Cancellation)).ToHttp(
            items => new { items }
        );
    }

    private static async Task<IResult> AddAsync(Guid id, HttpRequest request, ApiCall call, AddPhoto add)
    {
        if (!(await PhotoUpload.ReadAsync(request, call.Cancellation)).TryGet(out var upload, out var failure))
        {
            return failure.ToProblem();
        }

        var outcome = await add.RunAsync(
            new JobId(id),
            upload.Input,
            upload.File,
            call.Envelope(upload.OccurredAt),
            call.Cancellation
        );
        return outcome.ToCreated(p => $"{EndpointScan.ApiPrefix}/photos/{p.Id}/picture");
    }

    private static Task<IResult> PictureAsync(Guid id, ApiCall call, PhotoContent content) =>
        PhotoFiles.ServeAsync(id, thumbnail: false, call.Actor, content, call.Cancellation);

    private static Task<IResult> ThumbnailAsync(Guid id, ApiCall call, PhotoContent content) =>
        PhotoFiles.ServeAsync(id, thumbnail: true, call.Actor, content, call.Cancellation);

    private static async Task<IResult> DescribeAsync(
        Guid id,
        ApiCall call,
        Body<DescribePhoto.Request> body,
        DescribePhoto describe
    ) => (await describe.RunAsync(new PhotoId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> RemoveAsync(Guid id, ApiCall call, RemovePhoto remove) =>
        (await remove.RunAsync(new PhotoId(id), call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> ShowAsync(Guid id, ApiCall call, Body<ShowPhoto.Request> body, ShowPhoto show) =>
        (await show.RunAsync(new PhotoId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> CreateLinkAsync(
        Guid id,
        ApiCall call,
        Body<CreateUploadLink.Request> body,
        CreateUploadLink create,
        Hosting.Settings settings
    ) =>
        (await create.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToCreated(
            link => $"{EndpointScan.ApiPrefix}/upload-links/{link.Id}",
            link => new UploadLinkView(link.Id, PhoneUpload.AddressOf(settings, link.Token), link.ExpiresAt)
        );

    private static async Task<IResult> RevokeLinkAsync(Guid id, ApiCall call, RevokeUploadLink revoke) =>
        (await revoke.RunAsync(new UploadLinkId(id), call.Envelope(), call.Cancellation)).ToNoContent();
}
