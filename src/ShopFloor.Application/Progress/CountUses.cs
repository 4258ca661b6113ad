using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Progress;

namespace ShopFloor.Application.Progress;

/// <summary>How often a link was opened since it was written down the last time.</summary>
public readonly record struct LinkUse(ProgressLinkId Link, long Times, DateTimeOffset Last);

/// <summary>Writes down how often links were opened. No event: that a customer looks is nothing the shop has done.</summary>
public sealed class CountUses(IDbContextFactory<ShopDbContext> contexts) : IUseCase
{
    public async Task RunAsync(LinkUse use, CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        await db.Set<ProgressLink>()
            .Where(l => l.Id == use.Link)
            .ExecuteUpdateAsync(
                set =>
                    set.SetProperty(l => l.Opened, l => l.Opened + use.Times)
                        .SetProperty(
                            l => l.LastOpenedAt,
                            l => l.LastOpenedAt == null || l.LastOpenedAt < use.Last ? use.Last : l.LastOpenedAt
                        ),
                ct
            );
    }
}
