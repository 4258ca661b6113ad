using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.RuleSets;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>What was chosen and assumed in a quote, in the words of the price book it was made with.</summary>
/// <param name="Zone">The shop's zone, for times beside it.</param>
public sealed record QuoteDescription(
    IReadOnlyList<(string Label, string Value)> Choices,
    IReadOnlyList<(string Label, string Value)> Condition,
    TimeZoneInfo Zone
);

/// <summary>Words a quote for screens and papers.</summary>
public sealed class DescribeQuote(QueryRunner runner, RuleSetLibrary ruleSets) : IUseCase
{
    public Task<Outcome<QuoteDescription>> RunAsync(QuoteId id, Actor actor, CancellationToken ct) =>
        runner.RunAsync<QuoteDescription>(
            Permission.SeeMoney,
            actor,
            async db =>
                await QuoteReader.FindAsync(db, id, ct) is { } quote
                    ? await OfAsync(db, quote, ct)
                    : Failure.Missing("quote"),
            ct
        );

    internal async Task<QuoteDescription> OfAsync(ShopDbContext db, Quote quote, CancellationToken ct)
    {
        var edition = await db.Set<PriceBookEdition>().AsNoTracking().SingleAsync(b => b.Id == quote.PriceBookId, ct);
        var shop = await db.Shops.AsNoTracking().SingleAsync(ct);
        await ruleSets.RefreshAsync(db, ct);
        var (book, scope) = (edition.Book, quote.Scope);
        return new QuoteDescription(
            [
                ("What is sold", book.WhatIsSold(scope)),
                .. scope
                    .Doors.OrderBy(d => d.Door)
                    .Select(d =>
                        (
                            d.Door == DoorSide.Left ? "Left door bar" : "Right door bar",
                            book.FindHinge(d.HingeOptionCode)?.Title ?? d.HingeOptionCode
                        )
                    ),
                ("Use", book.Uses.FirstOrDefault(u => u.Code == scope.UseCode)?.Title ?? scope.UseCode),
                (
                    "Built to",
                    scope.RuleSetCodes.Count == 0
                        ? "no rule set"
                        : string.Join("; ", scope.RuleSetCodes.Select(c => ruleSets.Find(c)?.Citation ?? c))
                ),
            ],
            [.. book.Questions.Select(q => (q.Title, PriceBook.AnswerTo(q, scope.Condition).Title))],
            shop.Zone
        );
    }
}
