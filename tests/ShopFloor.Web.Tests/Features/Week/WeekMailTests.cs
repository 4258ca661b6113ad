using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using MimeKit;
using ShopFloor.Application.Throughput;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;
using ShopFloor.Domain.Throughput;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Messages;
using ShopFloor.Web.Tests.Quotes;
using UglyToad.PdfPig;

namespace ShopFloor.Web.Tests.Features.Week;

/// <summary>The owner's week by mail, from the wish to a real SMTP server, on both databases.</summary>
public abstract partial class WeekMailTests(ShopHost shop)
{
    private const string Path = "/api/v1/reports/week";
    private const string Address = "owner@shop.example";
    private static readonly TimeZoneInfo Berlin = TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin");

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Last_weeks_figures_come_once_on_monday_from_the_hour_that_was_chosen_the_same_in_text_html_and_paper()
    {
        await using var server = new MailCatcher();
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync();
        await car.SignOffAsync();
        await car.Owner.PutAsync("/api/v1/shop/mail", server.Settings());
        await MailStory.SendAsync(shop);
        await GoToMondayAsync(5);
        await NoteAndSendAsync();
        Assert.Empty(server.To(Address)); // nobody asked for it

        var before = await car.Owner.GetJsonAsync($"{Path}/mail");
        Assert.Equal((false, Address), (before.GetProperty("isOn").GetBoolean(), before.Text("address")));
        await car.Owner.PutAsync($"{Path}/mail", new { isOn = true, hour = 8 });
        GoTo(7, 59);
        await NoteAndSendAsync();
        Assert.Empty(server.To(Address));

        GoTo(8, 0);
        // Four at once, as four servers would: the database takes one.
        await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => NoteAsync()));
        await Task.WhenAll(MailStory.SendAsync(shop), MailStory.SendAsync(shop));
        await NoteAndSendAsync();
        var mail = Assert.Single(server.To(Address));

        var today = Today();
        var report = await car.Owner.GetJsonAsync($"{Path}?start={today.AddDays(-7):yyyy-MM-dd}");
        var pdf = PdfText(mail);
        Assert.Equal(Words(await PaperAsync(car.Owner, today.AddDays(-7))), Words(pdf));
        Assert.Equal(FigureDefinitions.All.Count, report.GetProperty("figures").GetArrayLength());
        foreach (var figure in report.GetProperty("figures").EnumerateArray())
        {
            var value = figure.GetProperty("value");
            var text = FigureText.Of(
                value.ValueKind == JsonValueKind.Null ? null : value.GetDecimal(),
                Enum.Parse<FigureUnit>(figure.Text("unit"), ignoreCase: true),
                Currency.Of("EUR")
            );
            var name = figure.Text("name");
            Assert.Contains($"\n  {name}: {text}", mail.TextBody!.ReplaceLineEndings("\n"), StringComparison.Ordinal);
            Assert.Contains($">{name}</th>", mail.HtmlBody, StringComparison.Ordinal);
            Assert.Matches(
                $">{Regex.Escape(name)}</th><td[^>]*><strong>{Regex.Escape(System.Net.WebUtility.HtmlEncode(text))}</strong>",
                mail.HtmlBody
            );
            Assert.Contains(Words($"{name} {text}"), Words(pdf), StringComparison.Ordinal);
        }

        // Its one link leads to the page, where one must sign in; nothing unsubscribes by itself.
        Assert.All(
            Links().Matches(mail.TextBody + mail.HtmlBody).Select(m => m.Value),
            l => Assert.StartsWith("https://shop.example/week?start=", l, StringComparison.Ordinal)
        );
        Assert.Null(mail.Headers["List-Unsubscribe"]);

        // The office's list, the newest first, says that it went out, not what it said.
        var listed = (await car.Desk.GetJsonAsync("/api/v1/messages?pageSize=200"))
            .GetProperty("items")
            .EnumerateArray()
            .First(m => m.Text("kind") == "weekFigures");
        Assert.Equal("sent", listed.Text("state"));
        Assert.DoesNotContain("Margin", listed.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("h)", listed.Text("text"), StringComparison.Ordinal);

        // Not again in this week, once in the next, and no more after it was turned off.
        shop.Clock.Advance(TimeSpan.FromDays(3));
        await NoteAndSendAsync();
        Assert.Single(server.To(Address));
        await GoToMondayAsync(9);
        await NoteAndSendAsync();
        await NoteAndSendAsync();
        Assert.Equal(2, server.To(Address).Count());
        await car.Owner.PutAsync($"{Path}/mail", new { isOn = false });
        await GoToMondayAsync(9);
        await NoteAndSendAsync();
        Assert.Equal(2, server.To(Address).Count());
    }

    [Fact]
    public async Task A_second_mail_for_one_person_and_monday_is_refused_by_the_database_itself()
    {
        var person = shop.People[Role.Owner];
        var monday = new DateOnly(2031, 1, 6);
        var at = shop.Clock.GetUtcNow();
        await AddAsync(WeekMail.Due(Ids.New<WeekMailId>(at), person, monday, at));
        await Assert.ThrowsAsync<DbUpdateException>(() =>
            AddAsync(WeekMail.Due(Ids.New<WeekMailId>(at.AddMilliseconds(1)), person, monday, at))
        );
        // Those that were asked for by hand are as many as are asked for.
        await AddAsync(WeekMail.Asked(Ids.New<WeekMailId>(at.AddMilliseconds(2)), person, monday, at));
        await AddAsync(WeekMail.Asked(Ids.New<WeekMailId>(at.AddMilliseconds(3)), person, monday, at));
    }

    [Fact]
    public async Task A_server_that_was_away_on_monday_sends_it_later_in_the_week_and_who_asks_on_tuesday_gets_the_next()
    {
        await using var server = new MailCatcher();
        using var owner = await shop.ApiAsync(Role.Owner);
        await owner.PutAsync("/api/v1/shop/mail", server.Settings());
        await MailStory.SendAsync(shop);
        await GoToMondayAsync(10);
        shop.Clock.Advance(TimeSpan.FromDays(1));
        await owner.PutAsync($"{Path}/mail", new { isOn = true, hour = 6 });
        await NoteAndSendAsync();
        Assert.Empty(server.To(Address));
        await GoToMondayAsync(5);
        shop.Clock.Advance(TimeSpan.FromDays(3));
        var thursday = Today();
        await NoteAndSendAsync();
        var mail = Assert.Single(server.To(Address));
        Assert.Contains($"start={thursday.AddDays(-10):yyyy-MM-dd}", mail.TextBody, StringComparison.Ordinal);
        await owner.PutAsync($"{Path}/mail", new { isOn = false });
    }

    [Fact]
    public async Task It_is_sent_at_once_to_who_asks_without_a_wish_and_says_so_where_no_mail_goes_out()
    {
        await using var server = new MailCatcher();
        using var owner = await shop.ApiAsync(Role.Owner);
        await owner.PutAsync("/api/v1/shop/mail", server.Settings(isOn: false));
        Assert.Equal("mailIsOff", (await owner.PostAsync($"{Path}/mail/send", new { }, 409)).ReasonCode());
        await owner.PutAsync("/api/v1/shop/mail", server.Settings());
        await MailStory.SendAsync(shop);
        var asked = await owner.PostAsync($"{Path}/mail/send", new { }, 200);
        Assert.Equal(Address, asked.Text("address"));
        await MailStory.SendAsync(shop);
        var mail = Assert.Single(server.To(Address));
        Assert.Contains($"start={asked.Text("start")}", mail.TextBody, StringComparison.Ordinal);
        Assert.Equal(
            DayOfWeek.Monday,
            DateOnly.Parse(asked.Text("start"), System.Globalization.CultureInfo.InvariantCulture).DayOfWeek
        );
    }

    [Fact]
    public async Task Only_who_reads_the_figures_gets_them_for_themselves_and_a_key_of_nobody_gets_none()
    {
        foreach (var role in new[] { Role.FrontDesk, Role.Fabricator, Role.Inspector })
        {
            using var api = await shop.ApiAsync(role);
            await api.GetJsonAsync($"{Path}/mail", 403);
            await api.PutAsync($"{Path}/mail", new { isOn = true }, 403);
            await api.PostAsync($"{Path}/mail/send", new { }, 403);
            await api.GetJsonAsync($"{Path}/pdf", 403);
        }

        using var key = await shop.ApiAsync(Role.Owner, null);
        Assert.Equal("noPerson", (await key.PutAsync($"{Path}/mail", new { isOn = true }, 409)).ReasonCode());
        using var owner = await shop.ApiAsync(Role.Owner);
        var problem = await owner.PutAsync($"{Path}/mail", new { isOn = true, hour = 24 }, 400);
        Assert.True(problem.GetProperty("errors").TryGetProperty("hour", out _));
        await owner.GetJsonAsync($"{Path}/pdf?size=a3", 400);
    }

    [Fact]
    public async Task Who_no_longer_reads_the_figures_or_wants_them_gets_no_mail_that_was_noted_before()
    {
        await using var server = new MailCatcher();
        using var owner = await shop.ApiAsync(Role.Owner);
        await owner.PutAsync("/api/v1/shop/mail", server.Settings());
        await MailStory.SendAsync(shop);
        var at = shop.Clock.GetUtcNow();
        foreach (
            var (mail, why) in new[]
            {
                (WeekMail.Asked(Ids.New<WeekMailId>(at), shop.People[Role.FrontDesk], Today(), at), "no longer reads"),
                (
                    WeekMail.Due(Ids.New<WeekMailId>(at), shop.People[Role.Owner], new DateOnly(2032, 1, 5), at),
                    "no longer wanted"
                ),
            }
        )
        {
            var message = OutboxMessage.Due(MessageKind.WeekFigures, mail.Id.Value, null, null, at);
            await AddAsync(mail, message);
            await MailStory.SendAsync(shop);
            var row = await MailStory.RowAsync(shop, message.Id.ToString());
            Assert.Equal(MessageState.NotNeeded, row.State);
            Assert.Contains(why, row.Problem, StringComparison.Ordinal);
        }

        Assert.DoesNotContain(server.Caught, m => m.Subject!.StartsWith("The week", StringComparison.Ordinal));
    }

    private Task<int> NoteAsync() => shop.WithAsync<NoteWeekMails, int>(n => n.RunOnceAsync(Ct));

    private async Task NoteAndSendAsync()
    {
        await NoteAsync();
        await MailStory.SendAsync(shop);
    }

    private DateTimeOffset Local() => TimeZoneInfo.ConvertTime(shop.Clock.GetUtcNow(), Berlin);

    private DateOnly Today() => DateOnly.FromDateTime(Local().DateTime);

    /// <summary>To an hour of the next Monday that begins, by the shop's clock.</summary>
    private Task GoToMondayAsync(int hour)
    {
        var monday = FlowWeek.MondayOf(Today()).AddDays(7);
        shop.Clock.SetUtcNow(LocalClock.InstantOf(Berlin, monday, new TimeOnly(hour, 0)));
        return Task.CompletedTask;
    }

    private void GoTo(int hour, int minute) =>
        shop.Clock.SetUtcNow(LocalClock.InstantOf(Berlin, Today(), new TimeOnly(hour, minute)));

    private Task<int> AddAsync(params object[] rows) =>
        shop.WithAsync<IDbContextFactory<ShopDbContext>, int>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync(Ct);
            db.AddRange(rows);
            return await db.SaveChangesAsync(Ct);
        });

    private static async Task<string> PaperAsync(HttpClient api, DateOnly start) =>
        TextOf(await api.GetByteArrayAsync(new Uri($"{Path}/pdf?start={start:yyyy-MM-dd}", UriKind.Relative), Ct));

    private static string PdfText(MimeMessage mail)
    {
        var part = Assert.IsType<MimePart>(Assert.Single(mail.Attachments));
        Assert.Equal("application/pdf", part.ContentType.MimeType);
        using var bytes = new MemoryStream();
        part.Content!.DecodeTo(bytes, Ct);
        return TextOf(bytes.ToArray());
    }

    private static string TextOf(byte[] pdf)
    {
        using var document = PdfDocument.Open(pdf);
        Assert.InRange(document.NumberOfPages, 1, 2);
        return string.Join(' ', document.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
    }

    /// <summary>Without spaces: where a line of the paper breaks makes no difference.</summary>
    private static string Words(string text) => string.Concat(text.Where(c => !char.IsWhiteSpace(c)));

    [GeneratedRegex("https?://[^\\s<\"]+")]
    private static partial Regex Links();
}

public sealed class WeekMailOnSqlite(SqliteShop shop) : WeekMailTests(shop), IClassFixture<SqliteShop>;

public sealed class WeekMailOnPostgres(PostgresShop shop) : WeekMailTests(shop), IClassFixture<PostgresShop>;
