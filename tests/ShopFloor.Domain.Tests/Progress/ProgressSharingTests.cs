using ShopFloor.Domain.Common;
using ShopFloor.Domain.Progress;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Tests.Progress;

public sealed class ProgressSharingTests
{
    private static readonly DateTimeOffset Noon = new(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);
    private static readonly JobId Job = JobId.From(new Guid("01950000-0000-7000-8000-000000000001"));

    [Fact]
    public void Nothing_is_shown_until_the_shop_says_so()
    {
        var sharing = new ProgressSharing(Job);
        Assert.False(sharing.ShowsPrices);
        Assert.Empty(sharing.Papers);
        Assert.Null(sharing.ReasonFor(Move(Noon)));
    }

    [Fact]
    public void A_reason_told_for_one_move_is_not_told_for_the_next()
    {
        var sharing = new ProgressSharing(Job);
        Assert.True(sharing.Explain(Move(Noon), " The tube came late. ").IsSuccess);
        Assert.Equal("The tube came late.", sharing.ReasonFor(Move(Noon)));
        Assert.Null(sharing.ReasonFor(Move(Noon.AddDays(1))));
        sharing.TakeReasonBack();
        Assert.Null(sharing.ReasonFor(Move(Noon)));
    }

    [Fact]
    public void A_reason_needs_a_move_and_words()
    {
        var sharing = new ProgressSharing(Job);
        Assert.IsType<Failure.Refused>(sharing.Explain(null, "Why").Failure);
        Assert.IsType<Failure.Invalid>(sharing.Explain(Move(Noon), "  ").Failure);
        Assert.IsType<Failure.Invalid>(sharing.Explain(Move(Noon), new string('x', 201)).Failure);
    }

    [Fact]
    public void A_note_has_words_and_loses_them_when_its_customer_is_forgotten()
    {
        var id = Ids.New<CustomerNoteId>(Noon);
        Assert.IsType<Failure.Invalid>(CustomerNote.Write(id, Job, " ", Noon).Failure);
        var tooLong = new string('x', CustomerNote.LongestText + 1);
        Assert.IsType<Failure.Invalid>(CustomerNote.Write(id, Job, tooLong, Noon).Failure);
        var note = CustomerNote.Write(id, Job, "Paint dries.", Noon).Value;
        note.Withdraw(Noon.AddHours(1));
        note.ErasePersonalData(Noon.AddHours(2));
        Assert.Null(note.Text);
        Assert.Equal(Noon.AddHours(1), note.WithdrawnAt);
    }

    private static PromiseMove Move(DateTimeOffset at) =>
        new(new DateOnly(2026, 3, 10), new DateOnly(2026, 3, 12), "internal", default!, at);
}
