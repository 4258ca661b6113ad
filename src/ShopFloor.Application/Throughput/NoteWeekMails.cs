using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Throughput;

namespace ShopFloor.Application.Throughput;

/// <summary>Notes on Monday, from the hour each person chose, that last week's figures go to them. Several servers may do so: the database takes one mail for a person and Monday.</summary>
public sealed class NoteWeekMails(CommandRunner runner, IDbContextFactory<ShopDbContext> contexts, TimeProvider clock)
    : IUseCase
{
    /// <summary>How many were noted.</summary>
    public async Task<int> RunOnceAsync(CancellationToken ct)
    {
        var noted = 0;
        foreach (var (person, monday) in await DueAsync(ct))
        {
            var outcome = await runner.RunAsync<bool>(
                Permission.RunShop,
                Envelope.Of(Actor.System),
                null,
                async scope =>
                {
                    // Looked at again within the transaction: another server may have been first, and its row is then found here.
                    if (await IsNotedAsync(scope.Db, person, monday, scope.Cancellation))
                    {
                        return false;
                    }

                    WeekMails.Add(scope, WeekMail.Due(scope.NewId<WeekMailId>(), person, monday, scope.Now));
                    return true;
                },
                ct
            );
            noted += outcome is { IsSuccess: true, Value: true } ? 1 : 0;
        }

        return noted;
    }

    /// <summary>Without a transaction: mostly there is nothing to write.</summary>
    private async Task<List<(PersonId Person, DateOnly Monday)>> DueAsync(CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        if (await db.Shops.AsNoTracking().SingleOrDefaultAsync(ct) is not { } shop)
        {
            return [];
        }

        var due = new List<(PersonId, DateOnly)>();
        foreach (var wish in await db.Set<WeekMailWish>().AsNoTracking().Where(w => w.IsOn).ToListAsync(ct))
        {
            if (wish.DueOn(clock.GetUtcNow(), shop) is { } monday && !await IsNotedAsync(db, wish.Id, monday, ct))
            {
                due.Add((wish.Id, monday));
            }
        }

        return due;
    }

    private static Task<bool> IsNotedAsync(ShopDbContext db, PersonId person, DateOnly monday, CancellationToken ct) =>
        db.Set<WeekMail>().AnyAsync(m => m.Person == person && m.DueOn == monday, ct);
}
