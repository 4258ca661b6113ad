using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Application.RuleSets;

/// <summary>The rule sets a job can be built to: the versions that the shop has stored, and those shipped with the program where it has none of them.</summary>
/// <remarks>
/// Kept in memory; <see cref="RefreshAsync"/> asks the database whether there are others, so that two servers agree. A version that was changed behind the
/// program's back is never used: neither it nor an older one stands in its place, until somebody has looked.
/// </remarks>
public sealed class RuleSetLibrary
{
    private volatile Loaded loaded;

    public RuleSetLibrary()
    {
        Shipped = ShippedData.ReadAll("rule-sets", RuleSetReader.Read);
        loaded = new Loaded([], [], Shipped);
    }

    /// <summary>Those that came with the program, by code.</summary>
    public IReadOnlyList<RuleSet> Shipped { get; }

    /// <summary>The newest version of each set that new quotes and jobs may take, by code.</summary>
    public IReadOnlyList<RuleSet> Offered => loaded.Offered;

    /// <summary>The newest version, withdrawn or not.</summary>
    public RuleSet? Find(string code) => loaded.Newest.GetValueOrDefault(code);

    /// <summary>Exactly this version.</summary>
    public RuleSet? Find(string code, int version) => loaded.Versions.GetValueOrDefault((code, version));

    /// <summary>The sets that a job is measured against: in the versions it was built to where it has them, else the newest.</summary>
    internal RuleSet? Find(string code, IReadOnlyList<RuleSetUsed>? keeps) =>
        keeps?.FirstOrDefault(k => k.Code == code) is { } kept ? Find(code, kept.Version) : Find(code);

    /// <summary>Takes over what was stored, withdrawn or offered again since the last look.</summary>
    public async Task RefreshAsync(ShopDbContext db, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(db);
        var ids = await db.Set<RuleSetVersion>().AsNoTracking().Select(v => v.Id).ToListAsync(ct);
        var withdrawn = await db.Set<RuleSetShelf>()
            .AsNoTracking()
            .Where(s => s.WithdrawnAt != null)
            .Select(s => s.Code)
            .ToListAsync(ct);
        var before = loaded;
        if (
            before.Stored.Count == ids.Count
            && ids.TrueForAll(before.Stored.ContainsKey)
            && before.Withdrawn.SetEquals(withdrawn)
        )
        {
            return;
        }

        var missing = ids.Where(i => !before.Stored.ContainsKey(i)).ToList();
        var rows = await db.Set<RuleSetVersion>().AsNoTracking().Where(v => missing.Contains(v.Id)).ToListAsync(ct);
        var stored = ids.Where(before.Stored.ContainsKey).ToDictionary(i => i, i => before.Stored[i]);
        foreach (var row in rows)
        {
            stored[row.Id] = new Kept(row.Code, row.Number, row.Audit().Any() ? null : row.Read());
        }

        loaded = new Loaded(stored, [.. withdrawn], Shipped);
    }

    /// <param name="Rules">Null where what is stored is not what was written.</param>
    private sealed record Kept(string Code, int Number, RuleSet? Rules);

    private sealed class Loaded
    {
        public Loaded(
            Dictionary<RuleSetVersionId, Kept> stored,
            HashSet<string> withdrawn,
            IReadOnlyList<RuleSet> shipped
        )
        {
            (Stored, Withdrawn) = (stored, withdrawn);
            var codes = stored.Values.Select(v => v.Code).ToHashSet(StringComparer.Ordinal);
            List<Kept> all =
            [
                .. stored.Values,
                .. shipped.Where(s => !codes.Contains(s.Code)).Select(s => new Kept(s.Code, s.Version, s)),
            ];
            Versions = all.Where(v => v.Rules is not null).ToDictionary(v => (v.Code, v.Number), v => v.Rules!);
            Newest = all.GroupBy(v => v.Code)
                .Select(g => g.MaxBy(v => v.Number)!.Rules)
                .OfType<RuleSet>()
                .ToDictionary(r => r.Code, StringComparer.Ordinal);
            Offered =
            [
                .. Newest.Values.Where(r => !withdrawn.Contains(r.Code)).OrderBy(r => r.Code, StringComparer.Ordinal),
            ];
        }

        public IReadOnlyDictionary<RuleSetVersionId, Kept> Stored { get; }
        public HashSet<string> Withdrawn { get; }
        public IReadOnlyDictionary<(string, int), RuleSet> Versions { get; }
        public IReadOnlyDictionary<string, RuleSet> Newest { get; }
        public IReadOnlyList<RuleSet> Offered { get; }
    }
}
