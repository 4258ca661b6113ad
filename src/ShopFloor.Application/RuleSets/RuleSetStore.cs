using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Application.RuleSets;

/// <summary>Adds versions of rule sets, with their line in the history; shared by the start, the set-up and the owner's changes.</summary>
internal static class RuleSetStore
{
    /// <summary>Of the line in the history that names a stored version and its hash.</summary>
    public const string Stored = "ruleSet.stored";

    private const string Subject = "ruleSet";

    /// <summary>Changes that are named in the history one by one; a longer list ends with how many more there are.</summary>
    private const int MostNamed = 40;

    public static Task<RuleSetVersion?> NewestAsync(ShopDbContext db, string code, CancellationToken ct) =>
        db.Set<RuleSetVersion>().Where(v => v.Code == code).OrderByDescending(v => v.Number).FirstOrDefaultAsync(ct);

    /// <summary>Adds the next version of a set; of a set that is new, its place on the shelf too.</summary>
    public static async Task<RuleSetVersion> AddAsync(CommandScope scope, RuleSet rules, RuleSetOrigin origin)
    {
        var before = await NewestAsync(scope.Db, rules.Code, scope.Cancellation);
        if (before is null)
        {
            scope.Db.Add(RuleSetShelf.Of(rules.Code));
        }

        var version = RuleSetVersion.Store(
            scope.NewId<RuleSetVersionId>(),
            rules,
            NextNumber(before, rules, origin),
            origin,
            scope.Now,
            scope.Actor.Person
        );
        scope.Db.Add(version);
        var changes =
            before is null || before.Audit().Any() ? [] : RuleSetDifference.Between(before.Read(), rules).Sentences;
        scope.Record(
            new EventDraft(
                Stored,
                Subject,
                version.Id.Value,
                Before: before is null ? null : new { version = before.Number },
                After: new
                {
                    code = version.Code,
                    version = version.Number,
                    origin = version.Origin,
                    contentSha256 = version.ContentHash,
                    copyOf = rules.Document.CopyOf,
                    changes = changes.Count <= MostNamed
                        ? changes
                        : [.. changes.Take(MostNamed), $"and {changes.Count - MostNamed} more"],
                }
            )
        );
        return version;
    }

    /// <summary>A shipped file keeps the number it names itself where that is free; all else is counted on.</summary>
    private static int NextNumber(RuleSetVersion? before, RuleSet rules, RuleSetOrigin origin) =>
        Math.Max((before?.Number ?? 0) + 1, origin == RuleSetOrigin.Shipped ? rules.Version : 1);

    public static EventDraft ShelfEvent(string type, RuleSetVersion newest) =>
        new(type, Subject, newest.Id.Value, After: new { code = newest.Code, version = newest.Number });
}
