using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting.Books;

public sealed class PriceBookDraftTests
{
    private static readonly DateTimeOffset Now = TestBook.Clock.GetUtcNow();

    [Fact]
    public void Edition_comes_into_force_on_its_day()
    {
        var day = TestBook.Today.AddDays(30);

        var edition = Adopt(FullBook.Book, day).Value;

        Assert.Equal((day, day), (edition.EffectiveFrom, edition.Book.EffectiveFrom));
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(PriceBookEdition.MostDaysAhead + 1)]
    public void Edition_from_a_past_or_far_day_is_refused(int days)
    {
        var failure = Assert.IsType<Failure.Invalid>(Adopt(FullBook.Book, TestBook.Today.AddDays(days)).Failure);

        Assert.Equal("effectiveFrom", Assert.Single(failure.Errors).Path);
    }

    [Fact]
    public void Draft_begins_as_its_edition_and_takes_an_unfinished_book()
    {
        var edition = Adopt(FullBook.Book, TestBook.Today).Value;
        var draft = PriceBookDraft.Begin(Ids.New<PriceBookDraftId>(TestBook.Clock), edition, Now, null);
        Assert.True(PriceBookComparison.Between(edition.Book, draft.Book).IsSame);

        Assert.True(draft.Change(draft.Book with { Kits = [], Edition = 7 }, Now, null).IsSuccess);

        Assert.Equal((0, 0), (draft.Book.Kits.Count, draft.Book.Edition));
    }

    [Fact]
    public void Draft_keeps_the_currency_of_the_shop()
    {
        var draft = PriceBookDraft.Begin(
            Ids.New<PriceBookDraftId>(TestBook.Clock),
            Adopt(FullBook.Book, TestBook.Today).Value,
            Now,
            null
        );

        Assert.False(draft.Change(draft.Book with { CurrencyCode = "USD" }, Now, null).IsSuccess);
        Assert.Equal("EUR", draft.Book.CurrencyCode);
    }

    [Fact]
    public void Full_book_can_be_adopted_but_for_the_parts_that_are_there_to_be_compared()
    {
        var failure = PriceBookRules.Check(FullBook.Book).Failure;

        Assert.True(failure is null, failure?.Sentence);
    }

    private static Outcome<PriceBookEdition> Adopt(PriceBook book, DateOnly from) =>
        PriceBookEdition.Adopt(TestBook.BookId, book, 0, from, TestBook.Today, Now, by: null);
}
