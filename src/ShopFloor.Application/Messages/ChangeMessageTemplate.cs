using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;

namespace ShopFloor.Application.Messages;

/// <summary>One earlier version of a template.</summary>
/// <param name="Subject">Null: the shipped words.</param>
public sealed record MessageTemplateVersion(int Edition, string? Subject, string? Body, DateTimeOffset MadeAt);

/// <summary>A template as the owner edits it.</summary>
/// <param name="Edition">0 where the shop never changed it.</param>
/// <param name="IsShipped">The words in force are those that come with the program.</param>
public sealed record MessageTemplateView(
    MessageKind Kind,
    string Language,
    int Edition,
    bool IsShipped,
    string Subject,
    string Body,
    IReadOnlyList<Placeholder> Placeholders,
    IReadOnlyList<MessageTemplateVersion> Versions
);

/// <summary>Reads templates and their versions.</summary>
public sealed class ReadMessageTemplates(QueryRunner queries) : IUseCase
{
    public Task<Outcome<IReadOnlyList<MessageTemplateView>>> AllAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<MessageTemplateView>>(
            Permission.RunShop,
            actor,
            async db =>
            {
                var editions = await db.Set<MessageTemplateEdition>().ToListAsync(ct);
                return (
                    from kind in MessageKinds.All
                    from language in MessageLanguages.All
                    select ViewOf(kind, language, editions)
                ).ToList();
            },
            ct
        );

    internal static MessageTemplateView ViewOf(
        MessageKind kind,
        string language,
        IEnumerable<MessageTemplateEdition> all
    )
    {
        var own = all.Where(e => e.Kind == kind && e.Language == language).OrderByDescending(e => e.Edition).ToList();
        var words = own is [{ Subject: { } subject, Body: { } body }, ..]
            ? new MessageWords(subject, body)
            : MessageTemplates.ShippedOf(kind, language);
        return new MessageTemplateView(
            kind,
            language,
            own.Count == 0 ? 0 : own[0].Edition,
            own is not [{ Subject: not null }, ..],
            words.Subject,
            words.Body,
            kind.Placeholders(),
            [.. own.Select(e => new MessageTemplateVersion(e.Edition, e.Subject, e.Body, e.MadeAt))]
        );
    }
}

/// <summary>Shows how words would read, on invented data; nothing is stored.</summary>
public sealed class PreviewMessage(QueryRunner queries) : IUseCase
{
    public Task<Outcome<WrittenMessage>> RunAsync(
        MessageKind kind,
        ChangeMessageTemplate.Request request,
        Actor actor,
        CancellationToken ct
    ) =>
        queries.RunAsync<WrittenMessage>(
            Permission.RunShop,
            actor,
            _ =>
            {
                var errors = new FieldErrors();
                var words = MessageWriting.Check(kind, request.Subject, request.Body, errors);
                Outcome<WrittenMessage> outcome = errors.Any
                    ? errors.ToFailure()
                    : MessageWriting.Write(
                        words,
                        kind.Placeholders().ToDictionary(p => p.Name, p => (string?)p.Sample, StringComparer.Ordinal)
                    );
                return Task.FromResult(outcome);
            },
            ct
        );
}

/// <summary>Gives a template new words, or the shipped ones again; earlier versions stay.</summary>
public sealed class ChangeMessageTemplate(CommandRunner runner) : IUseCase
{
    public sealed record Request(string? Subject, string? Body);

    public Task<Outcome<MessageTemplateView>> RunAsync(
        MessageKind kind,
        string language,
        Request request,
        Envelope envelope,
        CancellationToken ct
    )
    {
        var errors = new FieldErrors();
        var words = MessageWriting.Check(kind, request.Subject, request.Body, errors);
        return AddAsync(kind, language, words, errors, envelope, ct);
    }

    /// <summary>Back to the shipped words.</summary>
    public Task<Outcome<MessageTemplateView>> ResetAsync(
        MessageKind kind,
        string language,
        Envelope envelope,
        CancellationToken ct
    ) => AddAsync(kind, language, null, new FieldErrors(), envelope, ct);

    private Task<Outcome<MessageTemplateView>> AddAsync(
        MessageKind kind,
        string language,
        MessageWords? words,
        FieldErrors errors,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<MessageTemplateView>(
            Permission.RunShop,
            envelope,
            new
            {
                kind,
                language,
                words,
            },
            async scope =>
            {
                if (!MessageLanguages.All.Contains(language))
                {
                    return Failure.Missing("language of messages");
                }

                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                var editions = await scope
                    .Db.Set<MessageTemplateEdition>()
                    .Where(t => t.Kind == kind && t.Language == language)
                    .ToListAsync(scope.Cancellation);
                var before = ReadMessageTemplates.ViewOf(kind, language, editions);
                if (scope.Envelope.IfMatch is { } expected && expected != before.Edition)
                {
                    return Failure.Because(
                        "stale",
                        $"Somebody else changed this template meanwhile (it is now version {before.Edition}). Load it again and repeat your change."
                    );
                }

                var isSame = words is null ? before.IsShipped : words == new MessageWords(before.Subject, before.Body);
                if (isSame)
                {
                    return before;
                }

                var edition = MessageTemplateEdition.Of(
                    kind,
                    language,
                    before.Edition + 1,
                    words,
                    scope.Actor.Person,
                    scope.Now
                );
                scope.Db.Add(edition);
                var shop = await scope.ShopAsync();
                scope.Record(
                    new EventDraft(
                        "messageTemplate.changed",
                        "shop",
                        shop.Id.Value,
                        After: new
                        {
                            kind,
                            language,
                            edition = edition.Edition,
                            isShipped = words is null,
                        }
                    )
                );
                return ReadMessageTemplates.ViewOf(kind, language, [.. editions, edition]);
            },
            ct
        );
}
