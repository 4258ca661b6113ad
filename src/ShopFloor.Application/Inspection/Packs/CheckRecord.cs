using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Inspection.Packs;

namespace ShopFloor.Application.Inspection.Packs;

/// <summary>What anybody may learn who holds a record's hash: that it exists, whether it is unchanged, when it was signed. Nothing of what it says.</summary>
/// <param name="IsUnchanged">The stored record still has this hash.</param>
/// <param name="WithdrawnOn">The day the sign-off was taken back; null while it stands.</param>
public sealed record RecordStanding(
    string ShopName,
    string Hash,
    bool IsUnchanged,
    DateOnly SignedOn,
    DateOnly? WithdrawnOn
);

/// <summary>Looks a record up by its hash. Nobody is asked who they are; the hash says nothing about the car.</summary>
public sealed class CheckRecord(IDbContextFactory<ShopDbContext> contexts) : IUseCase
{
    /// <summary>Largest file that is checked here; larger ones can be hashed by any tool.</summary>
    public const int LargestFile = 4 * 1024 * 1024;

    /// <summary>Null where no record has this hash.</summary>
    public async Task<RecordStanding?> FindAsync(string hash, CancellationToken ct)
    {
        if (hash.Length != 64 || !hash.All(char.IsAsciiHexDigitLower))
        {
            return null;
        }

        await using var db = await contexts.CreateDbContextAsync(ct);
        var pack = await db.Set<InspectionPack>().AsNoTracking().SingleOrDefaultAsync(p => p.RecordHash == hash, ct);
        if (pack is null)
        {
            return null;
        }

        var shop = await db.Shops.AsNoTracking().SingleAsync(ct);
        var signOff = await db.Set<SignOff>().AsNoTracking().SingleAsync(s => s.Id == pack.SignOffId, ct);
        return new RecordStanding(
            shop.Name,
            hash,
            pack.Audit().Count == 0,
            shop.LocalDay(signOff.SignedAt),
            signOff.WithdrawnAt is { } at ? shop.LocalDay(at) : null
        );
    }

    /// <summary>Whether a file holds the record with this hash: byte for byte, or the same JSON written differently (RFC 8785).</summary>
    public static bool IsRecord(ReadOnlySpan<byte> file, string hash)
    {
        try
        {
            var text = new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(file);
            return CanonicalJson.Sha256(text) == hash
                || CanonicalJson.Sha256(CanonicalJson.Write(JsonNode.Parse(text))) == hash;
        }
        catch (Exception exception) when (exception is JsonException or ArgumentException or InvalidOperationException)
        {
            // No text, no JSON, a key twice, half a character, or a number that no record holds: then it is not the record.
            return false;
        }
    }
}
