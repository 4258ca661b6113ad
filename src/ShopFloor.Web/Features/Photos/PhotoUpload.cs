using System.Globalization;
using Microsoft.AspNetCore.Http.Features;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Web.Api;

namespace ShopFloor.Web.Features.Photos;

/// <summary>A photo as it came in one multipart form: the file and what was said about it.</summary>
public sealed record PhotoUpload(ReadOnlyMemory<byte> File, PhotoInput Input, DateTimeOffset? OccurredAt)
{
    // Room for the form's other fields and boundaries.
    private const int Overhead = 64 * 1024;

    private static readonly string[] Known = ["kind", "operation", "x", "y", "caption", "occurredAt"];

    /// <summary>What a hold with a photo says besides.</summary>
    private static readonly string[] OfHold = ["reason", "note"];

    /// <summary>Reads the form strictly: one file named <c>file</c>, known fields only, each at most once.</summary>
    public static Task<Outcome<PhotoUpload>> ReadAsync(HttpRequest request, CancellationToken ct) =>
        ReadAsync(request, isHold: false, ct);

    /// <summary>The same for a hold, whose form says besides why.</summary>
    public static Task<Outcome<PhotoUpload>> ReadAsync(HttpRequest request, bool isHold, CancellationToken ct) =>
        ReadAsync(request, isHold ? [.. Known, .. OfHold] : Known, ct);

    /// <summary>A form with the file and nothing else.</summary>
    public static Task<Outcome<PhotoUpload>> ReadFileAsync(HttpRequest request, CancellationToken ct) =>
        ReadAsync(request, [], ct);

    private static async Task<Outcome<PhotoUpload>> ReadAsync(HttpRequest request, string[] known, CancellationToken ct)
    {
        if (!request.HasFormContentType)
        {
            return new Failure.WrongType("Send the photo as multipart/form-data with a field named file.");
        }

        if (request.ContentLength > ImageLimits.MaxBytes + Overhead)
        {
            return TooLarge();
        }

        try
        {
            var form = await request.ReadFormAsync(
                new FormOptions
                {
                    MultipartBodyLengthLimit = ImageLimits.MaxBytes + Overhead,
                    ValueLengthLimit = 4096,
                    ValueCountLimit = 32,
                },
                ct
            );
            return await ReadAsync(form, known, ct);
        }
        catch (BadHttpRequestException exception) when (exception.StatusCode == StatusCodes.Status413PayloadTooLarge)
        {
            return TooLarge();
        }
        catch (InvalidDataException exception)
            when (exception.Message.Contains("length limit", StringComparison.OrdinalIgnoreCase))
        {
            return TooLarge();
        }
        catch (Exception exception) when (exception is InvalidDataException or BadHttpRequestException or IOException)
        {
            return Failure.Field("file", "The upload was cut off or is no form. Send it again.");
        }
    }

    private static async Task<Outcome<PhotoUpload>> ReadAsync(
        IFormCollection form,
        string[] known,
        CancellationToken ct
    )
    {
        var errors = new FieldErrors();
        foreach (var field in form.Where(f => !known.Contains(f.Key, StringComparer.Ordinal)))
        {
            errors.Add(field.Key, "This field is not known. Field names are written exactly as documented.");
        }

        foreach (var field in form.Where(f => f.Value.Count > 1))
        {
            errors.Add(field.Key, "This field is given twice.");
        }

        errors.AddIf(
            form.Files.Count != 1 || form.Files[0].Name != "file",
            "file",
            "Send exactly one file, in a field named file."
        );
        var input = new PhotoInput(
            Enum<PhotoKind>(form, "kind", errors),
            Text(form, "operation"),
            Number(form, "x", errors),
            Number(form, "y", errors),
            Text(form, "caption")
        );
        var occurredAt = Instant(form, "occurredAt", errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (form.Files[0].Length > ImageLimits.MaxBytes)
        {
            return TooLarge();
        }

        var bytes = new byte[form.Files[0].Length];
        await using var stream = form.Files[0].OpenReadStream();
        await stream.ReadExactlyAsync(bytes, ct);
        return new PhotoUpload(bytes, input, occurredAt);
    }

    private static string? Text(IFormCollection form, string name) =>
        form[name] is [{ Length: > 0 } text] ? text : null;

    private static TEnum? Enum<TEnum>(IFormCollection form, string name, FieldErrors errors)
        where TEnum : struct, Enum
    {
        if (Text(form, name) is not { } text)
        {
            return null;
        }

        foreach (var value in System.Enum.GetValues<TEnum>())
        {
            if (System.Text.Json.JsonNamingPolicy.CamelCase.ConvertName(value.ToString()) == text)
            {
                return value;
            }
        }

        errors.Add(name, $"'{text}' is not one of the allowed words.");
        return null;
    }

    private static double? Number(IFormCollection form, string name, FieldErrors errors)
    {
        if (Text(form, name) is not { } text)
        {
            return null;
        }

        var isNumber =
            double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
            && double.IsFinite(number);
        errors.AddIf(!isNumber, name, $"'{text}' is no number.");
        return isNumber ? number : null;
    }

    private static DateTimeOffset? Instant(IFormCollection form, string name, FieldErrors errors)
    {
        if (Text(form, name) is not { } text)
        {
            return null;
        }

        var isInstant = Instants.TryRead(text, out var instant);
        errors.AddIf(!isInstant, name, $"'{text}' is no time. Write it as 2026-03-02T09:30:00Z.");
        return isInstant ? instant : null;
    }

    private static Failure.TooLarge TooLarge() =>
        new($"A photo has at most {ImageLimits.MaxBytes / 1024 / 1024} MB. Send a smaller one.");
}
