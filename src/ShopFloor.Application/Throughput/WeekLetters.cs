using System.Globalization;
using System.Net;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Messages;
using ShopFloor.Application.Papers;
using ShopFloor.Application.People;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;
using ShopFloor.Domain.Throughput;

namespace ShopFloor.Application.Throughput;

/// <summary>A week put into words, with its paper.</summary>
internal sealed record WeekLetter(WrittenMessage Words, PrintedPaper Paper);

/// <summary>To whom a week goes, or why it does not.</summary>
internal sealed record WeekReceiver(string Name, string? Address, string? WhyNot);

/// <summary>Writes the mail with an owner's week: the figures as text and as HTML, the paper attached. Its one link leads to the page, where one must sign in.</summary>
public sealed class WeekLetters(
    IDbContextFactory<ShopDbContext> contexts,
    GetWeekReport week,
    PrintWeek print,
    PublicAddress address
) : IUseCase
{
    /// <summary>What stands in the office's list of messages: the figures are for owners only.</summary>
    internal const string ListText = "The figures of these days, as on the page of the week, with the paper attached.";

    /// <summary>Reads the figures and prints the paper, outside of any transaction; null where the mail does not exist.</summary>
    internal async Task<WeekLetter?> PrepareAsync(OutboxMessage message, CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        if (await MailAsync(db, message, ct) is not { } mail)
        {
            return null;
        }

        var report = (await week.RunAsync(mail.Start, null, Actor.System, ct)).Value;
        var paper = (await print.OfAsync(report, null, Actor.System, ct)).Value;
        return new WeekLetter(Words(report, (await db.Shops.SingleAsync(ct)).Name), paper);
    }

    internal static async Task<WeekReceiver> ReceiverAsync(
        ShopDbContext db,
        OutboxMessage message,
        CancellationToken ct
    )
    {
        if (await MailAsync(db, message, ct) is not { } mail)
        {
            return new WeekReceiver("", null, "What it was about does not exist.");
        }

        var user = await db.Users.AsNoTracking().SingleOrDefaultAsync(u => u.Id == mail.Person.Value, ct);
        var roles = await PersonRoles.OfAsync(db, mail.Person, ct);
        var to = MailAddresses.Read(user?.Email);
        return new WeekReceiver(
            user?.DisplayName ?? "",
            to,
            roles is null || !Actor.OfPerson(mail.Person, roles).May(Permission.SeeFigures)
                    ? "This person no longer reads the owner's figures."
                : mail.DueOn is not null
                && !await db.Set<WeekMailWish>().AnyAsync(w => w.Id == mail.Person && w.IsOn, ct)
                    ? "The week is no longer wanted by mail."
                : to is null ? "Mail cannot be sent to this person's address as it is written."
                : null
        );
    }

    private static Task<WeekMail?> MailAsync(ShopDbContext db, OutboxMessage message, CancellationToken ct)
    {
        var id = new WeekMailId(message.SubjectId);
        return db.Set<WeekMail>().AsNoTracking().SingleOrDefaultAsync(m => m.Id == id, ct);
    }

    private WrittenMessage Words(WeekReportView report, string shop)
    {
        var currency = Currency.Of(report.Currency);
        var page = string.Create(
            CultureInfo.InvariantCulture,
            $"{address.Root}/week?start={report.Start:yyyy-MM-dd}&end={report.End:yyyy-MM-dd}"
        );
        var (text, html) = (new StringBuilder(), new StringBuilder());
        var head = $"{shop}: the week from {WeekWords.Days(report)}";
        text.Append(head).Append("\n\n").Append(WeekWords.InWords(report)).Append('\n');
        html.Append(CultureInfo.InvariantCulture, $"<h1 style=\"font-size:130%\">{E(head)}</h1>\n");
        html.Append(CultureInfo.InvariantCulture, $"<p>{E(WeekWords.InWords(report))}</p>\n");
        foreach (var group in FigureDefinitions.Groups)
        {
            text.Append('\n').Append(group.Title).Append('\n');
            html.Append(
                CultureInfo.InvariantCulture,
                $"<h2 style=\"font-size:110%\">{E(group.Title)}</h2>\n<table style=\"border-collapse:collapse\">\n"
            );
            foreach (var figure in WeekWords.Of(report, group))
            {
                var (value, note) = (WeekWords.Value(figure, currency), WeekWords.Note(figure));
                text.Append("  ").Append(figure.Name).Append(": ").Append(value);
                text.Append(note is null ? "" : $" ({note})").Append('\n');
                html.Append(
                    CultureInfo.InvariantCulture,
                    $"<tr><th scope=\"row\" style=\"text-align:left;font-weight:normal;padding:.2em 1em .2em 0\">{E(figure.Name)}</th><td style=\"text-align:right;padding:.2em 1em .2em 0\"><strong>{E(value)}</strong></td><td>{E(note ?? "")}</td></tr>\n"
                );
            }

            html.Append("</table>\n");
        }

        text.Append("\nDoes it add up?\n");
        html.Append("<h2 style=\"font-size:110%\">Does it add up?</h2>\n<ul>\n");
        foreach (var tie in report.TieOuts.Select(WeekWords.Of))
        {
            text.Append("  ").Append(tie).Append('\n');
            html.Append(CultureInfo.InvariantCulture, $"<li>{E(tie)}</li>\n");
        }

        html.Append("</ul>\n");
        var stop = "You get this because you asked for it on the page of the week; there you can stop it too:";
        text.Append('\n').Append(stop).Append('\n').Append(page).Append('\n');
        html.Append(CultureInfo.InvariantCulture, $"<p>{E(stop)} <a href=\"{E(page)}\">{E(page)}</a></p>\n");
        return new WrittenMessage(
            MessageWriting.OneLine($"The week from {WeekWords.Days(report)}, {shop}"),
            text.ToString(),
            html.ToString()
        );
    }

    private static string E(string text) => WebUtility.HtmlEncode(text);
}
