using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;

namespace ShopFloor.Domain.Tests.Messages;

public sealed class MessageWritingTests
{
    private static readonly DateTimeOffset Noon = new(2026, 5, 6, 12, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Unknown_words_and_stray_braces_are_named_at_their_field()
    {
        var errors = new FieldErrors();
        MessageWriting.Check(MessageKind.Thanks, "Thanks {custmer}", "Your {total}, see { here", errors);
        var found = Assert.IsType<Failure.Invalid>(errors.ToFailure()).Errors;
        Assert.Contains(
            found,
            e => e.Path == "subject" && e.Text.StartsWith("{custmer} is not known", StringComparison.Ordinal)
        );
        Assert.Contains(
            found,
            e => e.Path == "body" && e.Text.StartsWith("{total} is not known", StringComparison.Ordinal)
        );
        Assert.Contains(
            found,
            e => e.Path == "body" && e.Text.StartsWith("A brace stands alone", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void A_line_without_its_word_is_left_out_and_what_people_typed_makes_no_line_no_tag_and_no_header()
    {
        var words = new MessageWords("For {customer}", "Hello {customer},\n\nsee {link}\nCall {phone}\n\n{shop}");
        var written = MessageWriting.Write(
            words,
            new Dictionary<string, string?>
            {
                ["customer"] = "A<b>\r\nBcc: x@example.org",
                ["link"] = null,
                ["phone"] = "0123",
                ["shop"] = "{customer} & Co",
            }
        );
        Assert.Equal("For A<b> Bcc: x@example.org", written.Subject);
        Assert.Equal("Hello A<b> Bcc: x@example.org,\n\nCall 0123\n\n{customer} & Co", written.Text);
        Assert.Equal(
            "<p>Hello A&lt;b&gt; Bcc: x@example.org,</p>\n<p>Call 0123</p>\n<p>{customer} &amp; Co</p>\n",
            written.Html
        );
    }

    [Theory]
    [InlineData("a@example.org", "a@example.org")]
    [InlineData("a@bücher.example", "a@xn--bcher-kva.example")]
    [InlineData("a@example.org\r\nBcc: b@example.org", null)]
    [InlineData("a@example.org>", null)]
    [InlineData("\"a b\"@example.org", null)]
    [InlineData("a,b@example.org", null)]
    [InlineData("a@b@example.org", null)]
    [InlineData("a@-example.org", null)]
    [InlineData("a..b@example.org", null)]
    [InlineData("@example.org", null)]
    public void Only_addresses_that_can_end_no_header_are_taken(string text, string? read) =>
        Assert.Equal(read, MailAddresses.Read(text));

    /// <summary>RFC 5545: folding at 75 octets (3.1), escaping (3.3.11), whole days with an end that is not part of it (3.6.1).</summary>
    [Fact]
    public void A_calendar_is_folded_and_escaped_by_its_standard()
    {
        var text = CalendarEntry.Write([
            new("u-1", 2, Noon, new DateOnly(2026, 6, 30), null, new string('ä', 60) + "; a,b\\", "1 Lane\nTown"),
        ]);
        Assert.EndsWith("END:VCALENDAR\r\n", text, StringComparison.Ordinal);
        Assert.All(text.Split("\r\n"), l => Assert.True(System.Text.Encoding.UTF8.GetByteCount(l) <= 75, l));
        var unfolded = text.Replace("\r\n ", "", StringComparison.Ordinal);
        Assert.Contains("SUMMARY:" + new string('ä', 60) + @"\; a\,b\\" + "\r\n", unfolded, StringComparison.Ordinal);
        Assert.Contains(@"LOCATION:1 Lane\nTown" + "\r\n", unfolded, StringComparison.Ordinal);
        Assert.Contains(
            "DTSTART;VALUE=DATE:20260630\r\nDTEND;VALUE=DATE:20260701\r\n",
            unfolded,
            StringComparison.Ordinal
        );
        Assert.Contains("SEQUENCE:2\r\n", unfolded, StringComparison.Ordinal);
    }

    [Fact]
    public void Tries_come_ever_later_by_up_to_a_fifth_apart_and_end_with_giving_up()
    {
        var message = OutboxMessage.Due(MessageKind.Invoice, Guid.CreateVersion7(), null, 1, Noon);
        for (var n = 1; n <= 40; n++)
        {
            var plain = Math.Min(Math.Pow(2, n - 1), 360);
            var pause = OutboxMessage.Pause(message.Id, n).TotalMinutes;
            Assert.InRange(pause, plain * 0.8, plain * 1.2);
            Assert.Equal(pause, OutboxMessage.Pause(message.Id, n).TotalMinutes);
        }

        var all = Enumerable
            .Range(1, OutboxMessage.MostAttempts)
            .Sum(n => OutboxMessage.Pause(message.Id, n).TotalDays);
        Assert.InRange(all, 1.5, 3);
        var others = Enumerable
            .Range(0, 50)
            .Select(i => OutboxMessage.Pause(new OutboxMessageId(new Guid(i, 0, 0, new byte[8])), 1))
            .Distinct();
        Assert.True(others.Count() > 40);
    }

    [Fact]
    public void The_way_to_the_server_is_open_only_on_this_machine_and_a_password_goes_to_no_other_server()
    {
        var good = new MailSettings.Details(
            true,
            "mail.example.org",
            587,
            "startTls",
            "u",
            "secret",
            "Shop",
            "shop@example.org",
            null
        );
        var settings = MailSettings.Empty();
        Assert.True(settings.Change(good, p => "sealed:" + p).IsSuccess);
        Assert.Equal("sealed:secret", settings.SealedPassword);
        Assert.True(settings.Change(good with { Password = null, Port = 465, Security = "tls" }, p => p).IsSuccess);
        Assert.Equal("sealed:secret", settings.SealedPassword);

        Assert.Equal(["security"], Wrong(good with { Security = "none" }));
        Assert.Equal(["password"], Wrong(good with { Host = "other.example.org", Password = null }));
        Assert.Equal(
            ["host", "port", "security", "senderName", "senderAddress", "replyTo"],
            Wrong(new(true, "a b", 0, "x", null, null, "A\r\nBcc: b", "shop@example.org\nBcc: b@example.org", "x"))
        );
        Assert.True(settings.Change(good with { User = null, Password = null }, p => p).IsSuccess);
        Assert.Null(settings.SealedPassword);

        IEnumerable<string> Wrong(MailSettings.Details details) =>
            Assert
                .IsType<Failure.Invalid>(settings.Change(details, p => p).Failure)
                .Errors.Select(e => e.Path)
                .Distinct();
    }

    [Fact]
    public void What_a_contract_needs_cannot_be_refused()
    {
        var choices = MessageChoices.Of(new CustomerId(Guid.CreateVersion7()));
        Assert.False(choices.Refuse([MessageKind.Thanks, MessageKind.Invoice]).IsSuccess);
        Assert.True(choices.Wants(MessageKind.Thanks));
        Assert.True(choices.Refuse(MessageKinds.Optional.ToList()).IsSuccess);
        Assert.Equal(
            [MessageKind.QuoteSent, MessageKind.ChangeToApprove, MessageKind.Invoice],
            MessageKinds.All.Where(choices.Wants)
        );
    }
}
