using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.RuleSets;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>What can be chosen in a quote.</summary>
public enum QuoteFact
{
    Sold,
    LeftDoor,
    RightDoor,
    Use,
    BuiltTo,
}

/// <summary>One thing that was chosen, in the words of the price book.</summary>
/// <param name="IsNone">Nothing was chosen, and the value says so.</param>
public sealed record QuoteChoice(QuoteFact Fact, string Value, bool IsNone = false)
{
    public string Label =>
        Fact switch
        {
            QuoteFact.Sold => "What is sold",
            QuoteFact.LeftDoor => "Left door bar",
            QuoteFact.RightDoor => "Right door bar",
            QuoteFact.Use => "Use",
            _ => "Built to",
        };
}

/// <summary>What was chosen and assumed in a quote, in the words of the price book it was made with.</summary>
/// <param name="Zone">The shop's zone, for times beside it.</param>
public sealed record QuoteDescription(
    IReadOnlyList<QuoteChoice> Choices,
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
                new QuoteChoice(QuoteFact.Sold, book.WhatIsSold(scope)),
                .. scope
                    .Doors.OrderBy(d => d.Door)
                    .Select(d => new QuoteChoice(
                        d.Door == DoorSide.Left ? QuoteFact.LeftDoor : QuoteFact.RightDoor,
                        book.FindHinge(d.HingeOptionCode)?.Title ?? d.HingeOptionCode
                    )),
                new QuoteChoice(
                    QuoteFact.Use,
                    book.Uses.FirstOrDefault(u => u.Code == scope.UseCode)?.Title ?? scope.UseCode
                ),
                scope.RuleSetCodes.Count == 0
                    ? new QuoteChoice(QuoteFact.BuiltTo, "no rule set", IsNone: true)
                    : new QuoteChoice(
                        QuoteFact.BuiltTo,
                        string.Join("; ", scope.RuleSetCodes.Select(c => ruleSets.Find(c)?.Citation ?? c))
                    ),
            ],
            [.. book.Questions.Select(q => (q.Title, PriceBook.AnswerTo(q, scope.Condition).Title))],
            shop.Zone
        );
    }
}
