using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.DropOffs;

public sealed class DropOffEndpoints : IApiEndpoints
{
    /// <summary>The words that the customer signs, with the hash by which a signature names them.</summary>
    public sealed record NoticeView(
        string Hash,
        string Authorisation,
        IReadOnlyList<Caution> Cautions,
        IReadOnlyList<Caution> RoadUse,
        string WhoDecides
    );

    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/authorisation-notice", Notice)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The cautions and the notice on road use that a customer reads before signing.")
            .Produces<NoticeView>();
        api.MapGet("/jobs/{id:guid}/drop-off", OneAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The car, the condition questions with what was assumed, and the intake record so far.")
            .Produces<DropOffSheet>();
        api.MapPut("/jobs/{id:guid}/drop-off", RecordAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("Records the car as it came in, whole or in part, until the customer has signed.")
            .Produces<DropOffView>();
        api.MapPost("/jobs/{id:guid}/condition-difference", CompareAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("What a condition as found would change in price and hours; nothing is stored.")
            .Produces<DifferenceView>();
        api.MapPost("/jobs/{id:guid}/authorisation", AuthoriseAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("The customer authorises cutting and welding, on the screen or on the printed sheet.")
            .Produces<DropOffView>();
        api.MapGet("/jobs/{id:guid}/authorisation-sheet", SheetAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("The authorisation as PDF, to be signed by pen or as it was signed on the screen.");
        api.MapDelete("/jobs/{id:guid}/authorisation", WithdrawAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("Takes the authorisation back.")
            .Produces<DropOffView>();
    }

    private static IResult Notice()
    {
        var notice = AuthorisationNotice.Current;
        return Results.Ok(
            new NoticeView(notice.Hash, notice.Authorisation, notice.Cautions, notice.RoadUse, notice.WhoDecides)
        );
    }

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, GetDropOff get) =>
        (await get.RunAsync(new JobId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> RecordAsync(
        Guid id,
        ApiCall call,
        Body<DropOffInput> body,
        RecordDropOff record
    ) => (await record.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> CompareAsync(
        Guid id,
        ApiCall call,
        Body<CompareCondition.Request> body,
        CompareCondition compare
    ) => (await compare.RunAsync(new JobId(id), body.Value, call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> AuthoriseAsync(
        Guid id,
        ApiCall call,
        Body<AuthoriseWork.Request> body,
        AuthoriseWork authorise
    ) => (await authorise.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> WithdrawAsync(Guid id, ApiCall call, WithdrawAuthorisation withdraw) =>
        (await withdraw.RunAsync(new JobId(id), call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> SheetAsync(Guid id, ApiCall call, PrintAuthorisation print) =>
        (await print.RunAsync(new JobId(id), call.Actor, call.Cancellation)).Match(
            pdf => Results.File(pdf, "application/pdf"),
            f => f.ToProblem()
        );
}
