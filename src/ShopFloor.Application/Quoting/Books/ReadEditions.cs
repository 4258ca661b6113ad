using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>Reads the editions of the price book and compares them.</summary>
public sealed class ReadEditions(QueryRunner runner, TimeProvider clock) : IUseCase
{
    /// <summary>Stands for the working copy where an edition may be named.</summary>
    public const string Draft = "draft";

    /// <summary>The editions, newest first.</summary>
    public Task<Outcome<EditionsView>> ListAsync(PageRequest page, Actor actor, CancellationToken ct) =>
        runner.RunAsync<EditionsView>(
            Permission.SeeMoney,
            actor,
            async db =>
            {
                var today = await TodayAsync(db, ct);
                var days = await db.Set<PriceBookEdition>()
                    .Select(e => new EditionDay(e.Edition, e.EffectiveFrom))
                    .ToListAsync(ct);
                var names = await db.Users.ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
                var counts = await db.Set<Quote>()
                    .GroupBy(q => q.PriceBookId)
                    .Select(g => new { g.Key, Count = g.Count() })
                    .ToDictionaryAsync(g => g.Key, g => g.Count, ct);
                var editions = await page.CutAsync(
                    db.Set<PriceBookEdition>().OrderByDescending(b => b.Edition),
                    e => new EditionRow(
                        e.Edition,
                        e.Book.Title,
                        e.EffectiveFrom,
                        StateOf(new EditionDay(e.Edition, e.EffectiveFrom), days, today),
                        e.AdoptedAt,
                        NameOf(e.AdoptedBy, names),
                        counts.GetValueOrDefault(e.Id)
                    ),
                    ct
                );
                return new EditionsView(today, editions);
            },
            ct
        );

    /// <summary>One edition's book.</summary>
    public Task<Outcome<PriceBook>> OneAsync(int edition, Actor actor, CancellationToken ct) =>
        runner.RunAsync<PriceBook>(
            Permission.SeeMoney,
            actor,
            async db => await FindAsync(db, edition, ct) is { } found ? found.Book : Failure.Missing("edition"),
            ct
        );

    /// <summary>Compares two editions, or an edition with the working copy, which only the owner sees. Without a name the edition in force is meant.</summary>
    public Task<Outcome<ComparisonView>> CompareAsync(string? from, string? to, Actor actor, CancellationToken ct)
    {
        var needed = from == Draft || to == Draft ? Permission.RunShop : Permission.SeeMoney;
        return runner.RunAsync<ComparisonView>(
            needed,
            actor,
            async db =>
            {
                var before = await NamedAsync(db, from, "from", ct);
                var after = await NamedAsync(db, to, "to", ct);
                return before.Then(b =>
                    after.Then<ComparisonView>(a => new ComparisonView(
                        b.Name,
                        a.Name,
                        PriceBookComparison.Between(b.Book, a.Book).Changes
                    ))
                );
            },
            ct
        );
    }

    /// <summary>The book of an edition, the working copy, or with null the edition in force.</summary>
    public Task<Outcome<PriceBook>> BookAsync(string? name, Actor actor, CancellationToken ct) =>
        runner.RunAsync<PriceBook>(
            name == Draft ? Permission.RunShop : Permission.SeeMoney,
            actor,
            async db => (await NamedAsync(db, name, "edition", ct)).Then<PriceBook>(n => n.Book),
            ct
        );

    internal static string? NameOf(PersonId? person, Dictionary<Guid, string> names) =>
        person is { } id ? names.GetValueOrDefault(id.Value) : null;

    private async Task<Outcome<(string Name, PriceBook Book)>> NamedAsync(
        ShopDbContext db,
        string? name,
        string path,
        CancellationToken ct
    )
    {
        if (name == Draft)
        {
            return await db.Set<PriceBookDraft>().SingleOrDefaultAsync(ct) is { } draft
                ? (Draft, draft.Book)
                : PriceBookDrafts.None;
        }

        if (name is null)
        {
            return await PriceBooks.InForceAsync(db, await TodayAsync(db, ct), ct) is { } current
                ? (Text(current.Edition), current.Book)
                : PriceBooks.None;
        }

        if (!int.TryParse(name, NumberStyles.None, CultureInfo.InvariantCulture, out var number))
        {
            return Failure.Field(
                path,
                $"'{name[..Math.Min(name.Length, 40)]}' is no edition; give its number, or draft."
            );
        }

        return await FindAsync(db, number, ct) is { } edition
            ? (Text(edition.Edition), edition.Book)
            : Failure.Missing("edition");
    }

    private async Task<DateOnly> TodayAsync(ShopDbContext db, CancellationToken ct) =>
        (await db.Shops.SingleAsync(ct)).LocalDay(clock.GetUtcNow());

    private static Task<PriceBookEdition?> FindAsync(ShopDbContext db, int edition, CancellationToken ct) =>
        db.Set<PriceBookEdition>().SingleOrDefaultAsync(e => e.Edition == edition, ct);

    private static EditionState StateOf(EditionDay edition, List<EditionDay> all, DateOnly today)
    {
        var newer = all.Where(e => e.Edition > edition.Edition).ToList();
        return newer.Any(e => e.From <= edition.From) ? EditionState.Overtaken
            : edition.From > today ? EditionState.Planned
            : newer.Any(e => e.From <= today) ? EditionState.Past
            : EditionState.InForce;
    }

    private sealed record EditionDay(int Edition, DateOnly From);

    private static string Text(int edition) => edition.ToString(CultureInfo.InvariantCulture);
}
