using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Messages;

/// <summary>Which messages a customer does not want. Without a row, all are sent.</summary>
public sealed class MessageChoices : IVersioned
{
    private MessageChoices() { }

    public CustomerId Id { get; private set; }
    public long Version { get; private set; }
    public IReadOnlyList<MessageKind> Refused { get; private set; } = [];

    public static MessageChoices Of(CustomerId customer) => new() { Id = customer };

    public bool Wants(MessageKind kind) => kind.IsNeeded() || !Refused.Contains(kind);

    /// <summary>Takes the list; what a contract needs cannot be refused.</summary>
    public Outcome<Done> Refuse(IReadOnlyCollection<MessageKind> kinds)
    {
        if (kinds.Any(k => !MessageKinds.All.Contains(k)))
        {
            return Failure.Field("refused", "Not every kind that was given is a message to customers.");
        }

        var needed = kinds.Where(k => k.IsNeeded()).ToList();
        if (needed.Count > 0)
        {
            return Failure.Field("refused", $"'{needed[0].Title()}' belongs to the contract and goes out in any case.");
        }

        Refused = [.. kinds.Distinct().Order()];
        return Outcome.Ok;
    }
}

/// <summary>One version of a template's words. The newest is used; older ones stay.</summary>
public sealed class MessageTemplateEdition
{
    private MessageTemplateEdition() { }

    public MessageKind Kind { get; private set; }
    public string Language { get; private set; } = "";

    /// <summary>From 1.</summary>
    public int Edition { get; private set; }

    /// <summary>Null: the words that come with the program.</summary>
    public string? Subject { get; private set; }
    public string? Body { get; private set; }
    public DateTimeOffset MadeAt { get; private set; }
    public PersonId? MadeBy { get; private set; }

    public static MessageTemplateEdition Of(
        MessageKind kind,
        string language,
        int edition,
        MessageWords? words,
        PersonId? by,
        DateTimeOffset at
    ) =>
        new()
        {
            Kind = kind,
            Language = language,
            Edition = edition,
            Subject = words?.Subject,
            Body = words?.Body,
            MadeAt = at,
            MadeBy = by,
        };
}
