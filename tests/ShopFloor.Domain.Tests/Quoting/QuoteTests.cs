using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting;

public sealed class QuoteTests
{
    private static DateTimeOffset Now => TestBook.Clock.GetUtcNow();

    [Fact]
    public void Sending_freezes_validity_promise_and_hash()
    {
        var quote = TestBook.Sent();

        Assert.Equal(QuoteState.Sent, quote.State);
        Assert.Equal(TestBook.Today.AddDays(14), quote.ValidUntil);
        Assert.Equal(TestBook.Today.AddDays(21), quote.PromiseDate);
        Assert.Equal(64, quote.ContentHash!.Length);
        Assert.True(QuoteSnapshot.IsIntact(quote.Snapshot!, quote.ContentHash));
        Assert.False(
            QuoteSnapshot.IsIntact(
                quote.Snapshot!.Replace("158752", "158753", StringComparison.Ordinal),
                quote.ContentHash
            )
        );
    }

    [Fact]
    public void Snapshot_holds_the_customer_by_id_and_decimals_as_text()
    {
        var quote = TestBook.Accepted(t => t with { CustomerNote = "For Ms Example", Discount = new(2.50m, null) });

        Assert.Contains(quote.CustomerId.ToString(), quote.Snapshot, StringComparison.Ordinal);
        Assert.DoesNotContain("Example", quote.Snapshot, StringComparison.Ordinal);
        Assert.DoesNotContain("A. Customer", quote.Snapshot, StringComparison.Ordinal);
        Assert.Contains(
            """
            "percent":"2.5"
            """.Trim(),
            quote.Snapshot,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Hash_stays_valid_after_the_customer_is_forgotten()
    {
        var quote = TestBook.Accepted(t => t with { CustomerNote = "For Ms Example" });

        quote.ForgetPerson();

        Assert.Equal(Quote.ErasedText, quote.AcceptedBy);
        Assert.Null(quote.Terms.CustomerNote);
        Assert.True(QuoteSnapshot.IsIntact(quote.Snapshot!, quote.ContentHash!));
    }

    [Fact]
    public void Accepting_states_name_and_time()
    {
        var quote = TestBook.Sent();

        Assert.True(quote.Accept(" A. Customer ", quote.ContentHash, TestBook.Today, Now).IsSuccess);

        Assert.Equal((QuoteState.Accepted, "A. Customer", Now), (quote.State, quote.AcceptedBy, quote.ClosedAt));
    }

    [Fact]
    public void Accepting_with_another_hash_than_the_sent_one_is_refused()
    {
        var quote = TestBook.Sent();

        Assert.Equal("contentHash", CodeOf(quote.Accept("A. Customer", new string('0', 64), TestBook.Today, Now)));
        Assert.Equal(QuoteState.Sent, quote.State);
    }

    [Theory]
    [InlineData(null, "acceptedBy")]
    [InlineData("  ", "acceptedBy")]
    public void Accepting_needs_a_name(string? name, string path)
    {
        var quote = TestBook.Sent();
        var failure = quote.Accept(name, quote.ContentHash, TestBook.Today, Now).Failure;

        Assert.Equal(path, Assert.IsType<Failure.Invalid>(failure).Errors[0].Path);
    }

    [Fact]
    public void Sent_quote_can_be_accepted_on_its_last_day_and_not_on_the_next()
    {
        var last = TestBook.Sent();
        Assert.True(last.Accept("A. Customer", last.ContentHash, last.ValidUntil!.Value, Now).IsSuccess);

        var late = TestBook.Sent();
        var next = late.ValidUntil!.Value.AddDays(1);
        Assert.Equal("expired", CodeOf(late.Accept("A. Customer", late.ContentHash, next, Now)));
        Assert.Equal(QuoteState.Expired, late.StateOn(next));
        Assert.Equal(QuoteState.Sent, late.State);
    }

    [Fact]
    public void Draft_cannot_be_accepted_and_sent_quote_cannot_be_edited()
    {
        var draft = TestBook.Draft();
        Assert.Equal("notSent", CodeOf(draft.Accept("A. Customer", "x", TestBook.Today, Now)));

        var sent = TestBook.Sent();
        Assert.Equal(
            "notDraft",
            CodeOf(sent.Edit(sent.CustomerId, sent.CarId, TestBook.Terms, TestBook.BookId, sent.Priced))
        );
        Assert.Equal("notDraft", CodeOf(sent.Send(TestBook.Book, TestBook.Today, Now)));
    }

    [Fact]
    public void Revision_keeps_the_number_and_replaces_the_old_one_when_sent()
    {
        var old = TestBook.Sent();
        var revision = Revise(old).Value;
        Assert.Equal((old.Number, 2, QuoteState.Draft), (revision.Number, revision.Revision, revision.State));
        Assert.Equal(QuoteState.Sent, old.State);

        Assert.True(revision.Send(TestBook.Book, TestBook.Today, Now).IsSuccess);
        Assert.True(old.ReplaceBy(revision).IsSuccess);

        Assert.Equal("replaced", CodeOf(old.Accept("A. Customer", old.ContentHash, TestBook.Today, Now)));
        Assert.Equal("replaced", CodeOf(old.Decline(LostReason.Price, "Too dear", Now)));
    }

    [Fact]
    public void Draft_accepted_and_overtaken_quotes_are_not_revised()
    {
        Assert.Equal("draft", CodeOf(Revise(TestBook.Draft())));
        Assert.Equal("accepted", CodeOf(Revise(TestBook.Accepted())));
        Assert.Equal("newerRevision", CodeOf(Revise(TestBook.Sent(), newest: 2)));
    }

    [Fact]
    public void Accepted_revision_forbids_sending_a_newer_one() =>
        Assert.Equal("accepted", CodeOf(TestBook.Accepted().ReplaceBy(TestBook.Draft())));

    [Fact]
    public void Declining_keeps_the_reason_and_closes_the_quote()
    {
        var quote = TestBook.Sent();

        Assert.True(quote.Decline(LostReason.Price, "Too dear", Now).IsSuccess);

        Assert.Equal((QuoteState.Declined, "Too dear"), (quote.State, quote.DeclineReason));
        Assert.Equal("closed", CodeOf(quote.Accept("A. Customer", quote.ContentHash, TestBook.Today, Now)));
    }

    [Fact]
    public void Promise_in_the_past_is_refused_at_sending()
    {
        var quote = TestBook.Draft();
        var terms = TestBook.Terms with { PromiseDate = TestBook.Today.AddDays(-1) };
        Assert.True(quote.Edit(quote.CustomerId, quote.CarId, terms, TestBook.BookId, quote.Priced).IsSuccess);

        var failure = quote.Send(TestBook.Book, TestBook.Today, Now).Failure;

        Assert.Equal("promiseDate", Assert.IsType<Failure.Invalid>(failure).Errors[0].Path);
    }

    private static Outcome<Quote> Revise(Quote quote, int? newest = null) =>
        quote.Revise(Ids.New<QuoteId>(TestBook.Clock), newest ?? quote.Revision, TestBook.BookId, quote.Priced, Now);

    private static string CodeOf<T>(Outcome<T> outcome) =>
        Assert.IsType<Failure.Refused>(outcome.Failure).Reasons[0].Code;
}
