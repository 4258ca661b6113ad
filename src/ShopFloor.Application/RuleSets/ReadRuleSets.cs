using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Application.RuleSets;

/// <summary>Reads rule sets: the list, one of them in any stored version, its file, and what differs between two.</summary>
public sealed class ReadRuleSets(QueryRunner queries, RuleSetLibrary library) : IUseCase
{
    /// <summary>The newest version of each.</summary>
    public Task<Outcome<IReadOnlyList<RuleSetRow>>> ListAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<RuleSetRow>>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                await library.RefreshAsync(db, ct);
                var shipped = await ShippedAsync(db, ct);
                var codes = await db.Set<RuleSetShelf>().Select(s => s.Code).ToListAsync(ct);
                return codes
                    .Union(library.Shipped.Select(s => s.Code))
                    .Order(StringComparer.Ordinal)
                    .Select(c => library.Find(c))
                    .OfType<RuleSet>()
                    .Select(r => Row(r, shipped))
                    .ToList();
            },
            ct
        );

    /// <summary>The sets that new quotes and jobs may take.</summary>
    public Task<Outcome<IReadOnlyList<RuleSet>>> OfferedAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<RuleSet>>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                await library.RefreshAsync(db, ct);
                return Outcome<IReadOnlyList<RuleSet>>.Success(library.Offered);
            },
            ct
        );

    /// <param name="version">Null for the newest.</param>
    public Task<Outcome<RuleSetView>> OneAsync(string code, int? version, Actor actor, CancellationToken ct) =>
        queries.RunAsync<RuleSetView>(
            Permission.SeeFloor,
            actor,
            async db =>
                await RowAsync(db, code, version, ct) is { } row ? await ViewAsync(db, row, ct)
                : version is null ? Failure.Missing("rule set")
                : Failure.Missing("version of this rule set"),
            ct
        );

    /// <summary>One version in the published format.</summary>
    public Task<Outcome<string>> FileAsync(string code, int? version, Actor actor, CancellationToken ct) =>
        queries.RunAsync<string>(
            Permission.SeeFloor,
            actor,
            async db =>
                await RowAsync(db, code, version, ct) is { } row
                    ? Intact(row).Then<string>(r => RuleSetReader.Write(r.Document))
                    : Failure.Missing("version of this rule set"),
            ct
        );

    /// <summary>What differs.</summary>
    /// <param name="code">The set.</param>
    /// <param name="with">The set whose version <paramref name="from"/> is; null for the same one.</param>
    /// <param name="from">The version compared from; null for the one before <paramref name="to"/>, or the original's newest.</param>
    /// <param name="to">The version of <paramref name="code"/>; null for the newest.</param>
    public Task<Outcome<RuleSetComparison>> CompareAsync(
        string code,
        string? with,
        int? from,
        int? to,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<RuleSetComparison>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var other = string.IsNullOrEmpty(with) ? code : with;
                var after = await RowAsync(db, code, to, ct);
                var before =
                    after is not null && from is null && other == code
                        ? await db.Set<RuleSetVersion>()
                            .Where(v => v.Code == code && v.Number < after.Number)
                            .OrderByDescending(v => v.Number)
                            .FirstOrDefaultAsync(ct)
                        : await RowAsync(db, other, from, ct);
                return before is null || after is null
                    ? Failure.Missing("version to compare with")
                    : Intact(before).Then(b => Intact(after).Then<RuleSetComparison>(a => Compare(b, a)));
            },
            ct
        );

    /// <summary>The sets that a job keeps, with what is newer.</summary>
    internal async Task<IReadOnlyList<JobRuleSetView>> OfJobAsync(
        ShopDbContext db,
        IReadOnlyList<RuleSetUsed> kept,
        CancellationToken ct
    )
    {
        await library.RefreshAsync(db, ct);
        return [.. kept.Select(OfJob)];
    }

    internal static async Task<RuleSetView> ViewAsync(ShopDbContext db, RuleSetVersion row, CancellationToken ct)
    {
        var rules = row.Read();
        var all = await db.Set<RuleSetVersion>()
            .AsNoTracking()
            .Where(v => v.Code == row.Code)
            .OrderByDescending(v => v.Number)
            .ToListAsync(ct);
        var people = all.Select(v => v.StoredBy).OfType<PersonId>().Select(p => p.Value).Distinct().ToList();
        var names = await db
            .Users.Where(u => people.Contains(u.Id))
            .ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
        var isOffered = !await db.Set<RuleSetShelf>().AnyAsync(s => s.Code == row.Code && s.WithdrawnAt != null, ct);
        return new RuleSetView(
            rules.Code,
            rules.Version,
            rules.Document.Publisher,
            rules.Title,
            rules.Document.Edition,
            rules.Document.DateRead,
            rules.Document.Caution,
            RuleSet.Advice,
            rules.Figures,
            isOffered,
            all.TrueForAll(v => v.Origin != RuleSetOrigin.Shipped),
            rules.Document.CopyOf,
            rules.Document.CopyOfVersion,
            all.Count > 0 ? all[0].Number : row.Number,
            row.ContentHash,
            [
                .. all.Select(v => new RuleSetVersionView(
                    v.Number,
                    v.Origin,
                    v.ContentHash,
                    v.StoredAt,
                    v.StoredBy is { } by ? names.GetValueOrDefault(by.Value) : null,
                    !v.Audit().Any()
                )),
            ]
        );
    }

    private JobRuleSetView OfJob(RuleSetUsed used)
    {
        var own = library.Find(used.Code, used.Version);
        var newest = library.Find(used.Code) is { } found && found.Version > used.Version ? found : null;
        return new JobRuleSetView(
            used.Code,
            used.Version,
            used.Citation,
            own?.Document.Publisher,
            own?.Title,
            own?.Document.Edition,
            own?.Document.DateRead,
            newest?.Version,
            own is null || newest is null ? [] : RuleSetDifference.Between(own, newest).Sentences,
            own?.Figures.Any(f => f.Kind == FigureKind.SizeAlternatives) ?? false
        );
    }

    private RuleSetRow Row(RuleSet set, HashSet<string> shipped) =>
        new(
            set.Code,
            set.Version,
            set.Document.Publisher,
            set.Title,
            set.Document.Edition,
            set.Document.DateRead,
            set.Document.Caution,
            RuleSet.Advice,
            set.Figures,
            library.Offered.Contains(set),
            !shipped.Contains(set.Code)
        );

    private static RuleSetComparison Compare(RuleSet before, RuleSet after)
    {
        var difference = RuleSetDifference.Between(before, after);
        return new RuleSetComparison(
            Name(before),
            Name(after),
            difference.About,
            difference.Figures,
            difference.Sentences,
            RuleSet.Advice
        );
    }

    private static RuleSetName Name(RuleSet set) => new(set.Code, set.Version, set.Citation);

    private static Outcome<RuleSet> Intact(RuleSetVersion row) =>
        row.Audit().Any()
            ? Failure.Because(
                "damaged",
                $"Version {row.Number} of {row.Code} was changed behind the program's back and is not shown as the book's. Have the owner run the check of what is stored."
            )
            : row.Read();

    private static Task<RuleSetVersion?> RowAsync(ShopDbContext db, string code, int? version, CancellationToken ct) =>
        db.Set<RuleSetVersion>()
            .AsNoTracking()
            .Where(v => v.Code == code && (version == null || v.Number == version))
            .OrderByDescending(v => v.Number)
            .FirstOrDefaultAsync(ct);

    private async Task<HashSet<string>> ShippedAsync(ShopDbContext db, CancellationToken ct) =>
        [
            .. library.Shipped.Select(s => s.Code),
            .. await db.Set<RuleSetVersion>()
                .Where(v => v.Origin == RuleSetOrigin.Shipped)
                .Select(v => v.Code)
                .Distinct()
                .ToListAsync(ct),
        ];
}
