using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>Begins a working copy of the edition in force, or of another one.</summary>
public sealed class BeginPriceBookDraft(CommandRunner runner) : IUseCase
{
    /// <param name="FromEdition">Null for the edition in force.</param>
    public sealed record Request(int? FromEdition);

    public Task<Outcome<DraftView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<DraftView>(
            Permission.RunShop,
            envelope,
            request,
            async scope =>
            {
                if (await PriceBookDrafts.FindAsync(scope.Db, scope.Cancellation) is not null)
                {
                    return Failure.Because(
                        "draftExists",
                        "There is a draft of the price book already. Go on with it, adopt it or discard it."
                    );
                }

                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var edition = request.FromEdition is { } number
                    ? await scope.Db.Set<PriceBookEdition>().SingleOrDefaultAsync(e => e.Edition == number, ct)
                    : await PriceBooks.InForceAsync(scope.Db, today, ct);
                if (edition is null)
                {
                    return request.FromEdition is null ? PriceBooks.None : Failure.Missing("edition");
                }

                var draft = PriceBookDraft.Begin(
                    scope.NewId<PriceBookDraftId>(),
                    edition,
                    scope.Now,
                    scope.Actor.Person
                );
                scope.Db.Add(draft);
                scope.Record(PriceBookDrafts.Event("priceBookDraft.begun", draft));
                await scope.SaveAsync();
                return await PriceBookDrafts.ViewAsync(scope.Db, draft, today, ct);
            },
            ct
        );
}

/// <summary>Saves the working copy as it was changed, finished or not.</summary>
public sealed class SavePriceBookDraft(CommandRunner runner) : IUseCase
{
    public sealed record Request(PriceBook Book);

    public Task<Outcome<DraftView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        PriceBookDrafts.ChangeAsync(
            runner,
            envelope,
            request,
            (scope, draft) => draft.Change(request.Book, scope.Now, scope.Actor.Person),
            ct
        );
}

/// <summary>Throws the working copy away.</summary>
public sealed class DiscardPriceBookDraft(CommandRunner runner) : IUseCase
{
    public Task<Outcome<Done>> RunAsync(Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.RunShop,
            envelope,
            null,
            async scope =>
            {
                if (await PriceBookDrafts.FindAsync(scope.Db, scope.Cancellation) is not { } draft)
                {
                    return PriceBookDrafts.None;
                }

                if (scope.Stale(draft) is { } stale)
                {
                    return stale;
                }

                scope.Db.Remove(draft);
                scope.Record(PriceBookDrafts.Event("priceBookDraft.discarded", draft));
                return Outcome.Ok;
            },
            ct
        );
}

/// <summary>Adopts the working copy as the next edition, in force from a day; the working copy is gone then.</summary>
public sealed class AdoptPriceBookDraft(CommandRunner runner) : IUseCase
{
    /// <param name="EffectiveFrom">Its first day, today or later; null for today.</param>
    public sealed record Request(DateOnly? EffectiveFrom);

    public Task<Outcome<PriceBook>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<PriceBook>(
            Permission.RunShop,
            envelope,
            request,
            async scope =>
            {
                if (await PriceBookDrafts.FindAsync(scope.Db, scope.Cancellation) is not { } draft)
                {
                    return PriceBookDrafts.None;
                }

                if (scope.Stale(draft) is { } stale)
                {
                    return stale;
                }

                var adopted = await PriceBooks.AdoptAsync(
                    scope,
                    await scope.ShopAsync(),
                    draft.Book,
                    request.EffectiveFrom
                );
                if (adopted.IsSuccess)
                {
                    scope.Db.Remove(draft);
                }

                return adopted.Then<PriceBook>(edition => edition.Book);
            },
            ct
        );
}
