using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Application.Removed;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Floor;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Removed;

/// <summary>The forms of the tablet's page of removed parts, as its outbox sends them: signed in by cookie, guarded by the antiforgery token, each with its key and time.</summary>
public sealed class FloorPartsEndpoints : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        var forms = app.MapGroup("/floor/jobs/{id:guid}")
            .AddEndpointFilter<ApiFilter>()
            .AddEndpointFilter(FloorForm.CheckTokenAsync)
            .DisableAntiforgery();
        forms.MapPost("/parts/new", OutAsync).RequirePermission(Permission.KeepParts);
        forms.MapPost("/parts/{part:guid}/{act}", ActAsync).RequirePermission(Permission.KeepParts);
        forms.MapPost("/parts/{part:guid}/leave-out", LeaveAsync).RequirePermission(Permission.RunShop);
        forms.MapPost("/whereabouts", WhereAsync).RequirePermission(Permission.KeepParts);
    }

    private static async Task<IResult> OutAsync(
        Guid id,
        HttpRequest request,
        ApiCall call,
        TakePartOut take,
        AddPhoto addPhoto
    )
    {
        if (!(await FloorForm.ReadAsync(request, call)).TryGet(out var fields, out var failure))
        {
            return failure.ToProblem();
        }

        Guid? photo = null;
        if (fields.File("photo") is { Length: > 0 } file)
        {
            var added = await AddAsync(new JobId(id), file, fields, call, addPhoto);
            if (!added.TryGet(out var stored, out failure))
            {
                return failure.ToProblem();
            }

            photo = stored.Id.Value;
        }

        var part = new TakePartOut.Request(
            fields.Text("what"),
            fields.Text("takenFrom"),
            fields.Number("fasteners"),
            fields.Text("place"),
            photo
        );
        return (await take.RunAsync(new JobId(id), part, call.Envelope(fields.At), call.Cancellation)).ToHttp();
    }

    private static async Task<IResult> ActAsync(
        Guid part,
        string act,
        HttpRequest request,
        ApiCall call,
        RefitPart refit,
        MovePart move,
        TakePartOutAgain again
    )
    {
        if (!(await FloorForm.ReadAsync(request, call)).TryGet(out var fields, out var failure))
        {
            return failure.ToProblem();
        }

        var (of, envelope, ct) = (new PartOutId(part), call.Envelope(fields.At), call.Cancellation);
        return act switch
        {
            "refit" => (
                await refit.RunAsync(of, new(fields.Number("fastenersBack"), fields.Text("note")), envelope, ct)
            ).ToHttp(),
            "move" => (await move.RunAsync(of, new(fields.Text("place")), envelope, ct)).ToHttp(),
            "out-again" => (await again.RunAsync(of, envelope, ct)).ToHttp(),
            _ => Failure.Missing("tap").ToProblem(),
        };
    }

    private static async Task<IResult> LeaveAsync(Guid part, HttpRequest request, ApiCall call, LeavePartOut leave)
    {
        if (!(await FloorForm.ReadAsync(request, call)).TryGet(out var fields, out var failure))
        {
            return failure.ToProblem();
        }

        var left = new LeavePartOut.Request(fields.Text("how") == "handedOver", fields.Text("reason"));
        return (await leave.RunAsync(new PartOutId(part), left, call.Envelope(fields.At), call.Cancellation)).ToHttp();
    }

    private static async Task<IResult> WhereAsync(Guid id, HttpRequest request, ApiCall call, NoteWhereabouts note) =>
        (await FloorForm.ReadAsync(request, call)).TryGet(out var fields, out var failure)
            ? (
                await note.RunAsync(
                    new JobId(id),
                    new(fields.Text("car"), fields.Text("keys")),
                    call.Envelope(fields.At),
                    call.Cancellation
                )
            ).ToHttp()
            : failure.ToProblem();

    private static async Task<Outcome<PhotoView>> AddAsync(
        JobId job,
        IFormFile file,
        FloorForm fields,
        ApiCall call,
        AddPhoto addPhoto
    )
    {
        if (file.Length > ImageLimits.MaxBytes)
        {
            return new Failure.TooLarge(
                $"A photo has at most {ImageLimits.MaxBytes / 1024 / 1024} MB. Take a smaller one."
            );
        }

        var bytes = new byte[file.Length];
        await using var stream = file.OpenReadStream();
        await stream.ReadExactlyAsync(bytes, call.Cancellation);
        var envelope = call.Envelope(fields.At);
        var key = envelope.IdempotencyKey is { } k ? k + "-photo" : null;
        return await addPhoto.RunAsync(
            job,
            new PhotoInput(PhotoKind.Operation, fields.Text("operation"), Caption: fields.Text("what")),
            bytes,
            envelope with
            {
                IdempotencyKey = key,
            },
            call.Cancellation
        );
    }
}
