using Microsoft.AspNetCore.Mvc;
using ShopFloor.Application.Common;
using ShopFloor.Application.Places;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Inspection;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Places;

/// <summary>The shop's places, and in which of them a job is.</summary>
public sealed class PlacesEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/shop/places", ReadAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The shop's places: code, title, kind (bay, bench, paint, office).")
            .Produces<ShopPlacesView>();
        api.MapPut("/shop/places", ChangeAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Replaces the list; 409 while a hot-work permit is not closed.")
            .Produces<ShopPlacesView>();
        api.MapPost("/jobs/{id:guid}/place", PlaceAsync)
            .RequirePermission(Permission.KeepParts)
            .WithSummary("The job is in this place now; permits and the paint rule go by it.")
            .Produces<JobView>();
    }

    private static async Task<IResult> ReadAsync(ApiCall call, ReadShopPlaces read) =>
        (await read.RunAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ChangeAsync(
        ApiCall call,
        Body<ChangeShopPlaces.Request> body,
        ChangeShopPlaces change
    ) => (await change.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> PlaceAsync(Guid id, ApiCall call, Body<PlaceJob.Request> body, PlaceJob place) =>
        (await place.RunAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}

/// <summary>The tablet's form by which a car goes to another place. It waits in no outbox: permits and the paint rule go by what the server knows.</summary>
public sealed class PlaceForms : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapPost("/floor/jobs/{id:guid}/place", PlaceAsync).RequirePermission(Permission.KeepParts);

    private static async Task<IResult> PlaceAsync(
        Guid id,
        HttpContext http,
        PlaceJob put,
        SpokenMessages messages,
        [FromForm] string? place
    )
    {
        var outcome = await put.RunAsync(
            new JobId(id),
            new PlaceJob.Request(place),
            Envelope.Of(Actors.Of(http)),
            http.RequestAborted
        );
        var said = messages.Seal(
            outcome.Match(job => new SpokenMessage(Told(job, place), false), f => new SpokenMessage(f.Sentence, true))
        );
        return Results.LocalRedirect($"/floor/jobs/{id}/parts?said={Uri.EscapeDataString(said)}#said");
    }

    private static string Told(JobView job, string? place) =>
        job.Places.FirstOrDefault(p => p.Code == place) is { Title: { } title }
            ? $"{job.Number} is in {title} now."
            : "Noted.";
}
