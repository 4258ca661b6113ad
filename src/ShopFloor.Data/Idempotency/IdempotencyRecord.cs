namespace ShopFloor.Data.Idempotency;

/// <summary>A command that carried a client-made key: what it asked (as a hash) and what it was answered, so that a repeat changes nothing.</summary>
public sealed class IdempotencyRecord
{
    /// <summary>How long a key is remembered.</summary>
    public static readonly TimeSpan Kept = TimeSpan.FromDays(30);
    public const int LongestKey = 200;

    /// <summary>SHA-256 of caller, place and key; 64 hex digits.</summary>
    public required string Key { get; init; }

    /// <summary>SHA-256 of the parsed content.</summary>
    public required string ContentHash { get; init; }
    public DateTimeOffset CreatedAt { get; init; }

    /// <summary>JSON of the result; null when the answer was a failure.</summary>
    public string? Result { get; set; }

    /// <summary>JSON of the failure; null when the command succeeded.</summary>
    public string? Failure { get; set; }
}
