using System.Reflection;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Http.Metadata;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Api;

/// <summary>A JSON body as an endpoint parameter. A body that cannot be read never reaches the endpoint: <see cref="ApiFilter"/> answers it.</summary>
public interface IBody
{
    Failure? Failure { get; }
}

/// <inheritdoc cref="IBody"/>
/// <typeparam name="T">The request's own type; all its members nullable, so that what is missing gets a sentence of the use case.</typeparam>
public sealed partial class Body<T> : IBody, IEndpointParameterMetadataProvider
    where T : class
{
    private static readonly IReadOnlyDictionary<string, int> Lists = OverlongList.Of(typeof(T));
    private readonly T? value;

    private Body(T? value, Failure? failure)
    {
        this.value = value;
        Failure = failure;
    }

    public Failure? Failure { get; }

    public T Value => value ?? throw new InvalidOperationException("The body was not read.");

    public static async ValueTask<Body<T>> BindAsync(HttpContext context, ParameterInfo parameter)
    {
        if (
            context.Request.ContentLength is 0
            || (
                context.Request.ContentLength is null
                && !context.Request.HasJsonContentType()
                && string.IsNullOrEmpty(context.Request.ContentType)
            )
        )
        {
            // Commands without content may come without a body.
            return Parse("{}"u8.ToArray());
        }

        if (!context.Request.HasJsonContentType())
        {
            return new(null, new Failure.WrongType("Send the body as application/json."));
        }

        // No more is read than is taken, so the server's own limit, which would answer before the field is known, is not needed.
        if (context.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } size)
        {
            size.MaxRequestBodySize = null;
        }

        using var buffer = new MemoryStream();
        var chunk = new byte[16 * 1024];
        int read;
        while ((read = await context.Request.Body.ReadAsync(chunk, context.RequestAborted)) > 0)
        {
            buffer.Write(chunk, 0, read);
            if (buffer.Length > ApiLimits.JsonBytes)
            {
                return new(null, TooLarge(buffer.GetBuffer().AsSpan(0, ApiLimits.JsonBytes)));
            }
        }

        return Parse(buffer.ToArray());
    }

    /// <summary>A list that is too long is called by its name; else the body as a whole is too large.</summary>
    private static Failure TooLarge(ReadOnlySpan<byte> beginning)
    {
        try
        {
            return OverlongList.Find(beginning, Lists)
                ?? new Failure.TooLarge($"The body has more than {ApiLimits.JsonBytes / 1024} KiB.");
        }
        catch (JsonException exception)
        {
            return Explain(exception);
        }
    }

    public static void PopulateMetadata(ParameterInfo parameter, EndpointBuilder builder) =>
        builder.Metadata.Add(new AcceptsMetadata(["application/json"], typeof(T)));

    private static Body<T> Parse(byte[] utf8)
    {
        try
        {
            return JsonSerializer.Deserialize<T>(utf8, ApiJson.Options) is { } value
                ? new(value, null)
                : new(null, Failure.Field("$", "The body is null, but must be an object."));
        }
        catch (JsonException exception)
        {
            return new(null, Explain(exception));
        }
        catch (Exception exception)
            when (exception is FormatException or InvalidOperationException or OverflowException or ArgumentException)
        {
            return new(null, Failure.Field("$", "A value in the body is not of the right kind."));
        }
    }

    private static Failure Explain(JsonException exception)
    {
        var path = exception.Path is { Length: > 0 } p ? p : "$";
        path = path.StartsWith("$.", StringComparison.Ordinal) ? path[2..] : path;
        var message = exception.Message;
        if (UnknownField().Match(message) is { Success: true } unknown)
        {
            return Failure.Field(
                Join(path, unknown.Groups[1].Value),
                "This field is not known. Field names are written exactly as documented."
            );
        }

        if (DuplicateField().Match(message) is { Success: true } twice)
        {
            return Failure.Field(Join(path, twice.Groups[1].Value), "This field is given twice.");
        }

        var isSyntax =
            exception.LineNumber is not null && !message.Contains("could not be converted", StringComparison.Ordinal);
        return Failure.Field(
            path,
            isSyntax
                ? $"The JSON cannot be read at line {exception.LineNumber + 1}, byte {exception.BytePositionInLine + 1}."
                : "The value is not of the right kind for this field."
        );
    }

    private static string Join(string path, string field) =>
        path == "$" ? field
        : path == field || path.EndsWith("." + field, StringComparison.Ordinal) ? path
        : $"{path}.{field}";

    [GeneratedRegex("^The JSON property '([^']*)' could not be mapped")]
    private static partial Regex UnknownField();

    [GeneratedRegex("Duplicate property '([^']*)'")]
    private static partial Regex DuplicateField();
}

/// <summary>Sizes that the API takes.</summary>
public static class ApiLimits
{
    /// <summary>Holds the longest list that a calculator takes: 10,000 lines with descriptions of full length.</summary>
    public const int JsonBytes = 4 * 1024 * 1024;
}
