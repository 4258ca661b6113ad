using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Application.RuleSets;

/// <summary>Stores the rule sets that came with the program as versions of the shop's: at the set-up, and at each start what a newer program brought.</summary>
/// <remarks>A file is known again by its content, so that a start which brings nothing new costs one read, an older server beside a newer one does not store its
/// files again, and of two that start at once the second finds what the first has stored.</remarks>
public sealed class LoadShippedRuleSets(
    CommandRunner runner,
    IDbContextFactory<ShopDbContext> contexts,
    RuleSetLibrary library
) : IUseCase
{
    /// <summary>At a start. Does nothing before the shop is set up.</summary>
    /// <returns>How many versions were stored.</returns>
    public Task<Outcome<int>> RunAsync(CancellationToken ct) => RunAsync(library.Shipped, ct);

    /// <param name="files">Those that came with the program.</param>
    /// <param name="ct">Gives up.</param>
    public async Task<Outcome<int>> RunAsync(IReadOnlyList<RuleSet> files, CancellationToken ct)
    {
        await using (var db = await contexts.CreateDbContextAsync(ct))
        {
            if (!await db.Shops.AnyAsync(ct) || (await NewAsync(db, files, ct)).Count == 0)
            {
                return 0;
            }
        }

        return await runner.RunUncheckedAsync<int>(
            Envelope.Of(Actor.System),
            null,
            async scope => await AddAsync(scope, files),
            ct
        );
    }

    /// <summary>In the transaction of the set-up.</summary>
    internal Task<int> AddAsync(CommandScope scope) => AddAsync(scope, library.Shipped);

    private static async Task<int> AddAsync(CommandScope scope, IReadOnlyList<RuleSet> files)
    {
        var added = await NewAsync(scope.Db, files, scope.Cancellation);
        foreach (var file in added)
        {
            await RuleSetStore.AddAsync(scope, file, RuleSetOrigin.Shipped);
        }

        return added.Count;
    }

    private static async Task<IReadOnlyList<RuleSet>> NewAsync(
        ShopDbContext db,
        IReadOnlyList<RuleSet> files,
        CancellationToken ct
    )
    {
        var known = await db.Set<RuleSetVersion>()
            .AsNoTracking()
            .Where(v => v.FileHash != null)
            .Select(v => v.FileHash!)
            .ToListAsync(ct);
        return [.. files.Where(f => !known.Contains(RuleSetVersion.HashOf(f)))];
    }
}
