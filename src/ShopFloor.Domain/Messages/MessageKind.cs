namespace ShopFloor.Domain.Messages;

/// <summary>On what occasion a message goes to a customer; the last goes to an owner.</summary>
public enum MessageKind
{
    QuoteSent,
    QuoteAccepted,
    BookedIn,
    WaitingForPart,
    ChangeToApprove,
    DateMoved,
    ReadyForCollection,
    CollectionAgreed,
    Invoice,
    Thanks,

    /// <summary>The owner's week, to a person of the shop; it has no template and no links.</summary>
    WeekFigures,
}

/// <summary>A word in braces that a template may use.</summary>
/// <param name="Name">As written between the braces.</param>
/// <param name="Meaning">What stands in its place.</param>
/// <param name="Sample">Invented value for the preview.</param>
/// <param name="IsOptional">May have no value: the whole line that uses it is then left out.</param>
public sealed record Placeholder(string Name, string Meaning, string Sample, bool IsOptional = false);

/// <summary>The one table of what each kind of message is and may say. What is not listed here cannot get into a message: no notes, hours, costs, names of workers, other customers.</summary>
public static class MessageKinds
{
    private static readonly Placeholder[] Common =
    [
        new("customer", "the customer's name", "Alva Penrose"),
        new("shop", "the shop's name", "Testhall Roll Bars"),
        new("phone", "the shop's telephone", "+00 555 0100", true),
        new("hours", "the opening hours", "Mon–Fri 8–17", true),
        new("car", "the car, or what is sold without one", "2019 Tarvo Lumen"),
    ];

    /// <summary>The job's page, the quote's or the change order's.</summary>
    public static readonly Placeholder Link = new(
        "link",
        "the customer's link, where the shop has released one",
        "https://shop.example/p/…",
        true
    );

    /// <summary>The page on which the customer answers: whether the time suits, or when the part comes.</summary>
    public static readonly Placeholder Confirm = new(
        "confirm",
        "the link on which the customer answers: whether the time suits, or when the part comes",
        "https://shop.example/d/…",
        true
    );

    /// <summary>Placeholders that secret links stand in for.</summary>
    public static IReadOnlyList<Placeholder> Links { get; } = [Link, Confirm];

    private static readonly Placeholder Job = new("number", "the job's number", "J-2026-0012");
    private static readonly Placeholder Total = new("total", "the total with tax", "2,480.00 EUR");

    /// <summary>Messages to customers.</summary>
    public static IReadOnlyList<MessageKind> All { get; } =
    [.. Enum.GetValues<MessageKind>().Where(k => k != MessageKind.WeekFigures)];

    /// <summary>Messages that a customer may do without.</summary>
    public static IReadOnlyList<MessageKind> Optional { get; } = [.. All.Where(k => !k.IsNeeded())];

    /// <summary>A contract needs it (offer, change of the agreed work, bill): it cannot be unsubscribed.</summary>
    public static bool IsNeeded(this MessageKind kind) =>
        kind is MessageKind.QuoteSent or MessageKind.ChangeToApprove or MessageKind.Invoice;

    public static string Title(this MessageKind kind) =>
        kind switch
        {
            MessageKind.QuoteSent => "Quote sent",
            MessageKind.QuoteAccepted => "Quote accepted",
            MessageKind.BookedIn => "Booked in",
            MessageKind.WaitingForPart => "Waiting for your part",
            MessageKind.ChangeToApprove => "Change to approve",
            MessageKind.DateMoved => "Date moved",
            MessageKind.ReadyForCollection => "Ready for collection",
            MessageKind.CollectionAgreed => "Collection agreed",
            MessageKind.Invoice => "Invoice",
            MessageKind.Thanks => "Thanks",
            MessageKind.WeekFigures => "Figures of the week",
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind of message."),
        };

    /// <summary>What a template of this kind may use.</summary>
    public static IReadOnlyList<Placeholder> Placeholders(this MessageKind kind) => [.. Common, .. Own(kind)];

    private static IReadOnlyList<Placeholder> Own(MessageKind kind) =>
        kind switch
        {
            MessageKind.QuoteSent =>
            [
                new Placeholder("number", "the quote's number", "Q-2026-0031"),
                Total,
                new("until", "the last day on which the quote holds", "Friday 12 June 2026", true),
                Link,
            ],
            MessageKind.QuoteAccepted => [new("number", "the quote's number", "Q-2026-0031"), Total],
            MessageKind.BookedIn =>
            [
                Job,
                new("dropOff", "day and time of the drop-off", "Tuesday 2 June 2026, 08:30"),
                new("promised", "the promised day", "Friday 26 June 2026", true),
                Confirm,
                Link,
            ],
            MessageKind.WaitingForPart =>
            [
                Job,
                new("part", "what the customer brings", "door panels"),
                new("due", "the day it is due", "Tuesday 9 June 2026"),
                Confirm,
                Link,
            ],
            MessageKind.ChangeToApprove =>
            [
                new Placeholder("number", "the change order's number", "C-2026-0007"),
                new("total", "what the change costs, with tax", "310.00 EUR"),
                Link,
            ],
            MessageKind.DateMoved =>
            [
                Job,
                new("before", "the day promised before", "Friday 26 June 2026"),
                new("promised", "the day promised now", "Tuesday 30 June 2026"),
                new("reason", "the reason, where the shop tells it", "The paint needs two more days to cure.", true),
                Link,
            ],
            MessageKind.ReadyForCollection =>
            [
                Job,
                new(
                    "collection",
                    "day and time of the collection, where they are agreed",
                    "Friday 26 June 2026, 16:00",
                    true
                ),
                Link,
            ],
            MessageKind.CollectionAgreed =>
            [
                Job,
                new("collection", "day and time of the collection", "Friday 26 June 2026, 16:00"),
                Confirm,
                Link,
            ],
            MessageKind.Invoice => [new("number", "the invoice's number", "I-2026-0019"), Total],
            MessageKind.Thanks => [Job],
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind of message."),
        };
}

/// <summary>The languages that messages are kept in.</summary>
public static class MessageLanguages
{
    public const string English = "en";
    public const string German = "de";

    public static IReadOnlyList<string> All { get; } = [English, German];

    /// <summary>The language for a customer's BCP 47 tag; English where the shop has no texts in it.</summary>
    public static string For(string tag) =>
        tag.Split('-')[0].Equals(German, StringComparison.OrdinalIgnoreCase) ? German : English;

    public static string Title(string language) => language == German ? "German" : "English";
}
