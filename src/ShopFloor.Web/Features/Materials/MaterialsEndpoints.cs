using ShopFloor.Application.Common;
using ShopFloor.Application.Materials;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Materials;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Materials;

/// <summary>What went into a job, and who welded what.</summary>
public sealed class MaterialsEndpoints : IApiEndpoints
{
    public sealed record MaterialBody(
        MaterialKind? Kind = null,
        string? What = null,
        string? Size = null,
        string? Grade = null,
        string? Mark = null,
        MaterialOrigin? Origin = null,
        string? From = null,
        DateTimeOffset? OccurredAt = null
    );

    public sealed record CorrectionBody(
        string? What = null,
        string? Size = null,
        string? Grade = null,
        string? Mark = null,
        MaterialOrigin? Origin = null,
        string? From = null,
        string? Reason = null,
        DateTimeOffset? OccurredAt = null
    );

    public sealed record ReasonBody(string? Reason = null);

    /// <param name="Joints">Codes of the joints that were welded alike.</param>
    /// <param name="WelderId">Absent: whoever the key acts as.</param>
    /// <param name="Filler">Number of the job's filler.</param>
    /// <param name="Gas">Number of the job's shielding gas.</param>
    public sealed record WeldBody(
        IReadOnlyList<string>? Joints = null,
        Guid? WelderId = null,
        Guid? QualificationId = null,
        string? Procedure = null,
        int? Filler = null,
        int? Gas = null,
        DateOnly? On = null,
        string? Note = null,
        DateTimeOffset? OccurredAt = null
    );

    public sealed record JointBody(string? What = null, string? Operation = null);

    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/jobs/{id:guid}/materials", OneAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Material with heat or lot and certificate, welded joints with welder, and what is missing.")
            .Produces<TraceView>();
        api.MapPost("/jobs/{id:guid}/materials", EnterAsync)
            .RequirePermission(Permission.KeepTrace)
            .WithSummary("Writes down a tube, plate, hinge set, bolt set, filler or gas that went into the job.")
            .Produces<TraceView>(201);
        api.MapPost("/jobs/{id:guid}/materials/{material:guid}/correct", CorrectAsync)
            .RequirePermission(Permission.KeepTrace)
            .WithSummary("Corrects a piece of material with a reason; the first entry stays.")
            .Produces<TraceView>();
        api.MapPost("/jobs/{id:guid}/materials/{material:guid}/withdraw", WithdrawAsync)
            .RequirePermission(Permission.KeepTrace)
            .WithSummary("The piece did not go into the job after all; it stays on record with the reason.")
            .Produces<TraceView>();
        api.MapPost("/jobs/{id:guid}/materials/{material:guid}/certificate", CertifyAsync)
            .RequirePermission(Permission.KeepTrace)
            .Accepts<IFormFile>("multipart/form-data")
            .WithSummary("Puts the certificate beside a piece (multipart: file): PDF, JPEG, PNG or WebP up to 10 MB.")
            .Produces<TraceView>();
        api.MapGet("/materials/{material:guid}/certificate", CertificateAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The certificate of a piece; entry gives an earlier one.");
        api.MapPost("/jobs/{id:guid}/materials/accept-missing", AcceptAsync)
            .RequirePermission(Permission.AcceptNonconformances)
            .WithSummary("The owner accepts what is not written down, with a reason; without gaps all that is open.")
            .Produces<TraceView>();
        api.MapPost("/jobs/{id:guid}/welds", WeldAsync)
            .RequirePermission(Permission.KeepTrace)
            .WithSummary("Writes down who welded some joints, with qualification and procedure.")
            .Produces<TraceView>();
        api.MapPost("/jobs/{id:guid}/joints", JointAsync)
            .RequirePermission(Permission.KeepTrace)
            .WithSummary("Adds a joint that is on no list.")
            .Produces<TraceView>(201);
    }

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, ReadTrace read) =>
        (await read.RunAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> EnterAsync(Guid id, ApiCall call, Body<MaterialBody> body, KeepMaterials keep)
    {
        var b = body.Value;
        var request = new KeepMaterials.Request(b.Kind, b.What, b.Size, b.Grade, b.Mark, b.Origin, b.From);
        return (
            await keep.EnterAsync(new JobId(id), request, default, call.Envelope(b.OccurredAt), call.Cancellation)
        ).ToCreated(_ => $"{EndpointScan.ApiPrefix}/jobs/{id}/materials");
    }

    private static async Task<IResult> CorrectAsync(
        Guid id,
        Guid material,
        ApiCall call,
        Body<CorrectionBody> body,
        KeepMaterials keep
    )
    {
        var b = body.Value;
        var request = new KeepMaterials.Request(null, b.What, b.Size, b.Grade, b.Mark, b.Origin, b.From, b.Reason);
        return (
            await keep.CorrectAsync(
                new JobId(id),
                new JobMaterialId(material),
                request,
                call.Envelope(b.OccurredAt),
                call.Cancellation
            )
        ).ToHttp();
    }

    private static async Task<IResult> WithdrawAsync(
        Guid id,
        Guid material,
        ApiCall call,
        Body<ReasonBody> body,
        KeepMaterials keep
    ) =>
        (
            await keep.WithdrawAsync(
                new JobId(id),
                new JobMaterialId(material),
                body.Value.Reason,
                call.Envelope(),
                call.Cancellation
            )
        ).ToHttp();

    private static async Task<IResult> CertifyAsync(
        Guid id,
        Guid material,
        HttpRequest request,
        ApiCall call,
        KeepMaterials keep
    )
    {
        var read = await UploadedFile.ReadAsync(request, KeepMaterials.MostBytes, "A certificate", call.Cancellation);
        return read.TryGet(out var file, out var failure)
            ? (
                await keep.CertifyAsync(
                    new JobId(id),
                    new JobMaterialId(material),
                    file,
                    call.Envelope(),
                    call.Cancellation
                )
            ).ToHttp()
            : failure.ToProblem();
    }

    private static Task<IResult> CertificateAsync(Guid material, int? entry, ApiCall call, ReadCertificate read) =>
        CertificateFiles.ServeAsync(material, entry, call.Actor, read, call.Cancellation);

    private static async Task<IResult> AcceptAsync(
        Guid id,
        ApiCall call,
        Body<AcceptTraceGaps.Request> body,
        AcceptTraceGaps accept
    ) => (await accept.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> WeldAsync(Guid id, ApiCall call, Body<WeldBody> body, KeepWelds keep)
    {
        var b = body.Value;
        var request = new KeepWelds.Request(
            b.Joints,
            b.WelderId,
            b.QualificationId,
            b.Procedure,
            b.Filler,
            b.Gas,
            b.On,
            b.Note
        );
        return (await keep.WeldAsync(new JobId(id), request, call.Envelope(b.OccurredAt), call.Cancellation)).ToHttp();
    }

    private static async Task<IResult> JointAsync(Guid id, ApiCall call, Body<JointBody> body, KeepWelds keep) =>
        (
            await keep.AddJointAsync(
                new JobId(id),
                body.Value.What,
                body.Value.Operation,
                call.Envelope(),
                call.Cancellation
            )
        ).ToCreated(_ => $"{EndpointScan.ApiPrefix}/jobs/{id}/materials");
}

/// <summary>Certificates for people who are signed in.</summary>
public sealed class CertificateFiles : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/materials/{material:guid}/certificate", FileAsync)
            .RequirePermission(Permission.SeeFloor)
            .ExcludeFromDescription();

    private static Task<IResult> FileAsync(Guid material, int? entry, HttpContext http, ReadCertificate read) =>
        ServeAsync(material, entry, Actors.Of(http), read, http.RequestAborted);

    internal static async Task<IResult> ServeAsync(
        Guid material,
        int? entry,
        Actor actor,
        ReadCertificate read,
        CancellationToken ct
    )
    {
        var found = await read.RunAsync(new JobMaterialId(material), entry, actor, ct);
        return found.TryGet(out var file, out var failure)
            ? new PrivateFile(
                file.Bytes,
                file.ContentType,
                file.ContentType == PdfSniffer.ContentType ? "certificate.pdf" : "certificate.jpg"
            )
            : failure.ToProblem();
    }
}
