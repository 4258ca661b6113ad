using System.Globalization;
using System.Text.Json;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Mvc;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
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
        app.MapPost("/inspection/{id:guid}/readings/kept", RecordKeptAsync)
            .RequirePermission(Permission.Inspect)
            .AddEndpointFilter<ApiFilter>();
        app.MapPost("/inspection/{id:guid}/sign-off", SignOffAsync).RequirePermission(Permission.SignOff);
        app.MapPost("/inspection/{id:guid}/sign-off/withdraw", WithdrawAsync).RequirePermission(Permission.SignOff);
    }

    /// <summary>Said in place of an instrument that is not in the register; the note then says what was used.</summary>
    public const string OtherInstrument = "other";

    // Each point is two numbers of at most four digits with a comma.
    private const int LongestStrokes = Signature.MostPoints * 10 + Signature.MostStrokes * 3;

    /// <summary>What a form's fields say, as the plain form and the device's outbox both send them.</summary>
    private sealed record Entered(
        string? Line,
        string? Value,
        string? Result,
        string? Note,
        string? Operation,
        IFormFile? Photo,
        string? Second,
        string? Instrument,
        string? Corrects
    );

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
        [FromForm] string? second,
        [FromForm] string? instrument,
        [FromForm] string? corrects,
        IFormFile? photo
    )
    {
        var entered = new Entered(line, value, result, note, operation, photo, second, instrument, corrects);
        var taken = await EnterAsync(id, entered, EnvelopeOf(context, key), record, addPhoto, context.RequestAborted);
        return Back(
            id,
            line,
            messages,
            taken.Match(
                t => new SpokenMessage(t.Text, !t.LineState.IsSettled()),
                f => new SpokenMessage(f.Sentence, true)
            )
        );
    }

    /// <summary>The same from a device's outbox: its own key and time, a problem document where it is refused.</summary>
    private static async Task<IResult> RecordKeptAsync(
        Guid id,
        HttpRequest request,
        ApiCall call,
        IAntiforgery antiforgery,
        RecordReading record,
        AddPhoto addPhoto
    )
    {
        if (!await antiforgery.IsRequestValidAsync(request.HttpContext))
        {
            // Not 400: a reading is not refused for good because its page was old; the script asks for a new token and tries again.
            return Problems.Problem(503, "The page is old.", "Load the page again; the reading is kept until then.");
        }

        if (!request.HasFormContentType)
        {
            return new Failure.WrongType("Send the reading as a form.").ToProblem();
        }

        if (!(await ReadFormAsync(request, call.Cancellation)).TryGet(out var form, out var unread))
        {
            return unread.ToProblem();
        }

        if (!Instants.TryRead(form["occurredAt"], out var at))
        {
            return Failure.Field("occurredAt", "The time of the reading is missing.").ToProblem();
        }

        string? Field(string name) => form[name] is [{ Length: > 0 } text] ? text : null;
        var entered = new Entered(
            Field("line"),
            Field("value"),
            Field("result"),
            Field("note"),
            Field("operation"),
            form.Files.GetFile("photo"),
            Field("second"),
            Field("instrument"),
            Field("corrects")
        );
        var taken = await EnterAsync(id, entered, call.Envelope(at), record, addPhoto, call.Cancellation);
        return taken.ToHttp(t => new { t.Text, t.LineState });
    }

    /// <summary>A form that cannot be read is refused for good: a device that sent it again and again would keep back all that it holds.</summary>
    private static async Task<Outcome<IFormCollection>> ReadFormAsync(HttpRequest request, CancellationToken ct)
    {
        try
        {
            return Outcome<IFormCollection>.Success(await request.ReadFormAsync(ct));
        }
        catch (BadHttpRequestException exception) when (exception.StatusCode == StatusCodes.Status413PayloadTooLarge)
        {
            return PhotoTooLarge();
        }
        catch (Exception exception) when (exception is InvalidDataException or BadHttpRequestException)
        {
            return Failure.Field("photo", "The reading was cut off or is no form. Enter it again.");
        }
    }

    private static Failure.TooLarge PhotoTooLarge() =>
        new($"A photo has at most {ImageLimits.MaxBytes / 1024 / 1024} MB. Take a smaller one.");

    private static async Task<Outcome<RecordReading.Taken>> EnterAsync(
        Guid id,
        Entered entered,
        Envelope envelope,
        RecordReading record,
        AddPhoto addPhoto,
        CancellationToken ct
    )
    {
        if (!ReadInstrument(entered).TryGet(out var instrument, out var unnamed))
        {
            return unnamed;
        }

        var corrects = 0;
        if (
            entered.Corrects is { Length: > 0 } number
            && !int.TryParse(number, CultureInfo.InvariantCulture, out corrects)
        )
        {
            return Failure.Field("corrects", "Say by its number which reading is corrected.");
        }

        IReadOnlyList<Guid> photoIds = [];
        if (entered.Photo is { Length: > 0 } photo)
        {
            var added = await AddAsync(id, photo, entered.Operation, envelope, addPhoto, ct);
            if (!added.TryGet(out var stored, out var refused))
            {
                return refused;
            }

            photoIds = [stored.Id.Value];
        }

        return await record.RunAsync(
            JobId.From(id),
            new RecordReading.Request(
                entered.Line,
                null,
                string.IsNullOrEmpty(entered.Result) ? null : entered.Result,
                entered.Note,
                photoIds,
                corrects == 0 ? null : corrects,
                entered.Value,
                entered.Second,
                instrument.Id
            ),
            envelope,
            ct
        );
    }

    private sealed record NamedInstrument(Guid? Id);

    private static Outcome<NamedInstrument> ReadInstrument(Entered entered) =>
        entered.Instrument switch
        {
            null or "" => new NamedInstrument(null),
            OtherInstrument => string.IsNullOrWhiteSpace(entered.Note)
                ? Failure.Field("note", "Say in the note what it was measured with: it is not in the register.")
                : new NamedInstrument(null),
            _ => Guid.TryParse(entered.Instrument, out var id)
                ? new NamedInstrument(id)
                : Failure.Field("instrument", "Choose the instrument from the list."),
        };

    /// <summary>The photo is the job's, whatever becomes of the reading: it is kept even where the reading is refused.</summary>
    internal static async Task<Outcome<PhotoView>> AddAsync(
        Guid id,
        IFormFile photo,
        string? operation,
        Envelope envelope,
        AddPhoto addPhoto,
        CancellationToken ct
    )
    {
        if (photo.Length > ImageLimits.MaxBytes)
        {
            return PhotoTooLarge();
        }

        var bytes = new byte[photo.Length];
        await using var stream = photo.OpenReadStream();
        await stream.ReadExactlyAsync(bytes, ct);
        var key = envelope.IdempotencyKey is { } k ? k + "-photo" : null;
        return await addPhoto.RunAsync(
            JobId.From(id),
            new PhotoInput(PhotoKind.Operation, operation),
            bytes,
            envelope with
            {
                IdempotencyKey = key,
            },
            ct
        );
    }

    private static async Task<IResult> SignOffAsync(
        Guid id,
        HttpContext context,
        SignOffJob signOff,
        SpokenMessages messages,
        [FromForm] string? note,
        [FromForm] string? strokes,
        [FromForm] string? key
    )
    {
        if (!TryReadStrokes(strokes, out var drawn))
        {
            return Back(id, null, messages, new SpokenMessage("The signature cannot be read. Draw it again.", true));
        }

        var outcome = await signOff.RunAsync(
            JobId.From(id),
            new SignOffJob.Request(note, drawn),
            EnvelopeOf(context, key),
            context.RequestAborted
        );
        return Back(id, null, messages, Spoken(outcome, "Signed off. The record is frozen."));
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

    internal static Envelope EnvelopeOf(HttpContext context, string? key)
    {
        var actor = Actors.Of(context);
        return new Envelope(
            actor,
            null,
            string.IsNullOrEmpty(key) ? null : key,
            $"{actor.Person} {context.Request.Method} {context.Request.Path}"
        );
    }

    /// <summary>Nothing drawn is no signature on the screen: it is then given by pen on the printed pack.</summary>
    private static bool TryReadStrokes(string? text, out IReadOnlyList<IReadOnlyList<int>>? strokes)
    {
        strokes = null;
        if (string.IsNullOrEmpty(text))
        {
            return true;
        }

        try
        {
            strokes = text.Length > LongestStrokes ? null : JsonSerializer.Deserialize<int[][]>(text);
            return strokes is not null;
        }
        catch (JsonException)
        {
            return false;
        }
    }

    internal static IResult Back(Guid id, string? line, SpokenMessages messages, SpokenMessage message)
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
