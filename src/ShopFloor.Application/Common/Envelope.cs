using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Common;

/// <summary>What travels around a command: who gives it, when by their device, and how a repeat is recognised.</summary>
/// <param name="Actor">Who.</param>
/// <param name="OccurredAt">Device time of the tap; null where the server's time serves.</param>
/// <param name="IdempotencyKey">Client-made key of at most 200 characters; null where repeats are new commands.</param>
/// <param name="IdempotencyScope">Caller, method and path (or the screen) within which the key is unique.</param>
/// <param name="IfMatch">The version that the change was made on; null where none was given.</param>
public sealed record Envelope(
    Actor Actor,
    DateTimeOffset? OccurredAt = null,
    string? IdempotencyKey = null,
    string? IdempotencyScope = null,
    long? IfMatch = null
)
{
    /// <summary>An envelope without key, for the program's own commands.</summary>
    public static Envelope Of(Actor actor) => new(actor);
}
