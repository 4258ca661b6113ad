using Microsoft.AspNetCore.Http.Features;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Api;

/// <summary>One file in a multipart form, in a field named <c>file</c>, with nothing beside it.</summary>
public static class UploadedFile
{
    // Room for the form's boundaries.
    private const int Overhead = 64 * 1024;

    /// <summary>Reads it strictly.</summary>
    /// <param name="mostBytes">Larger files are 413.</param>
    /// <param name="what">As the sentence names it, e.g. <c>A bill</c>.</param>
    public static async Task<Outcome<ReadOnlyMemory<byte>>> ReadAsync(
        HttpRequest request,
        int mostBytes,
        string what,
        CancellationToken ct
    )
    {
        ArgumentNullException.ThrowIfNull(request);
        var tooLarge = new Failure.TooLarge($"{what} has at most {mostBytes / 1024 / 1024} MB. Send a smaller one.");
        if (!request.HasFormContentType)
        {
            return new Failure.WrongType("Send the file as multipart/form-data in a field named file.");
        }

        if (request.ContentLength > mostBytes + Overhead)
        {
            return tooLarge;
        }

        try
        {
            var form = await request.ReadFormAsync(
                new FormOptions { MultipartBodyLengthLimit = mostBytes + Overhead, ValueCountLimit = 8 },
                ct
            );
            if (form.Count > 0 || form.Files.Count != 1 || form.Files[0].Name != "file")
            {
                return Failure.Field("file", "Send exactly one file, in a field named file, and nothing else.");
            }

            if (form.Files[0].Length > mostBytes)
            {
                return tooLarge;
            }

            var bytes = new byte[form.Files[0].Length];
            await using var stream = form.Files[0].OpenReadStream();
            await stream.ReadExactlyAsync(bytes, ct);
            return new ReadOnlyMemory<byte>(bytes);
        }
        catch (BadHttpRequestException exception) when (exception.StatusCode == StatusCodes.Status413PayloadTooLarge)
        {
            return tooLarge;
        }
        catch (InvalidDataException exception)
            when (exception.Message.Contains("length limit", StringComparison.OrdinalIgnoreCase))
        {
            return tooLarge;
        }
        catch (Exception exception) when (exception is InvalidDataException or BadHttpRequestException or IOException)
        {
            return Failure.Field("file", "The upload was cut off or is no form. Send it again.");
        }
    }
}

/// <summary>A stored file for one signed-in user: never run, never guessed at, never shared by a cache.</summary>
public sealed class PrivateFile(byte[] bytes, string contentType, string? downloadName = null) : IResult
{
    public async Task ExecuteAsync(HttpContext httpContext)
    {
        ArgumentNullException.ThrowIfNull(httpContext);
        var response = httpContext.Response;
        response.Headers.CacheControl = "private, no-store";
        response.Headers.XContentTypeOptions = "nosniff";
        response.Headers.ContentSecurityPolicy = "default-src 'none'; sandbox";
        if (downloadName is not null)
        {
            response.Headers.ContentDisposition = $"attachment; filename=\"{downloadName}\"";
        }

        response.ContentType = contentType;
        response.ContentLength = bytes.Length;
        await response.Body.WriteAsync(bytes, httpContext.RequestAborted);
    }
}
