using System.Text;
using ShopFloor.Application.Common;
using ShopFloor.Application.Planning;
using ShopFloor.Application.Progress;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Progress;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Planning;

/// <summary>Calendar addresses, for the owner.</summary>
public sealed class CalendarFeedEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/calendar-feeds", ListAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Calendar addresses in use; their secrets cannot be read again.");
        api.MapPost("/calendar-feeds", CreateAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Makes a calendar address of a person, a place or the appointments; it is given once.")
            .Produces(201);
        api.MapDelete("/calendar-feeds/{id:guid}", RevokeAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Revokes a calendar address.")
            .Produces(204);
    }

    /// <summary>The address that a calendar program is given.</summary>
    public static string UrlOf(Hosting.Settings settings, string token) => $"{settings.PublicUrl}/c/{token}";

    private static async Task<IResult> ListAsync(ApiCall call, KeepCalendarFeeds keep) =>
        (await keep.ListAsync(call.Actor, call.Cancellation)).ToHttp(items => new { items });

    private static async Task<IResult> CreateAsync(
        ApiCall call,
        Body<KeepCalendarFeeds.Request> body,
        KeepCalendarFeeds keep,
        Hosting.Settings settings
    ) =>
        (await keep.CreateAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(
            _ => $"{EndpointScan.ApiPrefix}/calendar-feeds",
            t => new
            {
                t.Id,
                Url = UrlOf(settings, t.Token),
                t.Title,
            }
        );

    private static async Task<IResult> RevokeAsync(Guid id, ApiCall call, KeepCalendarFeeds keep) =>
        (await keep.RevokeAsync(CalendarFeedId.From(id), call.Envelope(), call.Cancellation)).ToNoContent();
}

/// <summary>The calendar behind a secret address; wrong and revoked ones answer like every link that opens nothing.</summary>
public sealed class CalendarPage : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/c/{token}", ShowAsync).AllowAnonymous().ExcludeFromDescription();

    private static async Task<IResult> ShowAsync(string token, HttpContext context, SeeCalendarFeed see, LinkDoor door)
    {
        var ct = context.RequestAborted;
        var (feed, isPaused) = await door.TryAsync(
            context.Connection.RemoteIpAddress,
            () => see.FindAsync(token, ct),
            ct
        );
        if (feed is null)
        {
            await ClosedPage.AnswerAsync(context, isPaused);
            return Results.Empty;
        }

        context.Response.Headers["Referrer-Policy"] = "no-referrer";
        context.Response.Headers["X-Robots-Tag"] = "noindex, nofollow";
        context.Response.Headers.CacheControl = "private, max-age=300";
        return Results.Text(await see.WriteAsync(feed, ct), "text/calendar; charset=utf-8", Encoding.UTF8);
    }
}
