using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>Finds the working copy and shows it; shared by the commands on it.</summary>
internal static class PriceBookDrafts
{
    /// <summary>What is said where there is no working copy.</summary>
    public static Failure None { get; } =
        new Failure.NotFound("There is no draft of the price book. Begin one from the edition in force.");

    /// <summary>Runs a change of the working copy, made on the version in the envelope, and answers with what stands then.</summary>
    public static Task<Outcome<DraftView>> ChangeAsync(
        CommandRunner runner,
        Envelope envelope,
        object? content,
        Func<CommandScope, PriceBookDraft, Outcome<Done>> change,
        CancellationToken ct
    ) =>
        runner.RunAsync<DraftView>(
            Permission.RunShop,
            envelope,
            content,
            async scope =>
            {
                if (await FindAsync(scope.Db, scope.Cancellation) is not { } draft)
                {
                    return None;
                }

                if (scope.Stale(draft) is { } stale)
                {
                    return stale;
                }

                if (change(scope, draft).Failure is { } failure)
                {
                    return failure;
                }

                scope.Record(Event("priceBookDraft.changed", draft));
                await scope.SaveAsync();
                return await ViewAsync(scope.Db, draft, (await scope.ShopAsync()).LocalDay(scope.Now), ct);
            },
            ct
        );

    public static Task<PriceBookDraft?> FindAsync(ShopDbContext db, CancellationToken ct) =>
        db.Set<PriceBookDraft>().SingleOrDefaultAsync(ct);

    public static async Task<DraftView> ViewAsync(
        ShopDbContext db,
        PriceBookDraft draft,
        DateOnly today,
        CancellationToken ct
    )
    {
        var names = await db.Users.ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
        var current = await PriceBooks.InForceAsync(db, today, ct);
        return new DraftView(
            draft.Version,
            draft.FromEdition,
            draft.BegunAt,
            ReadEditions.NameOf(draft.BegunBy, names),
            draft.ChangedAt,
            ReadEditions.NameOf(draft.ChangedBy, names),
            draft.Book,
            ProblemsOf(draft.Book),
            current is null ? [] : PriceBookComparison.Between(current.Book, draft.Book).Changes
        );
    }

    /// <summary>What stands in the way of adopting a book.</summary>
    public static IReadOnlyList<FieldError> ProblemsOf(PriceBook book) =>
        PriceBookRules.Check(book).Failure is Failure.Invalid invalid ? invalid.Errors : [];

    /// <summary>Facts of the working copy for the history; its prices are in the edition that comes of it.</summary>
    public static EventDraft Event(string type, PriceBookDraft draft) =>
        new(type, "priceBook", draft.Id.Value, After: new { draft.FromEdition });
}

/// <summary>The working copy of the price book.</summary>
public sealed class GetPriceBookDraft(QueryRunner runner, TimeProvider clock) : IUseCase
{
    public Task<Outcome<DraftView>> RunAsync(Actor actor, CancellationToken ct) =>
        runner.RunAsync<DraftView>(
            Permission.RunShop,
            actor,
            async db =>
                await PriceBookDrafts.FindAsync(db, ct) is { } draft
                    ? await PriceBookDrafts.ViewAsync(
                        db,
                        draft,
                        (await db.Shops.SingleAsync(ct)).LocalDay(clock.GetUtcNow()),
                        ct
                    )
                    : PriceBookDrafts.None,
            ct
        );
}
