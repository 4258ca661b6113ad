using ShopFloor.Application.Common;
using ShopFloor.Application.Progress;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Progress;

public sealed class ProgressEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/jobs/{id:guid}/progress-links", ListAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("A job's customer links, newest first; their addresses cannot be read again.");
        api.MapPost("/jobs/{id:guid}/progress-links", CreateAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("Makes a customer link; its address is given once.")
            .WithDescription(
                "With endsOthers true the job's other links end in the same moment. The answer is not remembered under an Idempotency-Key, since it holds the secret: a repeat makes another link. Revoke the one that is not used."
            )
            .Produces(201);
        api.MapDelete("/progress-links/{id:guid}", RevokeAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("Revokes a customer link.")
            .Produces(204);
    }

    /// <summary>The customer's address of a token.</summary>
    public static string UrlOf(Hosting.Settings settings, string token) => $"{settings.PublicUrl}/p/{token}";

    private static async Task<IResult> ListAsync(Guid id, ApiCall call, ListProgressLinks list) =>
        (await list.RunAsync(JobId.From(id), call.Actor, call.Cancellation)).ToHttp(items => new
        {
            items,
            page = 1,
            pageSize = PageRequest.LargestSize,
            totalCount = items.Count,
        });

    private static async Task<IResult> CreateAsync(
        Guid id,
        ApiCall call,
        Body<CreateProgressLink.Request> body,
        CreateProgressLink create,
        Hosting.Settings settings
    ) =>
        (await create.RunAsync(JobId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToCreated(
            t => $"{EndpointScan.ApiPrefix}/jobs/{id}/progress-links",
            t => new
            {
                t.Id,
                Url = UrlOf(settings, t.Token),
                t.ExpiresAt,
            }
        );

    private static async Task<IResult> RevokeAsync(Guid id, ApiCall call, RevokeProgressLink revoke) =>
        (await revoke.RunAsync(ProgressLinkId.From(id), call.Envelope(), call.Cancellation)).ToNoContent();
}
