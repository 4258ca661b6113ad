using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Account;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Papers;

/// <summary>Papers of a job for the API.</summary>
public sealed class JobPaperApiEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/travellers/pdf", JobPaperEndpoints.TravellersAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary(
                "The travellers of everything in work as one PDF, with lines for times by pen; size is a4 or letter."
            );
        api.MapGet("/jobs/{id:guid}/traveller/pdf", JobPaperEndpoints.TravellerAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The sheet that stays with the car as a PDF; size is a4 or letter.");
        api.MapGet("/jobs/{id:guid}/inspection/pdf", JobPaperEndpoints.InspectionAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The inspection record as a PDF; size is a4 or letter.");
    }
}

/// <summary>Papers of a job for people who are signed in.</summary>
public sealed class JobPaperEndpoints : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/travellers/pdf", TravellersAsync).RequirePermission(Permission.SeeFloor);
        app.MapGet("/jobs/{id:guid}/traveller/pdf", TravellerAsync).RequirePermission(Permission.SeeFloor);
        app.MapGet("/jobs/{id:guid}/inspection/pdf", InspectionAsync).RequirePermission(Permission.SeeFloor);
    }

    internal static Task<IResult> TravellersAsync(
        string? size,
        HttpContext http,
        PrintTraveller print,
        Hosting.Settings settings,
        CancellationToken ct
    ) =>
        PaperEndpoints.FileAsync(
            size,
            s => print.AllAsync(id => $"{settings.PublicUrl}/floor/jobs/{id}", s, Actors.Of(http), ct)
        );

    internal static Task<IResult> TravellerAsync(
        Guid id,
        string? size,
        HttpContext http,
        PrintTraveller print,
        Hosting.Settings settings,
        CancellationToken ct
    ) =>
        PaperEndpoints.FileAsync(
            size,
            s => print.RunAsync(new JobId(id), $"{settings.PublicUrl}/floor/jobs/{id}", s, Actors.Of(http), ct)
        );

    internal static Task<IResult> InspectionAsync(
        Guid id,
        string? size,
        HttpContext http,
        PrintInspection print,
        CancellationToken ct
    ) => PaperEndpoints.FileAsync(size, s => print.RunAsync(new JobId(id), s, Actors.Of(http), ct));
}
