using Microsoft.AspNetCore.Diagnostics;
using ShopFloor.Data;

namespace ShopFloor.Web.Hosting;

/// <summary>What a caller is told when a step failed for a reason that is neither theirs nor a fault of the program.</summary>
public static class Troubles
{
    /// <summary>503 while the database is away, 507 where the disk is full, the caller's own fault where it is that; else 500.</summary>
    public static int StatusOf(Exception exception) =>
        exception is BadHttpRequestException bad ? bad.StatusCode
        : ShopDatabase.IsAway(exception) ? StatusCodes.Status503ServiceUnavailable
        : ShopDatabase.IsFull(exception) ? StatusCodes.Status507InsufficientStorage
        : StatusCodes.Status500InternalServerError;

    /// <summary>One sentence for the person; null where there is nothing better to say than that something went wrong.</summary>
    public static string? SentenceOf(int status) =>
        status switch
        {
            StatusCodes.Status503ServiceUnavailable =>
                "The database cannot be reached at the moment. Try again in a minute, and look first whether your last step was saved.",
            StatusCodes.Status507InsufficientStorage =>
                "The server's disk is full: nothing more can be saved until the owner has made room. What was saved before is safe.",
            _ => null,
        };

    /// <summary>Adds the sentence to the answers of the API.</summary>
    public static void Describe(ProblemDetailsContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        if (
            SentenceOf(context.HttpContext.Response.StatusCode) is { } sentence
            && context.ProblemDetails.Detail is null
        )
        {
            context.ProblemDetails.Detail = sentence;
            context.HttpContext.Response.Headers.RetryAfter = "60";
        }
    }

    /// <summary>The sentence for the page of the request's error, if there is one.</summary>
    public static string? SentenceFor(HttpContext? http) =>
        http?.Features.Get<IExceptionHandlerFeature>()?.Error is { } error ? SentenceOf(StatusOf(error)) : null;
}
