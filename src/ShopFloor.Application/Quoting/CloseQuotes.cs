using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>Freezes a draft and takes every earlier revision out of play.</summary>
public sealed class SendQuote(CommandRunner runner) : IUseCase
{
    public sealed record Request(QuoteId Id);

    public Task<Outcome<QuoteView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        QuoteChange.RunAsync(
            runner,
            request.Id,
            request,
            envelope,
            async (scope, quote, today) =>
            {
                var edition = await scope
                    .Db.Set<PriceBookEdition>()
                    .SingleAsync(b => b.Id == quote.PriceBookId, scope.Cancellation);
                var sent = quote.Send(edition.Book, today, scope.Now);
                if (!sent.IsSuccess)
                {
                    return sent;
                }

                var earlier = await scope
                    .Db.Set<Quote>()
                    .Where(q =>
                        q.Number == quote.Number && q.Revision < quote.Revision && q.State != QuoteState.Replaced
                    )
                    .ToListAsync(scope.Cancellation);
                foreach (var old in earlier)
                {
                    var before = QuoteEvents.Facts(old);
                    var replaced = old.ReplaceBy(quote);
                    if (!replaced.IsSuccess)
                    {
                        return replaced;
                    }

                    scope.Record(QuoteEvents.Of("quote.replaced", old, before));
                }

                scope.Record(QuoteEvents.Of("quote.sent", quote));
                return Outcome.Ok;
            },
            ct
        );
}

/// <summary>Takes the customer's yes: by name, for exactly what was shown.</summary>
public sealed class AcceptQuote(CommandRunner runner) : IUseCase
{
    public sealed record Request(QuoteId Id, string? AcceptedBy, string? ContentHash);

    public Task<Outcome<QuoteView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        QuoteChange.RunAsync(
            runner,
            request.Id,
            request,
            envelope,
            (scope, quote, today) =>
            {
                var accepted = quote.Accept(request.AcceptedBy, request.ContentHash, today, scope.Now);
                if (accepted.IsSuccess)
                {
                    scope.Record(QuoteEvents.Of("quote.accepted", quote));
                }

                return Task.FromResult(accepted);
            },
            ct
        );
}

/// <summary>Closes a quote that the customer does not take.</summary>
public sealed class DeclineQuote(CommandRunner runner) : IUseCase
{
    /// <param name="Why">price, time, wentElsewhere, planDropped, noAnswer or other; absent means other.</param>
    public sealed record Request(QuoteId Id, string? Reason, string? Why = null);

    public Task<Outcome<QuoteView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        QuoteChange.RunAsync(
            runner,
            request.Id,
            request,
            envelope,
            (scope, quote, _) =>
            {
                if (LostReasons.Read(request.Why) is not { } why)
                {
                    return Task.FromResult<Outcome<Done>>(
                        Failure.Field("why", $"The reason is one of: {string.Join(", ", LostReasons.Words)}.")
                    );
                }

                var declined = quote.Decline(why, request.Reason, scope.Now);
                if (declined.IsSuccess)
                {
                    scope.Record(QuoteEvents.Of("quote.declined", quote));
                }

                return Task.FromResult(declined);
            },
            ct
        );
}

/// <summary>Words for why an offer was not taken.</summary>
public static class LostReasons
{
    public static IEnumerable<string> Words => Enum.GetValues<LostReason>().Select(Word);

    public static LostReason? Read(string? word) =>
        word is null
            ? LostReason.Other
            : Enum.GetValues<LostReason>().Where(r => Word(r) == word).Select(r => (LostReason?)r).FirstOrDefault();

    public static string Word(LostReason reason) =>
        char.ToLowerInvariant(reason.ToString()[0]) + reason.ToString()[1..];

    public static string Title(LostReason reason) =>
        reason switch
        {
            LostReason.Price => "too dear",
            LostReason.Time => "takes too long",
            LostReason.WentElsewhere => "goes elsewhere",
            LostReason.PlanDropped => "plan given up",
            LostReason.NoAnswer => "no answer",
            LostReason.Other => "another reason",
            _ => throw new ArgumentOutOfRangeException(nameof(reason), reason, "Unknown reason."),
        };
}
