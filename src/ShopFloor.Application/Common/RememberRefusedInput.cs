using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Common;

/// <summary>Binds an idempotency key to input that could not even be read, so that the key cannot be used for something else later.</summary>
public sealed class RememberRefusedInput(IDbContextFactory<ShopDbContext> contexts, TimeProvider clock) : IUseCase
{
    public async Task RunAsync(Envelope envelope, Failure failure, CancellationToken ct)
    {
        if (IdempotencyStore.ClaimOf(envelope, "unreadable: " + failure.Sentence) is { } claim)
        {
            await using var db = await contexts.CreateDbContextAsync(ct);
            await IdempotencyStore.RememberFailureAsync(db, claim, failure, clock.GetUtcNow(), ct);
        }
    }
}
