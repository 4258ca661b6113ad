using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection.Packs;
using ShopFloor.Application.Papers;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Account;
using ShopFloor.Web.Features.Records;
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
            .WithSummary(
                "The inspection pack as a PDF; size is a4 or letter, signOff chooses an earlier one than the one that stands."
            );
        api.MapGet("/jobs/{id:guid}/inspection/packs", JobPaperEndpoints.PacksAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The frozen records of a job's sign-offs, newest first, with the SHA-256 of each.");
        api.MapGet("/jobs/{id:guid}/inspection/record", JobPaperEndpoints.RecordAsync)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary(
                "A frozen record as its canonical JSON (RFC 8785), byte for byte what its SHA-256 was taken of; signOff chooses an earlier one."
            );
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
        app.MapGet("/jobs/{id:guid}/inspection/record", RecordAsync).RequirePermission(Permission.SeeFloor);
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
        Guid? signOff,
        string? size,
        HttpContext http,
        PrintInspection print,
        Hosting.Settings settings,
        CancellationToken ct
    ) =>
        PaperEndpoints.FileAsync(
            size,
            s =>
                print.RunAsync(
                    new JobId(id),
                    Of(signOff),
                    hash => RecordPage.UrlOf(settings, hash),
                    s,
                    Actors.Of(http),
                    ct
                )
        );

    internal static async Task<IResult> PacksAsync(Guid id, HttpContext http, ReadPacks read, CancellationToken ct) =>
        (await read.OfJobAsync(new JobId(id), Actors.Of(http), ct)).ToHttp(items => new
        {
            items,
            page = 1,
            pageSize = PageRequest.LargestSize,
            totalCount = items.Count,
        });

    internal static async Task<IResult> RecordAsync(
        Guid id,
        Guid? signOff,
        HttpContext http,
        ReadPacks read,
        CancellationToken ct
    ) =>
        (await read.JsonAsync(new JobId(id), Of(signOff), Actors.Of(http), ct)).Match<IResult>(
            p => new PrivateFile(p.Content.ToArray(), "application/json", p.FileName),
            f => f.ToProblem()
        );

    private static SignOffId? Of(Guid? signOff) => signOff is { } id ? SignOffId.From(id) : null;
}
