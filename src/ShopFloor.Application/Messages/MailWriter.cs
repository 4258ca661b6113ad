using System.Net;
using System.Text;
using MimeKit;
using ShopFloor.Application.Papers;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;

namespace ShopFloor.Application.Messages;

/// <summary>Puts a message together as a mail by RFC 5322: text and HTML of the same words, papers and appointments attached.</summary>
internal sealed record MailWriter(MailSettings Settings, Shop Shop, string Language)
{
    /// <param name="to">Checked by <see cref="MailAddresses"/>.</param>
    /// <param name="unsubscribe">Null for what a contract needs, and for what goes to the shop's own people.</param>
    public byte[] Write(
        string messageId,
        (string Name, string Address) to,
        WrittenMessage words,
        string? unsubscribe,
        IReadOnlyList<CalendarEntry> appointments,
        PrintedPaper? paper,
        DateTimeOffset at
    )
    {
        using var mail = new MimeMessage();
        mail.From.Add(new MailboxAddress(Settings.SenderName, Settings.SenderAddress));
        mail.To.Add(new MailboxAddress(MessageWriting.OneLine(to.Name), to.Address));
        if (Settings.ReplyTo is { } reply)
        {
            mail.ReplyTo.Add(new MailboxAddress(Settings.SenderName, reply));
        }

        mail.Subject = words.Subject;
        mail.MessageId = messageId;
        mail.Date = TimeZoneInfo.ConvertTime(at, Shop.Zone);
        // RFC 3834: machines do not answer it.
        mail.Headers.Add("Auto-Submitted", "auto-generated");
        if (unsubscribe is not null)
        {
            // RFC 2369 and RFC 8058: one click in the mail program, which then posts.
            mail.Headers.Add("List-Unsubscribe", $"<{unsubscribe}>");
            mail.Headers.Add("List-Unsubscribe-Post", "List-Unsubscribe=One-Click");
        }

        var alternative = new MultipartAlternative
        {
            Part("plain", words.Text + Footer(unsubscribe) + "\n"),
            Part("html", Html(words, unsubscribe)),
        };
        var body = new Multipart("mixed") { alternative };
        if (appointments.Count > 0)
        {
            body.Add(Calendar(appointments));
        }

        if (paper is not null)
        {
            body.Add(Attachment(new ContentType("application", "pdf"), paper.FileName, paper.Content.ToArray()));
        }

        mail.Body = body.Count == 1 ? alternative : body;
        using var bytes = new MemoryStream();
        mail.WriteTo(bytes);
        return bytes.ToArray();
    }

    private string Footer(string? unsubscribe) =>
        unsubscribe is null ? ""
        : Language == MessageLanguages.German ? $"\n\n-- \nSolche Nachrichten abbestellen: {unsubscribe}"
        : $"\n\n-- \nStop messages of this kind: {unsubscribe}";

    private string Html(WrittenMessage words, string? unsubscribe)
    {
        var html = new StringBuilder();
        html.Append("<!DOCTYPE html>\n<html lang=\"")
            .Append(Language)
            .Append("\"><head><meta charset=\"utf-8\"><title>");
        html.Append(WebUtility.HtmlEncode(words.Subject)).Append("</title></head>\n");
        html.Append("<body style=\"font-family:sans-serif;line-height:1.5;max-width:40em\">\n").Append(words.Html);
        if (unsubscribe is not null)
        {
            var link = WebUtility.HtmlEncode(unsubscribe);
            var text =
                Language == MessageLanguages.German ? "Solche Nachrichten abbestellen" : "Stop messages of this kind";
            html.Append("<p style=\"font-size:85%\"><a href=\"")
                .Append(link)
                .Append("\">")
                .Append(text)
                .Append("</a></p>\n");
        }

        return html.Append("</body></html>\n").ToString();
    }

    private static TextPart Part(string subtype, string text)
    {
        var part = new TextPart(subtype);
        part.SetText(Encoding.UTF8, text);
        part.ContentTransferEncoding = ContentEncoding.QuotedPrintable;
        return part;
    }

    private static MimePart Calendar(IReadOnlyList<CalendarEntry> appointments)
    {
        var type = new ContentType("text", "calendar") { Charset = "utf-8" };
        type.Parameters.Add("method", "PUBLISH");
        return Attachment(type, "appointment.ics", Encoding.UTF8.GetBytes(CalendarEntry.Write(appointments)));
    }

    private static MimePart Attachment(ContentType type, string name, byte[] content) =>
        new(type)
        {
            Content = new MimeContent(new MemoryStream(content)),
            ContentDisposition = new ContentDisposition(ContentDisposition.Attachment),
            ContentTransferEncoding = ContentEncoding.Base64,
            FileName = name,
        };
}
