using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Conventions;
using ShopFloor.Data.Idempotency;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Common;

/// <summary>Remembers commands by their client-made key, in the command's own transaction.</summary>
internal static class IdempotencyStore
{
    /// <summary>A key and the content it came with, as stored.</summary>
    public sealed record Claim(string Key, string ContentHash);

    public static Claim? ClaimOf(Envelope envelope, object? content) =>
        envelope.IdempotencyKey is { } key
            ? new Claim(
                Sha256($"{envelope.IdempotencyScope}\n{key}"),
                Sha256(JsonSerializer.Serialize(new { content, envelope.OccurredAt }, StoredJson.Options))
            )
            : null;

    /// <summary>Takes the key for this transaction. Waits while another one holds it. False: it was used before.</summary>
    public static async Task<bool> TryTakeAsync(ShopDbContext db, Claim claim, DateTimeOffset now, CancellationToken ct)
    {
        // Instants are stored differently by the two databases: let the model write them.
        var sql = db.Database.IsSqlite()
            ? (FormattableString)
                $"""
                    INSERT INTO "IdempotencyRecords" ("Key", "ContentHash", "CreatedAt") VALUES ({claim.Key}, {claim.ContentHash}, {now.UtcTicks}) ON CONFLICT DO NOTHING
                    """
            : $"""
                INSERT INTO "IdempotencyRecords" ("Key", "ContentHash", "CreatedAt") VALUES ({claim.Key}, {claim.ContentHash}, {now}) ON CONFLICT DO NOTHING
                """;
        return await db.Database.ExecuteSqlAsync(sql, ct) == 1;
    }

    /// <summary>The answer given the first time, or a refusal where the content differs.</summary>
    public static async Task<Outcome<T>> ReplayAsync<T>(ShopDbContext db, Claim claim, CancellationToken ct)
    {
        var record = await db.IdempotencyRecords.AsNoTracking().SingleAsync(r => r.Key == claim.Key, ct);
        if (record.ContentHash != claim.ContentHash)
        {
            return Failure.Because(
                "idempotencyKey",
                "This Idempotency-Key was used before with other content. Use a new key for a new command."
            );
        }

        return record.Failure is { } failure
            ? ReadFailure(failure)
            : JsonSerializer.Deserialize<T>(record.Result!, StoredJson.Options)!;
    }

    public static Task RememberResultAsync<T>(ShopDbContext db, Claim claim, T result, CancellationToken ct) =>
        db
            .IdempotencyRecords.Where(r => r.Key == claim.Key)
            .ExecuteUpdateAsync(
                s => s.SetProperty(r => r.Result, JsonSerializer.Serialize(result, StoredJson.Options)),
                ct
            );

    /// <summary>Remembers a 400 or 409; other failures may be tried again with the same key.</summary>
    public static async Task RememberFailureAsync(
        ShopDbContext db,
        Claim claim,
        Failure failure,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        if (failure is not (Failure.Invalid or Failure.Refused))
        {
            return;
        }

        await using var transaction = await db.Database.BeginTransactionAsync(ct);
        if (await TryTakeAsync(db, claim, now, ct))
        {
            await db
                .IdempotencyRecords.Where(r => r.Key == claim.Key)
                .ExecuteUpdateAsync(s => s.SetProperty(r => r.Failure, WriteFailure(failure)), ct);
            await transaction.CommitAsync(ct);
        }
    }

    private static string WriteFailure(Failure failure) =>
        JsonSerializer.Serialize(
            failure switch
            {
                Failure.Invalid invalid => new StoredFailure(invalid.Errors, null),
                Failure.Refused refused => new StoredFailure(null, refused.Reasons),
                _ => throw new InvalidOperationException("Only bad input and refusals are remembered."),
            },
            StoredJson.Options
        );

    private static Failure ReadFailure(string json)
    {
        var stored = JsonSerializer.Deserialize<StoredFailure>(json, StoredJson.Options)!;
        return stored.Errors is { } errors ? new Failure.Invalid(errors) : new Failure.Refused(stored.Reasons!);
    }

    private static string Sha256(string text) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    private sealed record StoredFailure(
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<FieldError>? Errors,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<Reason>? Reasons
    );
}
