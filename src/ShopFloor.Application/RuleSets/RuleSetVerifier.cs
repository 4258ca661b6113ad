using System.Globalization;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.History;
using ShopFloor.Data;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Application.RuleSets;

/// <summary>Every stored version of a rule set is the one whose hash the history names, none has gone, and every job finds the version it was built to.</summary>
public sealed class RuleSetVerifier : IVerifier
{
    public async Task<IReadOnlyList<string>> VerifyAsync(ShopDbContext db, CancellationToken ct)
    {
        var versions = await db.Set<RuleSetVersion>()
            .AsNoTracking()
            .OrderBy(v => v.Code)
            .ThenBy(v => v.Number)
            .ToListAsync(ct);
        var told = await ToldAsync(db, ct);
        List<string> differences =
        [
            .. versions.SelectMany(v => v.Audit().Select(a => Say(v.Code, v.Number, a))),
            .. versions
                .Where(v => told.GetValueOrDefault(v.Id.Value)?.Hash != v.ContentHash)
                .Select(v => Say(v.Code, v.Number, "its hash is not the one that the history names")),
            .. told.Where(t => versions.TrueForAll(v => v.Id.Value != t.Key))
                .Select(t => Say(t.Value.Code, t.Value.Number, "it was stored and is gone")),
        ];
        var kept = versions.Where(v => !v.Audit().Any()).ToDictionary(v => (v.Code, v.Number), v => v.Read().Citation);
        var jobs = await db.Set<JobInspection>()
            .AsNoTracking()
            .Select(i => new { i.JobId, i.RuleSets })
            .ToListAsync(ct);
        differences.AddRange(
            from job in jobs
            from used in job.RuleSets
            where kept.GetValueOrDefault((used.Code, used.Version)) != used.Citation
            select Say(used.Code, used.Version, $"job {job.JobId} was built to it and does not find it as it was")
        );
        return differences;
    }

    private static async Task<Dictionary<Guid, Told>> ToldAsync(ShopDbContext db, CancellationToken ct)
    {
        var rows = await db
            .Events.AsNoTracking()
            .Where(e => e.Type == RuleSetStore.Stored)
            .Select(e => new { e.SubjectId, e.Data })
            .ToListAsync(ct);
        return rows.ToDictionary(r => r.SubjectId, r => Told.Of(r.Data));
    }

    private static string Say(string code, int number, string what) =>
        string.Create(CultureInfo.InvariantCulture, $"Rule set {code}, version {number}: {what}.");

    private sealed record Told(string Code, int Number, string Hash)
    {
        public static Told Of(string data)
        {
            using var json = JsonDocument.Parse(data);
            var after = json.RootElement.GetProperty("after");
            return new(
                after.GetProperty("code").GetString()!,
                after.GetProperty("version").GetInt32(),
                after.GetProperty("contentSha256").GetString()!
            );
        }
    }
}
