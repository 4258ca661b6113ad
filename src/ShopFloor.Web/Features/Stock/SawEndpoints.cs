using ShopFloor.Application.Common;
using ShopFloor.Application.Stock;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Account;
using ShopFloor.Web.Features.Calculators;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Stock;

/// <summary>Cut lists of jobs, saw cards, and the store's papers.</summary>
public sealed class SawEndpoints : IApiEndpoints
{
    public sealed record CutListBody(
        [property: AtMost(CutList.MostLines)] IReadOnlyList<CutList.LineDetails>? Lines = null
    );

    public sealed record DiscardBody(string? Reason = null);

    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet(
                "/jobs/{id:guid}/cut-list",
                async (Guid id, ApiCall call, CutLists lists) =>
                    (await lists.ReadAsync(JobId.From(id), call.Actor, call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.SeeStock)
            .WithSummary("The tube pieces a job needs, what is set aside and what it took of the store.")
            .Produces<CutListView>();
        api.MapPut(
                "/jobs/{id:guid}/cut-list",
                async (Guid id, ApiCall call, Body<CutListBody> body, CutLists lists) =>
                    (
                        await lists.WriteAsync(JobId.From(id), body.Value.Lines, call.Envelope(), call.Cancellation)
                    ).ToHttp()
            )
            .RequirePermission(Permission.KeepStock)
            .WithSummary("Writes a job's cut list anew; lines that are sawn or on a saw card stay.")
            .Produces<CutListView>();
        api.MapGet(
                "/stock/to-saw",
                async (ApiCall call, SawPlans plans) => (await plans.ToSawAsync(call.Actor, call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.SeeStock)
            .WithSummary("Jobs with pieces that are on no saw card yet.")
            .Produces<IReadOnlyList<JobToSaw>>();
        api.MapGet("/stock/saw-cards", ListAsync)
            .RequirePermission(Permission.SeeStock)
            .WithSummary("Saw cards, those to be sawn first.")
            .Produces<Page<SawPlanView>>();
        api.MapPost("/stock/saw-cards", PlanAsync)
            .RequirePermission(Permission.KeepStock)
            .WithSummary(
                "Nests the pieces of one or several jobs on the sticks and offcuts that are free, and holds those."
            )
            .Produces<SawPlanView>(201);
        api.MapGet(
                "/stock/saw-cards/{id:guid}",
                async (Guid id, ApiCall call, SawPlans plans) =>
                    (await plans.ReadAsync(SawPlanId.From(id), call.Actor, call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.SeeStock)
            .WithSummary("One saw card, bar by bar, with how good the nest is.")
            .Produces<SawPlanView>();
        api.MapPost(
                "/stock/saw-cards/{id:guid}/sawn",
                async (Guid id, ApiCall call, Body<SawPlans.SawnRequest> body, SawPlans plans) =>
                    (await plans.SawAsync(SawPlanId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.KeepStock)
            .WithSummary("It is sawn: offcuts go back to the store, pieces and their heats to the jobs, in one step.")
            .Produces<SawPlanView>();
        api.MapPost(
                "/stock/saw-cards/{id:guid}/discard",
                async (Guid id, ApiCall call, Body<DiscardBody> body, SawPlans plans) =>
                    (
                        await plans.DiscardAsync(
                            SawPlanId.From(id),
                            body.Value.Reason,
                            call.Envelope(),
                            call.Cancellation
                        )
                    ).ToHttp()
            )
            .RequirePermission(Permission.KeepStock)
            .WithSummary("It will not be sawn; its bars are free again.")
            .Produces<SawPlanView>();
        api.MapGet("/stock/saw-cards/{id:guid}/pdf", StockPapers.SawCardAsync)
            .RequirePermission(Permission.SeeStock)
            .WithSummary("The card for the saw as a PDF; size is a4 or letter.");
        api.MapGet("/stock/labels/pdf", StockPapers.LabelsAsync)
            .RequirePermission(Permission.SeeStock)
            .WithSummary(
                "Labels with QR codes (lot, repeated; absent: all that lies in the store); size is a4 or letter."
            );
        api.MapGet("/stock/counting-sheet/pdf", StockPapers.CountingAsync)
            .RequirePermission(Permission.SeeStock)
            .WithSummary("A sheet for counting by hand (location; absent: all); size is a4 or letter.");
    }

    private static async Task<IResult> ListAsync(ApiCall call, SawPlans plans, int? page, int? pageSize) =>
        PageRequest.Read(page, pageSize).TryGet(out var wanted, out var failure)
            ? (await plans.ListAsync(wanted, call.Actor, call.Cancellation)).ToHttp()
            : failure.ToProblem();

    private static async Task<IResult> PlanAsync(
        ApiCall call,
        Body<SawPlans.PlanRequest> body,
        SawPlans plans,
        HttpContext http
    ) =>
        (await plans.PlanAsync(body.Value, call.Envelope(), null, call.Cancellation)).ToHttp(
            http,
            outcome => outcome.ToCreated(p => $"{EndpointScan.ApiPrefix}/stock/saw-cards/{p.Id}")
        );
}

/// <summary>The store's papers for people who are signed in.</summary>
public sealed class StockPapers : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/stock/saw-cards/{id:guid}/pdf", SawCardAsync).RequirePermission(Permission.SeeStock);
        app.MapGet("/stock/labels/pdf", LabelsAsync).RequirePermission(Permission.SeeStock);
        app.MapGet("/stock/counting-sheet/pdf", CountingAsync).RequirePermission(Permission.SeeStock);
    }

    internal static Task<IResult> SawCardAsync(
        Guid id,
        string? size,
        HttpContext http,
        PrintStock print,
        CancellationToken ct
    ) => PaperEndpoints.FileAsync(size, s => print.SawCardAsync(SawPlanId.From(id), s, Actors.Of(http), ct));

    internal static Task<IResult> LabelsAsync(
        Guid[]? lot,
        string? size,
        HttpContext http,
        PrintStock print,
        Hosting.Settings settings,
        CancellationToken ct
    ) =>
        PaperEndpoints.FileAsync(
            size,
            s => print.LabelsAsync(lot ?? [], $"{settings.PublicUrl}/stock/lots/", s, Actors.Of(http), ct)
        );

    internal static Task<IResult> CountingAsync(
        string? location,
        string? size,
        HttpContext http,
        PrintStock print,
        CancellationToken ct
    ) => PaperEndpoints.FileAsync(size, s => print.CountingAsync(location, s, Actors.Of(http), ct));
}
