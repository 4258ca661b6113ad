using System.Globalization;
using Microsoft.AspNetCore.Mvc;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Inspection;

/// <summary>The forms of the tablet's inspection page: each runs its command and leads back to the line it came from, with one sentence.</summary>
public sealed class InspectionForms : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapPost("/inspection/{id:guid}/readings", RecordAsync).RequirePermission(Permission.Inspect);
        app.MapPost("/inspection/{id:guid}/sign-off", SignOffAsync).RequirePermission(Permission.SignOff);
        app.MapPost("/inspection/{id:guid}/sign-off/withdraw", WithdrawAsync).RequirePermission(Permission.SignOff);
    }

    /// <summary>Reads a number as people type it: one comma or one point, no thousands.</summary>
    public static bool TryReadValue(string? text, out decimal? value)
    {
        value = null;
        if (string.IsNullOrWhiteSpace(text))
        {
            return true;
        }

        var plain = text.Trim().Replace(',', '.').Replace('−', '-');
        if (
            !decimal.TryParse(
                plain,
                NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
                CultureInfo.InvariantCulture,
                out var number
            )
        )
        {
            return false;
        }

        value = number;
        return true;
    }

    private static async Task<IResult> RecordAsync(
        Guid id,
        HttpContext context,
        RecordReading record,
        AddPhoto addPhoto,
        SpokenMessages messages,
        [FromForm] string? line,
        [FromForm] string? value,
        [FromForm] string? result,
        [FromForm] string? note,
        [FromForm] string? operation,
        [FromForm] string? key,
        IFormFile? photo
    )
    {
        if (!TryReadValue(value, out var number))
        {
            return Back(
                id,
                line,
                messages,
                new SpokenMessage($"'{Short(value)}' is no number. Enter it like 44.45.", true)
            );
        }

        IReadOnlyList<Guid> photoIds = [];
        if (photo is { Length: > 0 })
        {
            var added = await AddAsync(id, context, addPhoto, photo, operation, key);
            if (!added.TryGet(out var stored, out var refused))
            {
                return Back(id, line, messages, new SpokenMessage(refused.Sentence, true));
            }

            photoIds = [stored.Id.Value];
        }

        var request = new RecordReading.Request(line, number, result is "" ? null : result, note, photoIds);
        var taken = await record.RunAsync(JobId.From(id), request, EnvelopeOf(context, key), context.RequestAborted);
        return Back(
            id,
            line,
            messages,
            taken.Match(
                t => new SpokenMessage(t.Text, t.LineState == Domain.Inspection.LineState.Failed),
                f => new SpokenMessage(f.Sentence, true)
            )
        );
    }

    /// <summary>The photo is the job's, whatever becomes of the reading: it is kept even where the reading is refused.</summary>
    private static async Task<Outcome<PhotoView>> AddAsync(
        Guid id,
        HttpContext context,
        AddPhoto addPhoto,
        IFormFile photo,
        string? operation,
        string? key
    )
    {
        if (photo.Length > ImageLimits.MaxBytes)
        {
            return new Failure.TooLarge(
                $"A photo has at most {ImageLimits.MaxBytes / 1024 / 1024} MB. Take a smaller one."
            );
        }

        var bytes = new byte[photo.Length];
        await using var stream = photo.OpenReadStream();
        await stream.ReadExactlyAsync(bytes, context.RequestAborted);
        return await addPhoto.RunAsync(
            JobId.From(id),
            new PhotoInput(PhotoKind.Operation, operation),
            bytes,
            EnvelopeOf(context, key is null ? null : key + "-photo"),
            context.RequestAborted
        );
    }

    private static async Task<IResult> SignOffAsync(
        Guid id,
        HttpContext context,
        SignOffJob signOff,
        SpokenMessages messages,
        [FromForm] string? note,
        [FromForm] string? key
    )
    {
        var outcome = await signOff.RunAsync(
            JobId.From(id),
            new SignOffJob.Request(note),
            EnvelopeOf(context, key),
            context.RequestAborted
        );
        return Back(id, null, messages, Spoken(outcome, "Signed off."));
    }

    private static async Task<IResult> WithdrawAsync(
        Guid id,
        HttpContext context,
        WithdrawSignOff withdraw,
        SpokenMessages messages,
        [FromForm] string? reason,
        [FromForm] string? key
    )
    {
        var outcome = await withdraw.RunAsync(
            JobId.From(id),
            new WithdrawSignOff.Request(reason),
            EnvelopeOf(context, key),
            context.RequestAborted
        );
        return Back(id, null, messages, Spoken(outcome, "The sign-off is withdrawn; it stays on record."));
    }

    private static SpokenMessage Spoken<T>(Outcome<T> outcome, string done) =>
        outcome.Match(_ => new SpokenMessage(done, false), f => new SpokenMessage(f.Sentence, true));

    private static Envelope EnvelopeOf(HttpContext context, string? key)
    {
        var actor = Actors.Of(context);
        return new Envelope(
            actor,
            null,
            string.IsNullOrEmpty(key) ? null : key,
            $"{actor.Person} {context.Request.Method} {context.Request.Path}"
        );
    }

    private static IResult Back(Guid id, string? line, SpokenMessages messages, SpokenMessage message)
    {
        var said = Uri.EscapeDataString(messages.Seal(message));
        var code = Uri.EscapeDataString(Short(line));
        return Results.LocalRedirect(
            line is null
                ? $"/inspection/{id}?said={said}#said"
                : $"/inspection/{id}?said={said}&line={code}#line-{code}"
        );
    }

    private static string Short(string? text) =>
        text is null ? ""
        : text.Length <= 64 ? text
        : text[..64];
}
