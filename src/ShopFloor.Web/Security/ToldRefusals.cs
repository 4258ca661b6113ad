using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Authorization.Policy;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Security;

/// <summary>Writes a line of the log where somebody who is signed in asks for what they may not, or comes with a key that does not serve. Ids and the address's pattern only, nothing that the caller wrote.</summary>
public sealed class ToldRefusals(ILogger<ToldRefusals> log) : IAuthorizationMiddlewareResultHandler
{
    private readonly AuthorizationMiddlewareResultHandler inner = new();

    public Task HandleAsync(
        RequestDelegate next,
        HttpContext context,
        AuthorizationPolicy policy,
        PolicyAuthorizationResult authorizeResult
    )
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(authorizeResult);
        var pattern = (context.GetEndpoint() as RouteEndpoint)?.RoutePattern.RawText ?? "a page";
        if (authorizeResult.Forbidden && Actors.TryRead(context.User, out var actor))
        {
            log.LogWarning(
                "Refused: {Kind} {Id} may not use {Method} {Pattern}.",
                actor.Kind,
                actor.Person?.Value ?? actor.Through,
                MethodOf(context),
                pattern
            );
        }
        else if (authorizeResult.Challenged && context.Request.Headers.Authorization.Count > 0)
        {
            log.LogWarning("Refused: a key that does not serve, at {Method} {Pattern}.", MethodOf(context), pattern);
        }

        return inner.HandleAsync(next, context, policy, authorizeResult);
    }

    /// <summary>One of the usual words, or "other": a caller may write anything there.</summary>
    private static string MethodOf(HttpContext context) =>
        context.Request.Method is "GET" or "HEAD" or "POST" or "PUT" or "PATCH" or "DELETE"
            ? context.Request.Method
            : "other";
}
