using System.Text.Json;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.RouteTemplates;

/// <summary>Route templates: the list, editions, the draft and its check; and a running job's move to another edition.</summary>
public sealed class RouteTemplatesEndpoints : IApiEndpoints
{
    private const string Root = "/route-templates";
    private const string Draft = Root + "/{code}/draft";

    public sealed record DocumentBody(JsonElement? Document);

    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet(Root, ListAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Route templates with their edition in force, their draft, and how many open jobs use them.");
        api.MapGet(Root + "/{code}", OneAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The edition in force, or the one named, with its history and inspection lines.")
            .Produces<RouteTemplateView>();
        api.MapGet(Root + "/{code}/compare", CompareAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("What differs between two editions, a sentence each.");
        api.MapPost(Draft, BeginAsync)
            .RequirePermission(Permission.DecideOnRoutes)
            .WithSummary("Begins a draft from the edition in force, or from fromEdition.")
            .Produces<RouteDraftView>(201);
        api.MapGet(Draft, DraftAsync)
            .RequirePermission(Permission.DecideOnRoutes)
            .WithSummary("The draft with what stands in the way of putting it in force and what it would change.")
            .Produces<RouteDraftView>();
        api.MapPut(Draft, PutAsync)
            .RequirePermission(Permission.DecideOnRoutes)
            .WithSummary("Replaces the draft with a document, finished or not.")
            .Produces<RouteDraftView>();
        api.MapPost(Draft + "/preview", PreviewAsync)
            .RequirePermission(Permission.DecideOnRoutes)
            .WithSummary("Says what a document would change in the draft; changes nothing.")
            .Produces<RouteImportPreview>();
        api.MapDelete(Draft, DiscardAsync)
            .RequirePermission(Permission.DecideOnRoutes)
            .WithSummary("Throws the draft away.");
        api.MapPost(Draft + "/put-in-force", AdoptAsync)
            .RequirePermission(Permission.DecideOnRoutes)
            .WithSummary("Puts the draft in force for new jobs; running jobs keep their edition.");
        api.MapGet("/jobs/{id:guid}/route-move", PreviewMoveAsync)
            .RequirePermission(Permission.DecideOnRoutes)
            .WithSummary(
                "What going over to another edition would do to the job; without edition, to the one in force."
            )
            .Produces<RouteMove>();
        api.MapPost("/jobs/{id:guid}/route-move", MoveAsync)
            .RequirePermission(Permission.DecideOnRoutes)
            .WithSummary("Moves the running job to another edition of its route; done work is kept.")
            .Produces<JobView>();
    }

    private static async Task<IResult> ListAsync(ApiCall call, ReadRouteTemplates read) =>
        (await read.ListAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> OneAsync(string code, int? edition, ApiCall call, ReadRouteTemplates read) =>
        Json(await read.OneAsync(code, edition, call.Actor, call.Cancellation));

    private static async Task<IResult> CompareAsync(
        string code,
        int from,
        int to,
        ApiCall call,
        ReadRouteTemplates read
    ) => (await read.CompareAsync(code, from, to, call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> BeginAsync(
        string code,
        ApiCall call,
        Body<ChangeRouteTemplates.BeginRequest> body,
        ChangeRouteTemplates change
    ) => Json(await change.BeginAsync(code, body.Value, call.Envelope(), call.Cancellation), 201);

    private static async Task<IResult> DraftAsync(string code, ApiCall call, ReadRouteTemplates read) =>
        Json(await read.DraftAsync(code, call.Actor, call.Cancellation));

    private static async Task<IResult> PutAsync(
        string code,
        ApiCall call,
        Body<DocumentBody> body,
        ChangeRouteTemplates change
    ) =>
        Text(body.Value).TryGet(out var text, out var failure)
            ? Json(await change.ImportAsync(code, text, call.Envelope(), call.Cancellation))
            : failure.ToProblem();

    private static async Task<IResult> PreviewAsync(
        string code,
        ApiCall call,
        Body<DocumentBody> body,
        ReadRouteTemplates read
    ) =>
        Text(body.Value).TryGet(out var text, out var failure)
            ? Json(await read.PreviewAsync(code, text, call.Actor, call.Cancellation))
            : failure.ToProblem();

    private static async Task<IResult> DiscardAsync(string code, ApiCall call, ChangeRouteTemplates change) =>
        (await change.DiscardAsync(code, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> AdoptAsync(string code, ApiCall call, ChangeRouteTemplates change) =>
        Json(await change.PutInForceAsync(code, call.Envelope(), call.Cancellation));

    private static async Task<IResult> PreviewMoveAsync(
        Guid id,
        int? edition,
        ApiCall call,
        PreviewRouteMove preview
    ) => (await preview.RunAsync(new JobId(id), edition, call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> MoveAsync(
        Guid id,
        ApiCall call,
        Body<MoveJobRoute.Request> body,
        MoveJobRoute move
    ) => (await move.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static Outcome<string> Text(DocumentBody body) =>
        body.Document is { ValueKind: JsonValueKind.Object } document
            ? document.GetRawText()
            : Failure.Field("document", "The document is the route template as JSON.");

    /// <summary>Written as the template's own documents are, so that what is read can be sent back.</summary>
    private static IResult Json<T>(Outcome<T> outcome, int status = 200) =>
        outcome.TryGet(out var value, out var failure)
            ? Results.Json(value, RouteTemplateJson.Options, statusCode: status)
            : failure.ToProblem();
}
