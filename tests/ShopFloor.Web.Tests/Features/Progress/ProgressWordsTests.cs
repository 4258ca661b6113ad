using System.Text;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using ShopFloor.Application.Progress;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Progress;
using ShopFloor.Web.Features.Progress;
using ShopFloor.Web.Features.Progress.Words;

namespace ShopFloor.Web.Tests.Features.Progress;

/// <summary>The sentences of the customer's page and the page made of them, without a server.</summary>
public sealed partial class ProgressWordsTests
{
    private static readonly ProgressWords English = ProgressWords.Of("en");

    [Fact]
    public void Every_language_has_the_same_sentences_with_the_same_gaps_and_none_is_empty()
    {
        Assert.Equal(["en", "de"], ProgressWords.All.Select(w => w.Code));
        foreach (var words in ProgressWords.All)
        {
            Assert.Equal(English.Keys.Order(StringComparer.Ordinal), words.Keys.Order(StringComparer.Ordinal));
            Assert.All(
                words.Keys,
                key =>
                {
                    Assert.False(string.IsNullOrWhiteSpace(words[key]), $"{words.Code}: {key} is empty.");
                    Assert.Equal(GapsOf(English[key]), GapsOf(words[key]));
                }
            );
            // A sentence that was forgotten stays in the first language.
            Assert.All(
                words.Keys.Where(k =>
                    words != English && English[k].Contains(' ') && !k.StartsWith("format", StringComparison.Ordinal)
                ),
                key => Assert.NotEqual(English[key], words[key])
            );
        }
    }

    [Fact]
    public void English_says_what_the_shops_own_screens_and_papers_say()
    {
        Assert.All(Cautions.RoadUse, c => Assert.Equal(c.Text, English[$"caution.{c.Code}"]));
        Assert.Equal(Cautions.WhoDecides, English["caution.whoDecides"]);
        Assert.All(PlanZone.All, z => Assert.Equal(z.Title, English[$"zone.{z.Code}"]));
        Assert.All(Enum.GetValues<Phase>(), p => Assert.Equal(p.Title(), English[$"phase.{p}.title"]));
        Assert.All(Enum.GetValues<SaleKind>(), k => Assert.Equal(k.Title(), English[$"subject.{k}"]));
    }

    [Fact]
    public void Who_bought_no_work_on_a_car_reads_of_none()
    {
        foreach (var words in ProgressWords.All)
        {
            Assert.All(
                words.Keys.Where(k =>
                    k.StartsWith("kit.", StringComparison.Ordinal) || k.StartsWith("part.", StringComparison.Ordinal)
                ),
                k => Assert.DoesNotMatch("(?i)\\b(car|auto)\\b", words[k])
            );
        }
    }

    [Theory]
    [InlineData(null, null, null, "en")]
    [InlineData(null, "de-AT,de;q=0.9,en;q=0.5", null, "de")]
    [InlineData(null, "en;q=0.4, fr, de;q=0.8", null, "de")]
    [InlineData(null, "de;q=0, en", null, "en")]
    [InlineData(null, "fr, it", null, "en")]
    [InlineData(null, "de;q=broken;;,,", null, "en")]
    [InlineData(null, "en", "de", "de")]
    [InlineData(null, "de", "fr", "de")]
    [InlineData("en", "de", "de", "en")]
    [InlineData("xx", "de", null, "de")]
    public void The_pages_own_link_goes_before_the_customers_choice_and_that_before_the_browsers(
        string? link,
        string? browser,
        string? customer,
        string expected
    )
    {
        var request = new DefaultHttpContext().Request;
        request.Headers.AcceptLanguage = browser;
        request.QueryString = link is null ? default : new QueryString($"?lang={link}");
        Assert.Equal(expected, AskedLanguage.Of(request).Choose(customer).Code);
    }

    [Fact]
    public void What_is_filled_in_is_never_read_as_a_gap() =>
        Assert.Equal("Job {number}", English.Say("page.job", ("number", "{number}")));

    [Fact]
    public void Dates_and_amounts_are_written_as_the_language_writes_them()
    {
        var german = ProgressWords.Of("de");
        var day = new DateOnly(2026, 3, 4);
        var money = new Money(123_450, Currency.Of("EUR"));
        Assert.Equal(("Wednesday 4 March 2026", "Mittwoch, 4. März 2026"), (English.Day(day), german.Day(day)));
        Assert.Equal(("1,234.50 EUR", "1.234,50 EUR"), (English.Amount(money), german.Amount(money)));
    }

    [Fact]
    public async Task The_fullest_page_stays_under_60_KB_and_shows_pairs_in_every_language()
    {
        foreach (var words in ProgressWords.All)
        {
            var html = await RenderAsync(Fullest(), words);
            var size = Encoding.UTF8.GetByteCount(html);
            Assert.InRange(size, 20 * 1024, 60 * 1024);
            Assert.Contains($"<html lang=\"{words.Code}\"", html, StringComparison.Ordinal);
            Assert.Contains($">{words["pairs.heading"]}</h2>", html, StringComparison.Ordinal);
            Assert.Equal(ShowsPhotos, Regex.Count(html, "<img "));
            Assert.Equal(ShowsPhotos, Regex.Count(html, "width=\"480\" height=\"360\" loading=\"lazy\""));
            Assert.Contains(words["prices.back"], System.Net.WebUtility.HtmlDecode(html), StringComparison.Ordinal);
        }
    }

    private const int ShowsPhotos = Application.Intake.Photos.ShowPhoto.MostShown;

    /// <summary>As people write: one letter in twenty is none of ASCII and takes six bytes.</summary>
    private static string Prose(int length) =>
        string.Concat(Enumerable.Repeat("Die Farbe braucht länger. ", 20))[..length].Trim();

    private static ProgressView Fullest()
    {
        var at = new DateTimeOffset(2026, 3, 4, 12, 0, 0, TimeSpan.Zero);
        var day = new DateOnly(2026, 3, 4);
        var euro = Currency.Of("EUR");
        var steps = Enum.GetValues<Phase>().Select(p => new StepTaken(p, p < Phase.MockUp, p <= Phase.MockUp)).ToList();
        return new ProgressView(
            new string('W', TextRules.Name),
            "+44 1632 960001",
            "desk@shop.example",
            "Monday to Friday, 8:00 to 17:00",
            "2005 Ferrow Lynx",
            SaleKind.Fitted,
            "J-2026-0001",
            ProgressStand.InTheShop,
            ProgressStory.Tell(steps),
            [
                new AwaitedThing.Signature(),
                new AwaitedThing.Answer("CO-2026-0001", day, new Money(10_000, euro)),
                .. Enumerable.Range(0, 20).Select(_ => new AwaitedThing.Part(Prose(100), day, true)),
            ],
            new PromisedDay(day, day, Prose(TextRules.ShortText)),
            [.. Enumerable.Repeat(new ShownNote(Prose(CustomerNote.LongestText), day), CustomerNote.MostOfJob)],
            [
                .. Enumerable
                    .Range(0, ShowsPhotos)
                    .Select(n => new ShownPhoto(
                        Ids.New<PhotoId>(at),
                        n % 2 == 0 ? PhotoKind.WalkRound : PhotoKind.HandOver,
                        n < 4 ? PlanZone.All[n / 2].Code : null,
                        day,
                        1600,
                        1200
                    )),
            ],
            [
                new ShownPaper(ProgressPaper.Quote, "quote", null, false),
                new ShownPaper(ProgressPaper.Invoices, "invoice-1", "I-2026-0001", false),
                new ShownPaper(ProgressPaper.Invoices, "invoice-2", "C-2026-0001", true),
            ],
            new ShownPrices(new Money(100_000, euro), new Money(120_000, euro), new Money(-20_000, euro)),
            at,
            7,
            null
        );
    }

    internal static async Task<string> RenderAsync(ProgressView view, ProgressWords words)
    {
        await using var services = new ServiceCollection().AddLogging().BuildServiceProvider();
        return await ProgressPage.RenderAsync(
            view,
            words,
            "/p/" + new string('A', ProgressToken.Characters),
            services,
            services.GetRequiredService<ILoggerFactory>()
        );
    }

    private static List<string> GapsOf(string sentence) =>
        [.. Gap().Matches(sentence).Select(m => m.Value).Order(StringComparer.Ordinal)];

    [GeneratedRegex("\\{[a-zA-Z]+\\}")]
    private static partial Regex Gap();
}
