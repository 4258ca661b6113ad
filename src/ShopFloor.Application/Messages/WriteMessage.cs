using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Changes;
using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Throughput;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;

namespace ShopFloor.Application.Messages;

/// <summary>Writes a noted message: once, shortly before its first try, so that every further try sends the same bytes under the same Message-ID.</summary>
public sealed class WriteMessage(
    CommandRunner runner,
    IDbContextFactory<ShopDbContext> contexts,
    IEnumerable<IMessageLink> links,
    MessageSeal seal,
    PublicAddress address,
    PrintQuote printQuote,
    PrintChange printChange,
    PrintInvoice printInvoice,
    WeekLetters weeks
) : IUseCase
{
    /// <summary>What stands in the office's list in place of a secret link.</summary>
    public const string LinkWord = "[the customer's link]";

    /// <summary>The mail to send; null where there is nothing to send, which is then noted.</summary>
    public async Task<byte[]?> RunAsync(OutboxMessageId id, CancellationToken ct)
    {
        var (paper, week) = await PrepareAsync(id, ct);
        byte[]? mail = null;
        var written = await runner.RunAsync<Done>(
            Permission.RunShop,
            Envelope.Of(Actor.System),
            null,
            async scope =>
            {
                mail = null;
                var message = await scope.Db.Set<OutboxMessage>().SingleAsync(m => m.Id == id, scope.Cancellation);
                if (message.State != MessageState.Waiting)
                {
                    return Outcome.Ok;
                }

                if (message.SealedMail is { } kept)
                {
                    mail = seal.OpenMail(kept);
                    if (mail is null)
                    {
                        message.GiveUp("The keys that this message was encrypted with are gone.", scope.Now);
                        scope.Record(MessageEvents.Of("message.failed", message));
                    }

                    return Outcome.Ok;
                }

                mail =
                    Stale(scope, message) ? null
                    : message.Kind == MessageKind.WeekFigures ? await WriteWeekAsync(scope, message, week)
                    : await WriteAsync(scope, message, paper);
                return Outcome.Ok;
            },
            ct
        );
        return written.IsSuccess ? mail : throw new InvalidOperationException(written.Failure.Sentence);
    }

    /// <summary>True where it waited too long; it is then given up.</summary>
    private static bool Stale(CommandScope scope, OutboxMessage message)
    {
        if (!message.IsStale(scope.Now))
        {
            return false;
        }

        message.GiveUp(
            $"It waited for more than {OutboxMessage.Stale.TotalDays:0} days before mail could be sent; what it says may be old. Send it again if it is still wanted.",
            scope.Now
        );
        scope.Record(MessageEvents.Of("message.failed", message));
        return true;
    }

    /// <summary>An owner's week: to a person of the shop, without template and without secret links.</summary>
    private async Task<byte[]?> WriteWeekAsync(CommandScope scope, OutboxMessage message, WeekLetter? letter)
    {
        var ct = scope.Cancellation;
        var to = await WeekLetters.ReceiverAsync(scope.Db, message, ct);
        if (to.WhyNot is { } whyNot || letter is null)
        {
            message.NotNeeded(to.WhyNot ?? "What it was about does not exist.", null, scope.Now);
            scope.Record(MessageEvents.Of("message.notNeeded", message));
            return null;
        }

        var settings = await scope.Db.Set<MailSettings>().SingleAsync(ct);
        var messageId = IdOf(message, settings);
        var mail = new MailWriter(settings, await scope.ShopAsync(), MessageLanguages.English).Write(
            messageId,
            (to.Name, to.Address!),
            letter.Words,
            null,
            [],
            letter.Paper,
            scope.Now
        );
        message.Write(
            null,
            messageId,
            seal.Mail(mail),
            seal.Head(new MessageHead(to.Address!, letter.Words.Subject, WeekLetters.ListText)),
            scope.Now
        );
        return mail;
    }

    private static string IdOf(OutboxMessage message, MailSettings settings) =>
        $"{message.Id.Value:N}@{MailAddresses.Domain(settings.SenderAddress)}";

    private async Task<byte[]?> WriteAsync(CommandScope scope, OutboxMessage message, PrintedPaper? paper)
    {
        var ct = scope.Cancellation;
        var facts = await MessageFacts.ReadAsync(scope.Db, message, scope.Now, ct);
        var to = MailAddresses.Read(facts?.Customer.Email);
        if (await WhyNotAsync(scope.Db, message, facts, to, ct) is { } whyNot)
        {
            message.NotNeeded(whyNot, facts?.Customer.Id, scope.Now);
            scope.Record(MessageEvents.Of("message.notNeeded", message));
            return null;
        }

        var settings = await scope.Db.Set<MailSettings>().SingleAsync(ct);
        var (template, _) = await MessageTemplates.InForceAsync(scope.Db, message.Kind, facts!.Language, ct);
        var issued = await IssueAsync(scope, message, template);
        var words = MessageWriting.Write(template, With(facts.Values, issued));
        var shown = MessageWriting.Write(
            template,
            With(facts.Values, issued.ToDictionary(l => l.Key, l => l.Value is null ? null : LinkWord))
        );
        var unsubscribe = message.Kind.IsNeeded() ? null : $"{address.Root}/m/{seal.Token(facts.Customer.Id)}";
        var messageId = IdOf(message, settings);
        var mail = new MailWriter(settings, await scope.ShopAsync(), facts.Language).Write(
            messageId,
            (facts.Customer.Name, to!),
            words,
            unsubscribe,
            facts.Appointments,
            paper,
            scope.Now
        );
        message.Write(
            facts.Customer.Id,
            messageId,
            seal.Mail(mail),
            seal.Head(new MessageHead(to!, shown.Subject, shown.Text)),
            scope.Now
        );
        return mail;
    }

    /// <summary>The links that the template asks for, each by its placeholder; no secret is made that nobody would read.</summary>
    private async Task<Dictionary<string, string?>> IssueAsync(
        CommandScope scope,
        OutboxMessage message,
        MessageWords template
    )
    {
        var issued = new Dictionary<string, string?>(StringComparer.Ordinal);
        foreach (var maker in links.Where(l => l.Kinds.Contains(message.Kind) && template.Uses(l.Placeholder)))
        {
            issued[maker.Placeholder] = await maker.IssueAsync(scope, message);
        }

        return issued;
    }

    private static async Task<string?> WhyNotAsync(
        ShopDbContext db,
        OutboxMessage message,
        MessageFacts? facts,
        string? to,
        CancellationToken ct
    )
    {
        if (facts is null)
        {
            return "What it was about does not exist.";
        }

        if (facts.WhyNot is { } gone)
        {
            return gone;
        }

        if (to is null)
        {
            return facts.Customer.Email is null
                ? "The customer has no e-mail address."
                : "Mail cannot be sent to the customer's e-mail address as it is written.";
        }

        if (
            await db.Set<MessageChoices>().SingleOrDefaultAsync(c => c.Id == facts.Customer.Id, ct) is { } choices
            && !choices.Wants(message.Kind)
        )
        {
            return "The customer does not want messages of this kind.";
        }

        return await db.Set<OutboxMessage>()
            .AnyAsync(
                m =>
                    m.Kind == message.Kind
                    && m.SubjectId == message.SubjectId
                    && (m.State == MessageState.Waiting || m.State == MessageState.Sent)
                    && m.CreatedAt > message.CreatedAt,
                ct
            )
            ? "A newer message of the same kind says it."
            : null;
    }

    /// <summary>Papers are printed and figures read outside the transaction, from what is stored.</summary>
    private async Task<(PrintedPaper? Paper, WeekLetter? Week)> PrepareAsync(OutboxMessageId id, CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        var message = await db.Set<OutboxMessage>().AsNoTracking().SingleAsync(m => m.Id == id, ct);
        return message.WrittenAt is not null ? (null, null)
            : message.Kind == MessageKind.WeekFigures ? (null, await weeks.PrepareAsync(message, ct))
            : (await PaperAsync(message, ct), null);
    }

    private async Task<PrintedPaper?> PaperAsync(OutboxMessage message, CancellationToken ct)
    {
        var outcome = message.Kind switch
        {
            MessageKind.QuoteSent => await printQuote.RunAsync(
                new QuoteId(message.SubjectId),
                null,
                false,
                Actor.System,
                ct
            ),
            MessageKind.ChangeToApprove => await printChange.RunAsync(
                new ChangeOrderId(message.SubjectId),
                null,
                Actor.System,
                ct
            ),
            MessageKind.Invoice => await printInvoice.RunAsync(
                new InvoiceId(message.SubjectId),
                null,
                Actor.System,
                ct
            ),
            _ => (Outcome<PrintedPaper>?)null,
        };
        return outcome is { IsSuccess: true } printed ? printed.Value : null;
    }

    private static Dictionary<string, string?> With(
        IReadOnlyDictionary<string, string?> values,
        Dictionary<string, string?> links
    )
    {
        var all = new Dictionary<string, string?>(values, StringComparer.Ordinal);
        foreach (var maker in MessageKinds.Links)
        {
            all[maker.Name] = links.GetValueOrDefault(maker.Name);
        }

        return all;
    }
}

/// <summary>What the history says of messages: never to whom or what.</summary>
internal static class MessageEvents
{
    public static EventDraft Of(string type, OutboxMessage message) =>
        new(
            type,
            "message",
            message.Id.Value,
            message.JobId,
            After: new
            {
                kind = message.Kind,
                state = message.State,
                attempts = message.Attempts,
            }
        );
}
