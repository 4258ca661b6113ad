using Microsoft.AspNetCore.Mvc;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Inspection;

/// <summary>The tablet's form at a failed line: describes the fault and decides about it.</summary>
public sealed class NonconformanceForms : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapPost("/inspection/{id:guid}/nonconformances/{number:int}", SaveAsync)
            .RequirePermission(Permission.Inspect);

    private sealed record Entered(
        string? Line,
        string? Operation,
        string? Description,
        string? Cause,
        string? Decision,
        string? Mends,
        string? Reason,
        IFormFile? Photo
    );

    private static async Task<IResult> SaveAsync(
        Guid id,
        int number,
        HttpContext context,
        DescribeNonconformance describe,
        DecideNonconformance decide,
        AddPhoto addPhoto,
        SpokenMessages messages,
        [FromForm] string? line,
        [FromForm] string? operation,
        [FromForm] string? description,
        [FromForm] string? cause,
        [FromForm] string? decision,
        [FromForm] string? mends,
        [FromForm] string? reason,
        [FromForm] string? key,
        IFormFile? photo
    )
    {
        var entered = new Entered(line, operation, description, cause, decision, mends, reason, photo);
        var envelope = InspectionForms.EnvelopeOf(context, key);
        var ct = context.RequestAborted;
        var saved = await DescribeAsync(id, number, entered, envelope, describe, addPhoto, ct);
        if (saved.IsSuccess && !string.IsNullOrEmpty(decision))
        {
            saved = await DecideAsync(id, number, entered, envelope, decide, ct);
        }

        return InspectionForms.Back(
            id,
            line,
            messages,
            saved.Match(v => new SpokenMessage(Sentence(v), false), f => new SpokenMessage(f.Sentence, true))
        );
    }

    private static async Task<Outcome<NonconformanceView>> DescribeAsync(
        Guid id,
        int number,
        Entered entered,
        Envelope envelope,
        DescribeNonconformance describe,
        AddPhoto addPhoto,
        CancellationToken ct
    )
    {
        FaultCause? cause = null;
        if (!string.IsNullOrEmpty(entered.Cause))
        {
            if (!Enum.TryParse<FaultCause>(entered.Cause, out var named) || !Enum.IsDefined(named))
            {
                return Failure.Field("cause", "Choose the cause from the list.");
            }

            cause = named;
        }

        IReadOnlyList<Guid> photos = [];
        if (entered.Photo is { Length: > 0 } photo)
        {
            var added = await InspectionForms.AddAsync(id, photo, entered.Operation, envelope, addPhoto, ct);
            if (!added.TryGet(out var stored, out var refused))
            {
                return refused;
            }

            photos = [stored.Id.Value];
        }

        return await describe.RunAsync(
            JobId.From(id),
            number,
            new DescribeNonconformance.Request(entered.Description, cause, photos),
            Keyed(envelope, "-describe"),
            ct
        );
    }

    private static async Task<Outcome<NonconformanceView>> DecideAsync(
        Guid id,
        int number,
        Entered entered,
        Envelope envelope,
        DecideNonconformance decide,
        CancellationToken ct
    ) =>
        Enum.TryParse<Disposition>(entered.Decision, out var disposition) && Enum.IsDefined(disposition)
            ? await decide.RunAsync(
                JobId.From(id),
                number,
                new DecideNonconformance.Request(disposition, entered.Reason, entered.Mends),
                Keyed(envelope, "-decide"),
                ct
            )
            : Failure.Field("decision", "Choose rework, reject or accept.");

    /// <summary>One form runs two commands: each has a key of its own.</summary>
    private static Envelope Keyed(Envelope envelope, string part) =>
        envelope with
        {
            IdempotencyKey = envelope.IdempotencyKey is { } key ? key + part : null,
        };

    private static string Sentence(NonconformanceView fault) =>
        fault.Disposition switch
        {
            Disposition.Rework => $"Rework {fault.Reworks[^1]} is on the route. When it is done, read this line again.",
            Disposition.Accept => $"Nonconformance {fault.Number} is closed: accepted as it is.",
            Disposition.Reject => "Rejected. Replace the part and read this line again.",
            _ => "Saved.",
        };
}
