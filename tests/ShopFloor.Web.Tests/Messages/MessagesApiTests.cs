using System.Net;
using System.Text.RegularExpressions;
using Ical.Net;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using MimeKit;
using ShopFloor.Application.Messages;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Messages;

/// <summary>Messages from the event to a real SMTP server, on both databases. The calendar is read back by Ical.Net, which did not write it.</summary>
public abstract partial class MessagesApiTests(ShopHost shop)
{
    private const string Mail = "/api/v1/shop/mail";

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Without_a_server_messages_wait_and_with_one_they_go_out_in_both_parts_with_their_paper()
    {
        await using var server = new MailCatcher();
        var story = await MailStory.QuotedAsync(shop);
        await story.Owner.PutAsync(Mail, server.Settings(isOn: false));
        await MailStory.SendAsync(shop);
        var list = await story.Desk.GetJsonAsync("/api/v1/messages?state=waiting");
        Assert.False(list.GetProperty("isMailOn").GetBoolean());
        Assert.True(list.GetProperty("waiting").GetInt32() > 0);
        Assert.Empty(server.Caught);

        await story.Owner.PutAsync(Mail, server.Settings());
        await MailStory.SendAsync(shop);
        var mail = Assert.Single(server.To(story.Address));
        Assert.Equal("desk@works.example", Assert.Single(mail.From.Mailboxes).Address);
        Assert.Equal("answers@works.example", Assert.Single(mail.ReplyTo.Mailboxes).Address);
        Assert.Contains("Good day Alva Penrose", mail.TextBody, StringComparison.Ordinal);
        Assert.Contains("<p>Good day Alva Penrose", mail.HtmlBody, StringComparison.Ordinal);
        var paper = Assert.IsType<MimePart>(Assert.Single(mail.Attachments));
        Assert.Equal("application/pdf", paper.ContentType.MimeType);
        // What a contract needs cannot be unsubscribed.
        Assert.Null(mail.Headers["List-Unsubscribe"]);

        // The link in the mail is the one on which the quote is answered.
        var link = new Uri(DecisionLink().Match(mail.TextBody!).Value);
        using (var phone = shop.CreateClient(new() { HandleCookies = false }))
        {
            var page = await phone.GetStringAsync(new Uri(link.AbsolutePath, UriKind.Relative), Ct);
            Assert.Contains("Accept this offer", page, StringComparison.Ordinal);
        }

        await story.AcceptAsync();
        await MailStory.SendAsync(shop);
        var thanks = server.To(story.Address).Last();
        Assert.StartsWith("You accepted our quote", thanks.Subject, StringComparison.Ordinal);
        Assert.Equal("List-Unsubscribe=One-Click", thanks.Headers["List-Unsubscribe-Post"]);
        Assert.Equal(2, server.To(story.Address).Count());
        Assert.Equal("sent", (await story.MessageAsync("quoteSent")).Text("state"));
    }

    [Fact]
    public async Task A_link_goes_out_only_where_the_shop_released_one_and_stands_readable_nowhere_the_calendar_follows_each_move()
    {
        await using var server = new MailCatcher();
        var story = await MailStory.QuotedAsync(shop, "de-AT");
        await story.AcceptAsync();
        await story.Owner.PutAsync(Mail, server.Settings());
        await story.AppointAsync("2026-06-02", "08:30");
        await MailStory.SendAsync(shop);
        var first = server.To(story.Address).Single(m => m.Subject!.StartsWith("Termin für", StringComparison.Ordinal));
        Assert.DoesNotContain("/p/", MailStory.WordsOf(first), StringComparison.Ordinal);
        var before = DropOffOf(first);
        Assert.Equal(new DateTime(2026, 6, 2, 6, 30, 0, DateTimeKind.Utc), before.Start!.AsUtc);
        Assert.Equal(0, before.Sequence);

        await story.Desk.PostAsync($"{story.JobPath}/progress-links", new { });
        await story.AppointAsync("2026-06-03", null);
        await MailStory.SendAsync(shop);
        await story.Desk.PutAsync($"{story.JobPath}/drop-off", IntakeStory.DropOff);
        await story.Desk.PostAsync(
            $"{story.JobPath}/promise",
            new { promisedOn = "2026-06-26", reason = "First" },
            200
        );
        // Of two moves that wait, the newer one is told.
        shop.Clock.Advance(TimeSpan.FromSeconds(1));
        await story.Desk.PostAsync(
            $"{story.JobPath}/promise",
            new
            {
                promisedOn = "2026-06-30",
                reason = "The paint <cures>",
                tellReason = true,
            },
            200
        );
        await MailStory.SendAsync(shop);
        var moved = server.To(story.Address).Last(m => m.Subject!.StartsWith("Termin für", StringComparison.Ordinal));
        var after = DropOffOf(moved);
        Assert.Equal((before.Uid, 1), (after.Uid, after.Sequence));
        Assert.Equal(new DateOnly(2026, 6, 3), after.Start!.Date);
        Assert.True(after.IsAllDay);

        var late = server
            .To(story.Address)
            .Single(m => m.Subject!.StartsWith("Neuer Termin", StringComparison.Ordinal));
        Assert.Contains("Der Grund: The paint <cures>", late.TextBody, StringComparison.Ordinal);
        Assert.Contains("The paint &lt;cures&gt;", late.HtmlBody, StringComparison.Ordinal);
        var collection = CalendarOf(late).Events.Single();
        Assert.Equal(new DateOnly(2026, 6, 30), collection.Start!.Date);
        Assert.True(collection.Sequence > 0);

        // A reason that is not told stays in the shop, in the mail as on the page.
        shop.Clock.Advance(TimeSpan.FromSeconds(1));
        await story.Desk.PostAsync(
            $"{story.JobPath}/promise",
            new { promisedOn = "2026-07-02", reason = "Jonas broke the die" },
            200
        );
        await MailStory.SendAsync(shop);
        var quiet = server.To(story.Address).Last();
        Assert.StartsWith("Neuer Termin", quiet.Subject, StringComparison.Ordinal);
        Assert.DoesNotContain("Grund", quiet.TextBody, StringComparison.Ordinal);
        Assert.DoesNotContain("Jonas", MailStory.WordsOf(quiet), StringComparison.Ordinal);

        var url = ProgressUrl().Match(late.TextBody!).Value;
        using var page = await shop.CreateClient().GetAsync(new Uri(new Uri(url).AbsolutePath, UriKind.Relative), Ct);
        Assert.Equal(HttpStatusCode.OK, page.StatusCode);
        await AssertNowhereAsync(url[^43..]);
        var listed = await story.MessageAsync("dateMoved");
        Assert.Contains(WriteMessage.LinkWord, listed.Text("text"), StringComparison.Ordinal);
        Assert.Equal(story.Address, listed.Text("to"));

        // Nothing internal: what the desk noted at the drop-off stands in none of the mails.
        foreach (var words in server.To(story.Address).Select(MailStory.WordsOf))
        {
            Assert.DoesNotContain("Board 3", words, StringComparison.Ordinal);
            Assert.DoesNotContain("Collects on Friday", words, StringComparison.Ordinal);
            Assert.DoesNotContain("Child seat", words, StringComparison.Ordinal);
            Assert.DoesNotContain("Person", words, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task An_agreed_collection_goes_out_with_its_entry_and_a_link_that_confirms_just_that_time()
    {
        await using var server = new MailCatcher();
        var story = await MailStory.QuotedAsync(shop);
        await story.AcceptAsync();
        await story.Owner.PutAsync(Mail, server.Settings());
        var today = DateOnly.FromDateTime(shop.Clock.GetUtcNow().DateTime);
        var (first, second) = ($"{today.AddDays(20):yyyy-MM-dd}", $"{today.AddDays(21):yyyy-MM-dd}");
        await story.Desk.PutAsync($"{story.JobPath}/collection-appointment", new { day = first, time = "16:00" });
        await MailStory.SendAsync(shop);
        var mail = Last();
        var before = CalendarOf(mail).Events.Single(e => e.Uid == $"collection-{story.Job}");
        Assert.Equal(today.AddDays(20), before.Start!.Date);
        Assert.False(before.IsAllDay);
        var url = DecisionLink().Match(mail.TextBody!).Value;
        await AssertNowhereAsync(url[^43..]);

        await story.Desk.PutAsync($"{story.JobPath}/collection-appointment", new { day = second });
        await MailStory.SendAsync(shop);
        var after = CalendarOf(Last()).Events.Single(e => e.Uid == before.Uid);
        Assert.True(after.Sequence > before.Sequence);
        Assert.True(after.IsAllDay);
        // Both links are about the one appointment, as it stands now.
        using var page = await shop.CreateClient().GetAsync(new Uri(new Uri(url).AbsolutePath, UriKind.Relative), Ct);
        Assert.Contains(
            today.AddDays(21).ToString("d MMMM", System.Globalization.CultureInfo.InvariantCulture),
            await page.Content.ReadAsStringAsync(Ct),
            StringComparison.Ordinal
        );
        var listed = await story.MessageAsync("collectionAgreed");
        Assert.Contains(WriteMessage.LinkWord, listed.Text("text"), StringComparison.Ordinal);

        MimeMessage Last() =>
            server.To(story.Address).Last(m => m.Subject!.Contains("collection on", StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_customer_is_told_once_that_the_shop_waits_for_a_part_when_it_does()
    {
        await using var server = new MailCatcher();
        var story = await MailStory.QuotedAsync(shop, "de-AT");
        await story.AcceptAsync();
        await story.Owner.PutAsync(Mail, server.Settings());
        var today = DateOnly.FromDateTime(shop.Clock.GetUtcNow().DateTime);
        var part = await story.Desk.PostAsync(
            $"{story.JobPath}/customer-parts",
            new
            {
                what = "Türtafeln",
                code = "door-panels",
                dueOn = today.AddDays(1),
                note = "Marker-Note",
            }
        );
        await MissAsync();
        Assert.Empty(Asked());

        shop.Clock.Advance(TimeSpan.FromDays(3));
        await Task.WhenAll(Task.Run(MissAsync, Ct), Task.Run(MissAsync, Ct));
        var mail = Assert.Single(Asked());
        Assert.Contains("Türtafeln", mail.TextBody, StringComparison.Ordinal);
        Assert.Contains("T&#252;rtafeln", mail.HtmlBody, StringComparison.Ordinal);
        Assert.DoesNotContain("Marker-Note", MailStory.WordsOf(mail), StringComparison.Ordinal);

        // Another day that passes too is no second message.
        await story.Desk.PutAsync(
            $"/api/v1/customer-parts/{part.Text("id")}",
            new
            {
                what = "Türtafeln",
                code = "door-panels",
                dueOn = today.AddDays(4),
            }
        );
        shop.Clock.Advance(TimeSpan.FromDays(3));
        await MissAsync();
        Assert.Single(Asked());

        IEnumerable<MimeMessage> Asked() =>
            server
                .To(story.Address)
                .Where(m => m.Subject!.StartsWith("Wir warten auf Ihr Teil", StringComparison.Ordinal));

        async Task MissAsync()
        {
            await shop.WithAsync<MissCustomerParts, int>(m => m.RunOnceAsync(Ct));
            await MailStory.SendAsync(shop);
        }
    }

    [Fact]
    public async Task What_goes_wrong_is_said_in_plain_words_and_nothing_is_lost()
    {
        await using var server = new MailCatcher();
        var story = await MailStory.QuotedAsync(shop);

        // Refused credentials: it waits, and goes out once the password is right.
        await story.Owner.PutAsync(Mail, server.Settings(user: "desk", password: "wrong"));
        await MailStory.SendAsync(shop);
        Assert.Equal("The server refused the user or the password.", await TestAsync(story));
        var waiting = await story.Desk.GetJsonAsync("/api/v1/messages?state=waiting&pageSize=200");
        var row = await FindAsync(story);
        Assert.Equal((MessageState.Waiting, 1), (row.State, row.Attempts));
        Assert.DoesNotContain("wrong", waiting.ToString(), StringComparison.Ordinal);
        await story.Owner.PutAsync(Mail, server.Settings(user: "desk", password: server.Password));
        Assert.StartsWith("127.0.0.1 took the test message.", await TestAsync(story), StringComparison.Ordinal);
        var settings = (await story.Owner.GetJsonAsync(Mail)).ToString();
        Assert.DoesNotContain(server.Password, settings, StringComparison.Ordinal);

        // A refused receiver: given up at once; "try again" sends the same message.
        server.Refused = story.Address;
        shop.Clock.Advance(TimeSpan.FromMinutes(2));
        await MailStory.SendAsync(shop);
        var failed = await FindAsync(story);
        Assert.Equal(MessageState.Failed, failed.State);
        Assert.Contains("does not take mail for this address (550", failed.Problem, StringComparison.Ordinal);
        server.Refused = null;
        await story.Desk.PostAsync($"/api/v1/messages/{failed.Id}/repeat", null, 200);

        // A server that takes the message and does not answer: the repeat carries the same Message-ID.
        server.Held = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        server.Next = new TaskCompletionSource<MimeMessage>(TaskCreationOptions.RunContinuationsAsynchronously);
        var sending = MailStory.SendAsync(shop);
        var first = await server.Next.Task.WaitAsync(Ct);
        shop.Clock.Advance(SmtpTransport.Limit);
        await sending;
        var slow = await FindAsync(story);
        Assert.Equal(MessageState.Waiting, slow.State);
        Assert.Contains("did not answer", slow.Problem, StringComparison.Ordinal);
        server.Held.SetResult();
        server.Held = null;
        shop.Clock.Advance(OutboxMessage.Lease + TimeSpan.FromMinutes(2));
        await MailStory.SendAsync(shop);
        Assert.Equal(MessageState.Sent, (await FindAsync(story)).State);
        Assert.True(server.To(story.Address).Count() >= 2);
        Assert.Equal(first.MessageId, Assert.Single(server.To(story.Address).Select(m => m.MessageId).Distinct()));

        // No TLS where it is demanded, a certificate that nobody vouches for, nobody there.
        await SetAsync(story, "localhost", server.Port, "startTls");
        Assert.Contains("offers no STARTTLS", await TestAsync(story), StringComparison.Ordinal);
        await using var secured = new MailCatcher(isSecured: true);
        await SetAsync(story, "localhost", secured.Port, "startTls");
        Assert.Contains("its certificate is not trusted", await TestAsync(story), StringComparison.Ordinal);
        await SetAsync(story, "localhost", Ports.Free(), "tls");
        Assert.Contains("Nothing answers at localhost", await TestAsync(story), StringComparison.Ordinal);
        Assert.Empty(secured.Caught);
    }

    [Fact]
    public async Task Several_servers_send_each_message_once()
    {
        await using var server = new MailCatcher();
        var stories = new List<MailStory>();
        for (var i = 0; i < 4; i++)
        {
            stories.Add(await MailStory.QuotedAsync(shop));
        }

        await stories[0].Owner.PutAsync(Mail, server.Settings());
        await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => Task.Run(SendAsAnotherServerAsync, Ct)));
        Assert.All(stories, s => Assert.Single(server.To(s.Address)));

        async Task SendAsAnotherServerAsync()
        {
            await using var scope = shop.Services.CreateAsyncScope();
            using var gate = new SendingGate();
            await ActivatorUtilities.CreateInstance<SendMessages>(scope.ServiceProvider, gate).RunOnceAsync(Ct);
        }
    }

    [Fact]
    public async Task A_customer_stops_messages_by_one_post_and_is_forgotten_with_them()
    {
        await using var server = new MailCatcher();
        var story = await MailStory.QuotedAsync(shop);
        await story.AcceptAsync();
        await story.Owner.PutAsync(Mail, server.Settings());
        await MailStory.SendAsync(shop);
        var link = server.To(story.Address).Last().Headers["List-Unsubscribe"]!.Trim('<', '>');
        var path = new Uri(new Uri(link).AbsolutePath, UriKind.Relative);
        using var phone = shop.CreateClient();
        var opened = await phone.GetStringAsync(path, Ct);
        Assert.Contains("method=\"post\"", opened, StringComparison.Ordinal);
        Assert.Equal("[]", await RefusedAsync());

        using (var oneClick = new FormUrlEncodedContent([new("List-Unsubscribe", "One-Click")]))
        using (var answer = await phone.PostAsync(path, oneClick, Ct))
        {
            Assert.Contains(
                "Messages are stopped",
                await answer.Content.ReadAsStringAsync(Ct),
                StringComparison.Ordinal
            );
            Assert.False(answer.Headers.Contains("Set-Cookie"));
        }

        await story.AppointAsync("2026-06-02", "08:30");
        await MailStory.SendAsync(shop);
        var booked = await story.MessageAsync("bookedIn");
        Assert.Equal("notNeeded", booked.Text("state"));
        Assert.Contains("does not want", booked.Text("problem"), StringComparison.Ordinal);
        using (var again = await phone.PostAsync(new Uri(path + "?again", UriKind.Relative), null, Ct))
        {
            Assert.Equal("[]", await RefusedAsync());
        }

        await story.Desk.PutAsync(
            $"/api/v1/customers/{story.Customer}/messages",
            new { refused = new[] { "invoice" } },
            400
        );
        var waits = await story.Desk.PostAsync($"/api/v1/messages/{booked.Text("id")}/repeat", null, 200);
        using (var taken = await story.Desk.SendAsync(HttpMethod.Post, $"/api/v1/messages/{waits.Text("id")}/cancel"))
        {
            Assert.Equal(HttpStatusCode.NoContent, taken.StatusCode);
        }

        await story.Desk.PostAsync($"{story.JobPath}/cancel", new { reason = "Sold" }, 200);
        var sent = await story.MessageAsync("quoteAccepted");
        await story.Owner.PostAsync($"/api/v1/customers/{story.Customer}/erase", new { }, 200);
        var row = await MailStory.RowAsync(shop, sent.Text("id"));
        Assert.Null(row.SealedHead);
        Assert.Null(row.SealedMail);
        using var gone = await phone.GetAsync(path, Ct);
        using var wrong = await phone.GetAsync(new Uri("/m/AAAA", UriKind.Relative), Ct);
        Assert.Equal(HttpStatusCode.NotFound, gone.StatusCode);
        Assert.Equal(await wrong.Content.ReadAsStringAsync(Ct), await gone.Content.ReadAsStringAsync(Ct));

        async Task<string> RefusedAsync() =>
            (await story.Desk.GetJsonAsync($"/api/v1/customers/{story.Customer}/messages"))
                .GetProperty("refused")
                .ToString();
    }

    [Fact]
    public async Task The_owners_words_are_checked_shown_used_and_taken_back()
    {
        const string Template = "/api/v1/shop/message-templates/quoteSent/en";
        await using var server = new MailCatcher();
        using var owner = await shop.ApiAsync(Role.Owner);
        var problem = await owner.PutAsync(Template, new { subject = "For {custmer}", body = "Hello" }, 400);
        Assert.Contains(
            "{custmer} is not known here",
            problem.GetProperty("errors").GetProperty("subject")[0].GetString(),
            StringComparison.Ordinal
        );
        var preview = await owner.PostAsync(
            "/api/v1/shop/message-templates/quoteSent/preview",
            new { subject = "Ours: {number}", body = "Hello {customer}" },
            200
        );
        Assert.Equal("Ours: Q-2026-0031", preview.Text("subject"));

        var changed = await owner.PutAsync(Template, new { subject = "Ours: {number}", body = "Hello {customer}" });
        var story = await MailStory.QuotedAsync(shop);
        await owner.PutAsync(Mail, server.Settings());
        await MailStory.SendAsync(shop);
        Assert.StartsWith("Ours: Q-", server.To(story.Address).Single().Subject, StringComparison.Ordinal);

        var reset = await owner.PostAsync(Template + "/reset", null, 200);
        Assert.True(reset.GetProperty("isShipped").GetBoolean());
        Assert.Equal(changed.Number("edition") + 1, reset.Number("edition"));
        Assert.Contains(
            reset.GetProperty("versions").EnumerateArray(),
            v => v.GetProperty("subject").ToString() == "Ours: {number}"
        );
        using var late = await owner.SendAsync(
            HttpMethod.Put,
            Template,
            new { subject = "Late", body = "Late" },
            ifMatch: changed.Number("edition")
        );
        Assert.Equal(409, (int)late.StatusCode);
    }

    private static async Task<string> TestAsync(MailStory story) =>
        (await story.Owner.PostAsync(Mail + "/test", new { to = "owner@works.example" }, 200)).Text("sentence");

    private static Task<System.Text.Json.JsonElement> SetAsync(
        MailStory story,
        string host,
        int port,
        string security
    ) =>
        story.Owner.PutAsync(
            Mail,
            new
            {
                isOn = true,
                host,
                port,
                security,
                senderName = "Test Works",
                senderAddress = "desk@works.example",
            }
        );

    private Task<OutboxMessage> FindAsync(MailStory story) =>
        shop.WithAsync<IDbContextFactory<ShopDbContext>, OutboxMessage>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync(Ct);
            return await db.Set<OutboxMessage>().SingleAsync(m => m.SubjectId == Guid.Parse(story.Quote), Ct);
        });

    private Task<int> AssertNowhereAsync(string token) =>
        shop.WithAsync<IDbContextFactory<ShopDbContext>, int>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync(Ct);
            Assert.All(
                await db.Set<OutboxMessage>().ToListAsync(Ct),
                m => Assert.DoesNotContain(token, $"{m.SealedHead} {m.Problem} {m.MessageId}", StringComparison.Ordinal)
            );
            Assert.False(
                await db.Set<OutboxMessage>().AnyAsync(m => m.State == MessageState.Sent && m.SealedMail != null, Ct)
            );
            Assert.False(await db.Events.AnyAsync(e => e.Data.Contains(token), Ct));
            return 0;
        });

    private static Calendar CalendarOf(MimeMessage mail)
    {
        var part = Assert.IsAssignableFrom<MimePart>(
            mail.Attachments.Single(a => a.ContentType.MimeType == "text/calendar")
        );
        Assert.Equal("PUBLISH", part.ContentType.Parameters["method"]);
        using var content = new MemoryStream();
        part.Content!.DecodeTo(content, Ct);
        return Calendar.Load(System.Text.Encoding.UTF8.GetString(content.ToArray()))!;
    }

    private static Ical.Net.CalendarComponents.CalendarEvent DropOffOf(MimeMessage mail) =>
        CalendarOf(mail).Events.Single(e => e.Uid!.StartsWith("dropoff-", StringComparison.Ordinal));

    [GeneratedRegex("https://shop\\.example/d/[A-Za-z0-9_-]{43}")]
    private static partial Regex DecisionLink();

    [GeneratedRegex("https://shop\\.example/p/[A-Za-z0-9_-]{43}")]
    private static partial Regex ProgressUrl();
}

public sealed class MessagesApiOnSqliteTests(SqliteShop shop) : MessagesApiTests(shop), IClassFixture<SqliteShop>;

public sealed class MessagesApiOnPostgresTests(PostgresShop shop) : MessagesApiTests(shop), IClassFixture<PostgresShop>;
