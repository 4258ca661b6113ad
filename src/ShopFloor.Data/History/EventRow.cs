using System.Globalization;
using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;

namespace ShopFloor.Data.History;

/// <summary>One line of the append-only history. Holds ids, never names or contacts, so that a person can be forgotten while every hash stays valid.</summary>
public sealed class EventRow
{
    /// <summary>Layout of <see cref="Data"/> and of what is hashed.</summary>
    public const int CurrentSchema = 1;

    /// <summary>1, 2, 3 … in the order of commits, without gaps.</summary>
    public long Sequence { get; init; }
    public Guid Id { get; init; }
    public int Schema { get; init; }

    /// <summary>What happened, in the past tense: <c>quote.sent</c>.</summary>
    public required string Type { get; init; }

    /// <summary>Kind of thing it happened to: <c>quote</c>.</summary>
    public required string Subject { get; init; }
    public Guid SubjectId { get; init; }

    /// <summary>The job it belongs to, for the job's history.</summary>
    public JobId? Job { get; init; }

    /// <summary>When it happened, by the device.</summary>
    public DateTimeOffset OccurredAt { get; init; }

    /// <summary>When it was recorded, by the server.</summary>
    public DateTimeOffset RecordedAt { get; init; }
    public ActorKind ActorKind { get; init; }
    public PersonId? Person { get; init; }
    public Guid? Through { get; init; }
    public string? Device { get; init; }

    /// <summary>Canonical JSON: <c>{"before":…,"after":…}</c>.</summary>
    public required string Data { get; init; }

    /// <summary>Hash of the line before; 64 zeros for the first.</summary>
    public required string PreviousHash { get; init; }

    /// <summary>SHA-256 over all of the above.</summary>
    public required string Hash { get; init; }

    public static string FirstHash { get; } = new('0', 64);

    /// <summary>Works the hash out anew from what the line says.</summary>
    public string ComputeHash() =>
        CanonicalJson.Sha256(
            CanonicalJson.Write(
                new JsonObject
                {
                    ["sequence"] = Sequence,
                    ["id"] = Id.ToString(),
                    ["schema"] = Schema,
                    ["type"] = Type,
                    ["subject"] = Subject,
                    ["subjectId"] = SubjectId.ToString(),
                    ["job"] = Job?.ToString(),
                    ["occurredAt"] = Instant(OccurredAt),
                    ["recordedAt"] = Instant(RecordedAt),
                    ["actorKind"] = ActorKind.ToString(),
                    ["person"] = Person?.ToString(),
                    ["through"] = Through?.ToString(),
                    ["device"] = Device,
                    ["data"] = Data,
                    ["previousHash"] = PreviousHash,
                }
            )
        );

    /// <summary>The same line with its hash filled in.</summary>
    public EventRow Sealed() =>
        new()
        {
            Sequence = Sequence,
            Id = Id,
            Schema = Schema,
            Type = Type,
            Subject = Subject,
            SubjectId = SubjectId,
            Job = Job,
            OccurredAt = OccurredAt,
            RecordedAt = RecordedAt,
            ActorKind = ActorKind,
            Person = Person,
            Through = Through,
            Device = Device,
            Data = Data,
            PreviousHash = PreviousHash,
            Hash = ComputeHash(),
        };

    // Milliseconds: both databases keep at least that much, so the hash can be worked out again from what was stored.
    private static string Instant(DateTimeOffset at) =>
        at.ToUniversalTime().ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);
}
