using Microsoft.AspNetCore.Mvc;
using ShopFloor.Application.Common;
using ShopFloor.Application.HotWork;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Inspection;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.HotWork;

/// <summary>The forms of the tablet's hot-work page: each runs its command and leads back with one sentence. None of them waits in an outbox: a watch ends by the server's word only.</summary>
public sealed class PermitForms : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapPost("/floor/hot-work/{id:guid}/close", CloseAsync).RequirePermission(Permission.KeepFireWatch);
        app.MapPost("/floor/hot-work/{id:guid}/sparks", SparksAsync).RequirePermission(Permission.KeepFireWatch);
        app.MapPost("/floor/hot-work/{id:guid}/watcher", WatcherAsync).RequirePermission(Permission.KeepFireWatch);
    }

    private static async Task<IResult> CloseAsync(
        Guid id,
        HttpContext http,
        ClosePermit close,
        SpokenMessages messages,
        [FromForm] string? note
    ) =>
        Back(
            await close.RunAsync(new HotWorkPermitId(id), new(true, note), EnvelopeOf(http), http.RequestAborted),
            messages,
            p => $"Permit {p.Number} is closed."
        );

    private static async Task<IResult> SparksAsync(
        Guid id,
        HttpContext http,
        ReportSparks report,
        SpokenMessages messages,
        [FromForm] string? note
    ) =>
        Back(
            await report.RunAsync(new HotWorkPermitId(id), EnvelopeOf(http), http.RequestAborted),
            messages,
            p => $"Permit {p.Number}: {p.StateText}"
        );

    private static async Task<IResult> WatcherAsync(
        Guid id,
        HttpContext http,
        HandFireWatch hand,
        SpokenMessages messages,
        [FromForm] Guid? watcher
    ) =>
        Back(
            await hand.RunAsync(new HotWorkPermitId(id), new(watcher), EnvelopeOf(http), http.RequestAborted),
            messages,
            p => $"{p.Watcher} watches now."
        );

    private static Envelope EnvelopeOf(HttpContext http) => Envelope.Of(Actors.Of(http));

    private static IResult Back(Outcome<PermitView> outcome, SpokenMessages messages, Func<PermitView, string> done)
    {
        var said = messages.Seal(
            outcome.Match(p => new SpokenMessage(done(p), false), f => new SpokenMessage(f.Sentence, true))
        );
        return Results.LocalRedirect($"/floor/hot-work?said={Uri.EscapeDataString(said)}#said");
    }
}
