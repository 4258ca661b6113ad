using System.Globalization;
using Microsoft.AspNetCore.Antiforgery;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;

namespace ShopFloor.Web.Features.Floor;

/// <summary>A form as a tablet's outbox sends it: its fields and the time of the tap.</summary>
internal sealed record FloorForm(IFormCollection Form, DateTimeOffset? At)
{
    public IFormFile? File(string name) => Form.Files.GetFile(name);

    public string? Text(string name) => Form[name] is [{ Length: > 0 } text] ? text : null;

    /// <summary>All values of a field that stands several times.</summary>
    public IReadOnlyList<string> Texts(string name) => [.. Form[name].OfType<string>().Where(t => t.Length > 0)];

    /// <summary>Null where there is none or it is no whole number; the command then asks for it.</summary>
    public int? Number(string name) =>
        int.TryParse(Text(name), NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;

    public Guid? Id(string name) => Guid.TryParse(Text(name), out var id) ? id : null;

    public DateOnly? Day(string name) =>
        DateOnly.TryParseExact(Text(name), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            ? day
            : null;

    /// <summary>A choice by its word in camel case; null where there is none of that name.</summary>
    public T? Choice<T>(string name)
        where T : struct, Enum =>
        Enum.TryParse<T>(Text(name), ignoreCase: true, out var choice) && Enum.IsDefined(choice) ? choice : null;

    public static async ValueTask<object?> CheckTokenAsync(
        EndpointFilterInvocationContext context,
        EndpointFilterDelegate next
    )
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(next);
        var antiforgery = context.HttpContext.RequestServices.GetRequiredService<IAntiforgery>();
        return await antiforgery.IsRequestValidAsync(context.HttpContext)
            ? await next(context)
            // Not 400: what was written down is not refused for good because its page was old; the script asks for a new token and tries again.
            : Problems.Problem(503, "The page is old.", "Load the page again; what you entered is kept until then.");
    }

    /// <summary>A form that cannot be read is refused for good: a device that sent it again and again would keep back all that it holds.</summary>
    public static async Task<Outcome<FloorForm>> ReadAsync(HttpRequest request, ApiCall call)
    {
        if (!request.HasFormContentType)
        {
            return new Failure.WrongType("Send it as a form.");
        }

        try
        {
            var form = await request.ReadFormAsync(call.Cancellation);
            DateTimeOffset? at = null;
            if (form["occurredAt"] is [{ Length: > 0 }] sent)
            {
                if (!Instants.TryRead(sent, out var read))
                {
                    return Failure.Field("occurredAt", "The time of the tap cannot be read.");
                }

                at = read;
            }

            return new FloorForm(form, at);
        }
        catch (BadHttpRequestException exception) when (exception.StatusCode == StatusCodes.Status413PayloadTooLarge)
        {
            return new Failure.TooLarge("The file is too large. Take a smaller one.");
        }
        catch (Exception exception) when (exception is InvalidDataException or BadHttpRequestException)
        {
            return Failure.Field("form", "What was entered was cut off. Enter it again.");
        }
    }
}
