using Microsoft.AspNetCore.Mvc;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Inspection;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Floor;

/// <summary>The tablet's form by which a second person says that they are there, or a qualified person is named. It waits in no outbox: presence counts from the moment at which the server hears of it.</summary>
public sealed class PresenceForms : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapPost("/floor/jobs/{id:guid}/presence", RecordAsync).RequirePermission(Permission.OrderRework);

    private static async Task<IResult> RecordAsync(
        Guid id,
        HttpContext http,
        RecordPresence record,
        SpokenMessages messages,
        [FromForm] string? code,
        [FromForm] string? kind,
        [FromForm] string? name,
        [FromForm] string? reference
    )
    {
        var outcome = await record.RunAsync(
            new JobId(id),
            code ?? "",
            new RecordPresence.Request(kind, name, reference),
            Envelope.Of(Actors.Of(http)),
            http.RequestAborted
        );
        var said = messages.Seal(
            outcome.Match(
                job => new SpokenMessage(Told(job, code, kind), false),
                f => new SpokenMessage(f.Sentence, true)
            )
        );
        return Results.LocalRedirect($"/floor/jobs/{id}?said={Uri.EscapeDataString(said)}#said");
    }

    /// <summary>What the gate says now.</summary>
    private static string Told(JobView job, string? code, string? kind) =>
        job.Operations.FirstOrDefault(o => o.Code == code)?.Gates.FirstOrDefault(g => g.Kind == kind) is { } gate
            ? $"{code}: {gate.Text}"
            : "Recorded.";
}
