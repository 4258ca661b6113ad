using System.Globalization;
using System.Reflection;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Api;

/// <summary>One authorised API call as an endpoint parameter: who calls, with which key, on which version.</summary>
public sealed class ApiCall : IBody
{
    private ApiCall(Envelope? envelope, Failure? failure, CancellationToken ct)
    {
        this.envelope = envelope;
        Failure = failure;
        Cancellation = ct;
    }

    private readonly Envelope? envelope;

    public Failure? Failure { get; }
    public CancellationToken Cancellation { get; }
    public Actor Actor => Envelope().Actor;

    /// <summary>The envelope for the command; <paramref name="occurredAt"/> is the device's time, if it sent one.</summary>
    public Envelope Envelope(DateTimeOffset? occurredAt = null) =>
        (envelope ?? throw new InvalidOperationException("The call was not read.")) with
        {
            OccurredAt = occurredAt,
        };

    public static ValueTask<ApiCall?> BindAsync(HttpContext context, ParameterInfo parameter)
    {
        var actor = Actors.Of(context);
        var headers = context.Request.Headers;
        string? key = headers.TryGetValue("Idempotency-Key", out var keys) ? keys.ToString() : null;
        long? version = null;
        if (headers.TryGetValue("If-Match", out var match))
        {
            if (
                !long.TryParse(
                    match.ToString().Trim().Trim('"'),
                    NumberStyles.None,
                    CultureInfo.InvariantCulture,
                    out var number
                )
            )
            {
                var wrong = Failure.Field("If-Match", "If-Match is the version that was read, such as \"3\".");
                return ValueTask.FromResult<ApiCall?>(new(null, wrong, context.RequestAborted));
            }

            version = number;
        }

        var caller = actor.Through?.ToString() ?? actor.Person?.ToString();
        var scope = $"{caller} {context.Request.Method} {context.Request.Path}";
        return ValueTask.FromResult<ApiCall?>(
            new(new Envelope(actor, null, key, scope, version), null, context.RequestAborted)
        );
    }
}

/// <summary>Answers calls whose body or headers could not be read, before the endpoint runs.</summary>
public sealed class ApiFilter(RememberRefusedInput remember) : IEndpointFilter
{
    public async ValueTask<object?> InvokeAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        var bodies = context.Arguments.OfType<IBody>().ToList();
        if (bodies.Select(b => b.Failure).FirstOrDefault(f => f is not null) is not { } failure)
        {
            return await next(context);
        }

        if (
            failure is Failure.Invalid
            && context.Arguments.OfType<ApiCall>().FirstOrDefault(c => c.Failure is null) is { } call
        )
        {
            await remember.RunAsync(call.Envelope(), failure, call.Cancellation);
        }

        return failure.ToProblem();
    }
}

public static class ApiResults
{
    /// <summary>200 with the value, or the problem.</summary>
    public static IResult ToHttp<T>(this Outcome<T> outcome) => outcome.Match(v => Results.Ok(v), f => f.ToProblem());

    /// <summary>200 with a view of the value, or the problem.</summary>
    public static IResult ToHttp<T>(this Outcome<T> outcome, Func<T, object> view) =>
        outcome.Match(v => Results.Ok(view(v)), f => f.ToProblem());

    /// <summary>201 with <c>Location</c>, or the problem.</summary>
    public static IResult ToCreated<T>(
        this Outcome<T> outcome,
        Func<T, string> location,
        Func<T, object>? view = null
    ) => outcome.Match(v => Results.Created(location(v), view is null ? v : view(v)), f => f.ToProblem());

    /// <summary>204, or the problem.</summary>
    public static IResult ToNoContent(this Outcome<Done> outcome) =>
        outcome.Match(_ => Results.NoContent(), f => f.ToProblem());

    /// <summary>The API's list shape.</summary>
    public static IResult ToHttp<T>(this Outcome<Page<T>> outcome) =>
        outcome.Match(
            p =>
                Results.Ok(
                    new
                    {
                        items = p.Items,
                        page = p.PageNumber,
                        pageSize = p.PageSize,
                        totalCount = p.TotalCount,
                    }
                ),
            f => f.ToProblem()
        );
}
