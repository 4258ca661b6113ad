using System.Text.Json;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection.Plans;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.InspectionPlans;

/// <summary>Inspection plans: the list, versions, what a change would do, saving it; and a running job's move to another version.</summary>
public sealed class InspectionPlansEndpoints : IApiEndpoints
{
    private const string Root = "/inspection-plans";

    public sealed record CheckBody(JsonElement? Document = null);

    public sealed record SaveBody(int? FromVersion, string? Note, JsonElement? Document);

    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet(Root, ListAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Inspection plans in their newest version, and how many open jobs are inspected by them.");
        api.MapGet(Root + "/{code}", OneAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The newest version, or the one named, with the history of versions.")
            .Produces<InspectionPlanView>();
        api.MapGet(Root + "/{code}/compare", CompareAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("What differs between two versions, a sentence each.");
        api.MapPost(Root + "/{code}/check", CheckAsync)
            .RequirePermission(Permission.DecideOnPlans)
            .WithSummary("What stands in the way of saving a document and what it would change; changes nothing.")
            .Produces<InspectionPlanCheck>();
        api.MapPost(Root + "/{code}/versions", SaveAsync)
            .RequirePermission(Permission.DecideOnPlans)
            .WithSummary("Saves a document as the next version for new jobs; running jobs keep theirs.")
            .Produces<InspectionPlanDocument>(201);
        api.MapGet("/jobs/{id:guid}/plan-move", PreviewMoveAsync)
            .RequirePermission(Permission.DecideOnPlans)
            .WithSummary("What going over to another version would do to the job; without version, to the newest.")
            .Produces<PlanMove>();
        api.MapPost("/jobs/{id:guid}/plan-move", MoveAsync)
            .RequirePermission(Permission.DecideOnPlans)
            .WithSummary("Moves the running job to another version of its inspection plan; readings are kept.")
            .Produces<JobView>();
        api.MapPost("/jobs/{id:guid}/ordered-tubes", OrderedAsync)
            .RequirePermission(Permission.RunJobs)
            .WithSummary(
                "Enters the size of a tube that the accepted quote does not give; lines that waited for it get their limits."
            )
            .Produces<JobView>();
    }

    private static async Task<IResult> ListAsync(ApiCall call, ReadInspectionPlans read) =>
        (await read.ListAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> OneAsync(string code, int? version, ApiCall call, ReadInspectionPlans read) =>
        (await read.OneAsync(code, version, call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> CompareAsync(
        string code,
        int from,
        int to,
        ApiCall call,
        ReadInspectionPlans read
    ) => (await read.CompareAsync(code, from, to, call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> CheckAsync(
        string code,
        ApiCall call,
        Body<CheckBody> body,
        ReadInspectionPlans read
    ) =>
        Read(body.Value.Document).TryGet(out var given, out var failure)
            ? (await read.CheckAsync(code, given.Document, call.Actor, call.Cancellation)).ToHttp()
            : failure.ToProblem();

    private static async Task<IResult> SaveAsync(
        string code,
        ApiCall call,
        Body<SaveBody> body,
        SaveInspectionPlan save
    ) =>
        Read(body.Value.Document).TryGet(out var given, out var failure)
            ? (
                await save.RunAsync(
                    code,
                    new SaveInspectionPlan.Request(body.Value.FromVersion, body.Value.Note, given.Document),
                    call.Envelope(),
                    call.Cancellation
                )
            ).ToCreated(d => FormattableString.Invariant($"/api/v1{Root}/{d.Code}?version={d.Version}"))
            : failure.ToProblem();

    private static async Task<IResult> PreviewMoveAsync(Guid id, int? version, ApiCall call, PreviewPlanMove preview) =>
        (await preview.RunAsync(new JobId(id), version, call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> MoveAsync(
        Guid id,
        ApiCall call,
        Body<MoveJobPlan.Request> body,
        MoveJobPlan move
    ) => (await move.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> OrderedAsync(
        Guid id,
        ApiCall call,
        Body<RecordOrderedTube.Request> body,
        RecordOrderedTube record
    ) => (await record.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private sealed record Given(InspectionPlanDocument? Document);

    private static Outcome<Given> Read(JsonElement? document) =>
        document is not { ValueKind: not JsonValueKind.Null } element
            ? new Given(null)
            : InspectionPlanJson.Parse(element.GetRawText()).Then<Given>(d => new Given(d));
}
