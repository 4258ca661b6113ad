using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Common;

/// <summary>The one way in which anything is read by a user: permission checked, a fresh context that tracks nothing.</summary>
public sealed class QueryRunner(IDbContextFactory<ShopDbContext> contexts)
{
    public async Task<Outcome<T>> RunAsync<T>(
        Permission permission,
        Actor actor,
        Func<ShopDbContext, Task<Outcome<T>>> read,
        CancellationToken ct
    )
    {
        if (!actor.May(permission))
        {
            return new Failure.Forbidden("You do not have the role that this needs. Ask the owner.");
        }

        await using var db = await contexts.CreateDbContextAsync(ct);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTrackingWithIdentityResolution;
        return await read(db);
    }
}

/// <summary>A page of a list: page from 1, at most 200 rows.</summary>
public sealed record Page<T>(IReadOnlyList<T> Items, int PageNumber, int PageSize, int TotalCount)
{
    /// <summary>Number of the last page there is; 1 for an empty list.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public int LastNumber => Math.Max(1, (TotalCount + PageSize - 1) / PageSize);
}

/// <summary>Which page of a list is wanted.</summary>
public sealed record PageRequest(int Number, int Size)
{
    public const int LargestSize = 200;
    public const int DefaultSize = 50;

    public static PageRequest First { get; } = new(1, DefaultSize);

    public static Outcome<PageRequest> Read(int? page, int? pageSize)
    {
        var errors = new FieldErrors();
        errors.AddIf(page is < 1 or > 1_000_000, "page", "Pages are counted from 1.");
        errors.AddIf(pageSize is < 1 or > LargestSize, "pageSize", $"A page has 1 to {LargestSize} rows.");
        return errors.Any ? errors.ToFailure() : new PageRequest(page ?? 1, pageSize ?? DefaultSize);
    }

    /// <summary>Counts and cuts an ordered query.</summary>
    public async Task<Page<TOut>> CutAsync<TIn, TOut>(IQueryable<TIn> query, Func<TIn, TOut> map, CancellationToken ct)
    {
        var total = await query.CountAsync(ct);
        var rows = await query.Skip((Number - 1) * Size).Take(Size).ToListAsync(ct);
        return new Page<TOut>([.. rows.Select(map)], Number, Size, total);
    }
}
