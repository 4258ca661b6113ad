using System.Text.Json.Serialization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Api;

/// <summary>The one place that turns a <see cref="Failure"/> into an RFC 9457 problem document.</summary>
public static class Problems
{
    public static IResult ToProblem(this Failure failure) =>
        failure switch
        {
            Failure.Invalid f => Problem(
                400,
                "The input cannot be taken.",
                f.Sentence,
                "errors",
                f.Errors.GroupBy(e => e.Path, StringComparer.Ordinal)
                    .ToDictionary(g => g.Key, g => g.Select(e => e.Text).ToArray(), StringComparer.Ordinal)
            ),
            Failure.Refused f => Problem(
                409,
                "This cannot be done now.",
                f.Sentence,
                "reasons",
                f.Reasons.Select(r => new ReasonView(r.Code, r.Text, r.Operation)).ToArray()
            ),
            Failure.NotFound f => Problem(404, "Not found.", f.Text),
            Failure.Forbidden f => Problem(403, "Not allowed.", f.Text),
            Failure.TooLarge f => Problem(413, "Too large.", f.Text),
            Failure.WrongType f => Problem(415, "This kind of content is not taken.", f.Text),
            _ => throw new InvalidOperationException("Unknown kind of failure."),
        };

    /// <summary>A problem document without extras.</summary>
    public static IResult Problem(
        int status,
        string title,
        string detail,
        string? extra = null,
        object? value = null
    ) =>
        Results.Problem(
            detail,
            statusCode: status,
            title: title,
            type: "about:blank",
            extensions: extra is null ? null : new Dictionary<string, object?> { [extra] = value }
        );

    private sealed record ReasonView(
        string Code,
        string Text,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Operation
    );
}
