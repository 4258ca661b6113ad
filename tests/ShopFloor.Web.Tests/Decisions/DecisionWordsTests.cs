using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using ShopFloor.Application.Decisions;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Decisions;
using ShopFloor.Domain.Diary;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Features.Decisions;
using ShopFloor.Web.Features.Progress.Words;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Tests.Decisions;

/// <summary>The page of a decision link in every language, without a server.</summary>
public sealed class DecisionWordsTests
{
    private static readonly ProgressWords German = ProgressWords.Of("de");
    private static readonly DateOnly Day = new(2026, 3, 4);

    [Fact]
    public void Every_state_and_answer_that_can_be_told_has_its_words()
    {
        string[] keys =
        [
            .. Enum.GetNames<QuoteState>().Where(s => s != nameof(QuoteState.Sent)).Select(s => $"offer.shut.{s}"),
            .. Enum.GetNames<ChangeState>()
                .Where(s => s != nameof(ChangeState.Offered))
                .Select(s => $"change.shut.{s}"),
            .. Enum.GetNames<QuoteFact>().Select(f => $"offer.{f}"),
            .. Enum.GetNames<SaleKind>().Select(k => $"subject.{k}"),
            .. Enum.GetNames<DecisionAnswer>().Select(a => $"decision.said.{a}"),
        ];
        Assert.All(keys, k => Assert.True(German.Has(k), $"No words for {k}."));
    }

    [Theory]
    [InlineData(DecisionKind.Quote, DecisionAnswer.Accepted, DecisionAnswer.Declined)]
    [InlineData(DecisionKind.Change, DecisionAnswer.Accepted, DecisionAnswer.Declined)]
    [InlineData(DecisionKind.PartDay, DecisionAnswer.Told, DecisionAnswer.Told)]
    [InlineData(DecisionKind.LastWord, DecisionAnswer.Told, DecisionAnswer.Told)]
    public async Task Every_kind_of_page_is_whole_in_german_open_shut_answered_and_refused(
        DecisionKind kind,
        DecisionAnswer one,
        DecisionAnswer other
    )
    {
        Told shut = kind switch
        {
            DecisionKind.Quote => Told.Of("offer.shut.Expired", ("day", Day)),
            DecisionKind.Change => Told.Of("change.shut.ended"),
            _ => Told.Of("partDay.shut.other", ("what", "Wabe")),
        };
        DecisionView[] views =
        [
            View(kind),
            View(kind) with
            {
                Shut = shut,
            },
            View(kind) with
            {
                Answered = new(one, Day),
            },
            View(kind) with
            {
                Answered = new(other, Day),
            },
        ];
        foreach (var view in views)
        {
            var html = await RenderAsync(view, German, German["refused.other"], wasAsked: true);
            GermanPages.AssertGerman(html);
        }

        // The check itself finds what it is there for.
        var english = await RenderAsync(View(kind), ProgressWords.Of("en"), null, wasAsked: false);
        Assert.NotEmpty(GermanPages.EnglishIn(english));
    }

    [Fact]
    public void A_refusal_is_said_in_german_and_one_that_is_not_known_in_general_words()
    {
        Assert.Equal(German["refused.name"], DecisionRefusals.Say(German, Failure.Field("acceptedBy", "No name.")));
        Assert.Equal(German["refused.answered"], DecisionRefusals.Say(German, Failure.Because("answered", "Done.")));
        Assert.Equal(German["refused.other"], DecisionRefusals.Say(German, Failure.Because("unheardOf", "New.")));
        Assert.Equal("New.", DecisionRefusals.Say(ProgressWords.Of("en"), Failure.Because("unheardOf", "New.")));
    }

    private static DecisionView View(DecisionKind kind)
    {
        Told money = new Money(123_450, Currency.Of("EUR"));
        var paper = new DecisionPaper(
            Guid.CreateVersion7(DateTimeOffset.UnixEpoch),
            Told.Of("offer.number", ("number", "Q-1"), ("revision", "2")),
            kind == DecisionKind.Change
                ? Told.Of(
                    "change.sentence",
                    ("reason", "Schweller"),
                    ("more", Told.Of("change.more", ("price", money)))
                )
                : Told.Of(
                    "offer.sentence",
                    ("sold", new Told.Several(["Bausatz", Told.Of("offer.with.LeftDoor", ("what", "Bolzen"))])),
                    ("price", money),
                    ("day", Day)
                ),
            money,
            [(Told.Of("offer.ready"), Day), (Told.Of("offer.deposit"), Told.Of("offer.deposit.none"))],
            [(Told.Of("offer.discount"), money)],
            [Told.Of("change.work", ("what", "Platte"))],
            new string('a', 64),
            null
        );
        return new DecisionView(
            Ids.New<DecisionLinkId>(DateTimeOffset.UnixEpoch),
            kind,
            "Halle 9",
            "+44 1632 960001",
            "halle@shop.example",
            Told.Of("subject.Fitted"),
            kind switch
            {
                DecisionKind.Quote =>
                [
                    paper,
                    paper with
                    {
                        Id = Guid.CreateVersion7(DateTimeOffset.UnixEpoch),
                        Shut = Told.Of("offer.shut.Replaced"),
                    },
                ],
                DecisionKind.Change => [paper],
                _ => [],
            },
            kind == DecisionKind.PartDay
                ? new PartAsked(
                    Guid.CreateVersion7(DateTimeOffset.UnixEpoch),
                    "Wabe",
                    Day,
                    Day,
                    Day.AddDays(30),
                    new string('c', 64)
                )
                : null,
            kind == DecisionKind.Appointment
                ? new TimeAsked(
                    Guid.CreateVersion7(DateTimeOffset.UnixEpoch),
                    AppointmentKind.Collection,
                    Day,
                    "16:30",
                    "Halle 9",
                    "Mo–Fr 8–17",
                    new string('b', 64)
                )
                : null,
            null,
            null,
            true,
            "de"
        );
    }

    private static async Task<string> RenderAsync(
        DecisionView view,
        ProgressWords words,
        string? problem,
        bool wasAsked
    )
    {
        await using var services = new ServiceCollection().AddLogging().BuildServiceProvider();
        return await StandaloneHtml.RenderAsync<DecisionDocument>(
            new Dictionary<string, object?>
            {
                [nameof(DecisionDocument.View)] = view,
                [nameof(DecisionDocument.Words)] = words,
                [nameof(DecisionDocument.Action)] = "?lang=de",
                [nameof(DecisionDocument.Form)] = DecisionForm.Empty,
                [nameof(DecisionDocument.Problem)] = problem,
                [nameof(DecisionDocument.WasAsked)] = wasAsked,
            },
            services,
            services.GetRequiredService<ILoggerFactory>()
        );
    }
}
