using ShopFloor.Application.Common;
using ShopFloor.Application.Materials;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Materials;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Floor;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Materials;

/// <summary>The forms of the tablet's page of materials and welds, as its outbox sends them: signed in by cookie, guarded by the antiforgery token, each with its key and time.</summary>
public sealed class FloorMaterialsEndpoints : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        var forms = app.MapGroup("/floor/jobs/{id:guid}")
            .AddEndpointFilter<ApiFilter>()
            .AddEndpointFilter(FloorForm.CheckTokenAsync)
            .DisableAntiforgery();
        forms.MapPost("/materials/new", EnterAsync).RequirePermission(Permission.KeepTrace);
        forms.MapPost("/materials/{material:guid}/{act}", ActAsync).RequirePermission(Permission.KeepTrace);
        forms.MapPost("/welds", WeldAsync).RequirePermission(Permission.KeepTrace);
        forms.MapPost("/joints", JointAsync).RequirePermission(Permission.KeepTrace);
        forms.MapPost("/materials/accept", AcceptAsync).RequirePermission(Permission.AcceptNonconformances);
    }

    private static async Task<IResult> EnterAsync(Guid id, HttpRequest request, ApiCall call, KeepMaterials keep)
    {
        if (
            !(await FloorForm.ReadAsync(request, call)).TryGet(out var form, out var failure)
            || !(await CertificateAsync(form, call)).TryGet(out var certificate, out failure)
        )
        {
            return failure.ToProblem();
        }

        return (
            await keep.EnterAsync(new JobId(id), Of(form), certificate, call.Envelope(form.At), call.Cancellation)
        ).ToHttp();
    }

    private static async Task<IResult> ActAsync(
        Guid id,
        Guid material,
        string act,
        HttpRequest request,
        ApiCall call,
        KeepMaterials keep
    )
    {
        if (!(await FloorForm.ReadAsync(request, call)).TryGet(out var form, out var failure))
        {
            return failure.ToProblem();
        }

        var (job, of, envelope, ct) = (
            new JobId(id),
            new JobMaterialId(material),
            call.Envelope(form.At),
            call.Cancellation
        );
        switch (act)
        {
            case "correct":
                return (await keep.CorrectAsync(job, of, Of(form), envelope, ct)).ToHttp();
            case "withdraw":
                return (await keep.WithdrawAsync(job, of, form.Text("reason"), envelope, ct)).ToHttp();
            case "certificate":
                return (await CertificateAsync(form, call)).TryGet(out var file, out failure)
                    ? (await keep.CertifyAsync(job, of, file, envelope, ct)).ToHttp()
                    : failure.ToProblem();
            default:
                return Failure.Missing("tap").ToProblem();
        }
    }

    private static async Task<IResult> WeldAsync(Guid id, HttpRequest request, ApiCall call, KeepWelds keep)
    {
        if (!(await FloorForm.ReadAsync(request, call)).TryGet(out var form, out var failure))
        {
            return failure.ToProblem();
        }

        var weld = new KeepWelds.Request(
            form.Texts("joints"),
            form.Id("welder"),
            form.Id("qualification"),
            form.Text("procedure"),
            form.Number("filler"),
            form.Number("gas"),
            form.Day("on"),
            form.Text("note")
        );
        return (await keep.WeldAsync(new JobId(id), weld, call.Envelope(form.At), call.Cancellation)).ToHttp();
    }

    private static async Task<IResult> JointAsync(Guid id, HttpRequest request, ApiCall call, KeepWelds keep) =>
        (await FloorForm.ReadAsync(request, call)).TryGet(out var form, out var failure)
            ? (
                await keep.AddJointAsync(
                    new JobId(id),
                    form.Text("what"),
                    form.Text("operation"),
                    call.Envelope(form.At),
                    call.Cancellation
                )
            ).ToHttp()
            : failure.ToProblem();

    private static async Task<IResult> AcceptAsync(Guid id, HttpRequest request, ApiCall call, AcceptTraceGaps accept)
    {
        if (!(await FloorForm.ReadAsync(request, call)).TryGet(out var form, out var failure))
        {
            return failure.ToProblem();
        }

        var accepted = new AcceptTraceGaps.Request(form.Texts("gaps"), form.Text("reason"));
        return (await accept.RunAsync(new JobId(id), accepted, call.Envelope(form.At), call.Cancellation)).ToHttp();
    }

    private static KeepMaterials.Request Of(FloorForm form) =>
        new(
            form.Choice<MaterialKind>("kind"),
            form.Text("what"),
            form.Text("size"),
            form.Text("grade"),
            form.Text("mark"),
            form.Choice<MaterialOrigin>("origin"),
            form.Text("from"),
            form.Text("reason")
        );

    private static async Task<Outcome<ReadOnlyMemory<byte>>> CertificateAsync(FloorForm form, ApiCall call)
    {
        if (form.File("certificate") is not { Length: > 0 } file)
        {
            return ReadOnlyMemory<byte>.Empty;
        }

        if (file.Length > KeepMaterials.MostBytes)
        {
            return new Failure.TooLarge(
                $"A certificate has at most {KeepMaterials.MostBytes / 1024 / 1024} MB. Send a smaller one."
            );
        }

        var bytes = new byte[file.Length];
        await using var stream = file.OpenReadStream();
        await stream.ReadExactlyAsync(bytes, call.Cancellation);
        return new ReadOnlyMemory<byte>(bytes);
    }
}
