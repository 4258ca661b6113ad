using ShopFloor.Application.Common;
using ShopFloor.Application.Materials;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Materials;

/// <summary>The register of welders' qualifications.</summary>
public sealed class QualificationEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/qualifications", ListAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Welders' qualifications with process, standard and last day; those in use first.")
            .Produces<QualificationsView>();
        api.MapPost("/qualifications", AddAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Adds a qualification to the register.")
            .Produces<QualificationView>(201);
        api.MapPut("/qualifications/{id:guid}", ChangeAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Changes a qualification, its last day among it; welds written down before stay as they are.")
            .Produces<QualificationView>();
        api.MapPost("/qualifications/{id:guid}/retire", RetireAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("The qualification is offered no more.")
            .Produces<QualificationView>();
    }

    private static async Task<IResult> ListAsync(ApiCall call, ReadQualifications read) =>
        (await read.RunAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> AddAsync(
        ApiCall call,
        Body<KeepQualifications.Request> body,
        KeepQualifications keep
    ) =>
        (await keep.AddAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(q =>
            $"{EndpointScan.ApiPrefix}/qualifications#{q.Id}"
        );

    private static async Task<IResult> ChangeAsync(
        Guid id,
        ApiCall call,
        Body<KeepQualifications.Request> body,
        KeepQualifications keep
    ) =>
        (
            await keep.ChangeAsync(new WelderQualificationId(id), body.Value, call.Envelope(), call.Cancellation)
        ).ToHttp();

    private static async Task<IResult> RetireAsync(Guid id, ApiCall call, KeepQualifications keep) =>
        (await keep.RetireAsync(new WelderQualificationId(id), call.Envelope(), call.Cancellation)).ToHttp();
}
