using ShopFloor.Application.Common;
using ShopFloor.Application.Decisions;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Decisions;

/// <summary>Links by which customers decide, and what they wrote by them.</summary>
public sealed class DecisionEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapPost("/decision-links", CreateAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("Makes a link by which a customer says one thing; its address is given once.")
            .WithDescription(
                "The answer is not remembered under an Idempotency-Key, since it holds the secret: a repeat makes another link. Revoke the one that is not used."
            )
            .Produces(201);
        api.MapGet("/decision-links", ListAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("Links about one quote, change order, customer's part or job, newest first.");
        api.MapDelete("/decision-links/{id:guid}", RevokeAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("Revokes a link.")
            .Produces(204);
        api.MapGet("/customer-words", WordsAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("What customers wrote and nobody dealt with, oldest first; or all of one job, newest first.");
        api.MapPost("/customer-words/{id:guid}/settle", SettleAsync)
            .RequirePermission(Permission.ShareProgress)
            .WithSummary("Records that a question was dealt with.")
            .Produces(204);
    }

    private static async Task<IResult> CreateAsync(
        ApiCall call,
        Body<CreateDecisionLink.Request> body,
        CreateDecisionLink create,
        Hosting.Settings settings
    ) =>
        (await create.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(
            _ => $"{EndpointScan.ApiPrefix}/decision-links",
            t => new
            {
                t.Id,
                Url = DecisionPage.UrlOf(settings, t.Token),
                t.ExpiresAt,
            }
        );

    private static async Task<IResult> ListAsync(Guid subject, ApiCall call, ListDecisionLinks list) =>
        (await list.RunAsync(subject, call.Actor, call.Cancellation)).ToHttp(Whole);

    private static async Task<IResult> RevokeAsync(Guid id, ApiCall call, RevokeDecisionLink revoke) =>
        (await revoke.RunAsync(DecisionLinkId.From(id), call.Envelope(), call.Cancellation)).ToNoContent();

    private static async Task<IResult> WordsAsync(Guid? job, ApiCall call, ReadCustomerWords words) =>
        (
            job is { } id
                ? await words.OfJobAsync(JobId.From(id), call.Actor, call.Cancellation)
                : await words.OpenAsync(call.Actor, call.Cancellation)
        ).ToHttp(Whole);

    private static async Task<IResult> SettleAsync(
        Guid id,
        ApiCall call,
        Body<SettleCustomerWord.Request> body,
        SettleCustomerWord settle
    ) => (await settle.RunAsync(CustomerWordId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToNoContent();

    private static object Whole<T>(IReadOnlyList<T> items) =>
        new
        {
            items,
            page = 1,
            pageSize = PageRequest.LargestSize,
            totalCount = items.Count,
        };
}
