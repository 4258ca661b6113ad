using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Integrations;

public enum DeliveryState
{
    /// <summary>To be sent, or sent again.</summary>
    Waiting,

    /// <summary>The other program answered that it took it (2xx).</summary>
    Taken,

    /// <summary>Given up.</summary>
    GivenUp,
}

/// <summary>One line of the history on its way to one webhook. What is sent is made from the line, which never changes; kept here is how it went.</summary>
public sealed class WebhookDelivery : IVersioned
{
    public const int LongestProblem = 200;

    /// <summary>How long an answer is waited for: Standard Webhooks recommends 15 to 30 seconds.</summary>
    public static readonly TimeSpan Limit = TimeSpan.FromSeconds(15);

    /// <summary>How long whoever took it to send has it for himself; longer than a try may last.</summary>
    public static readonly TimeSpan Lease = TimeSpan.FromMinutes(1);

    /// <summary>How long the list remembers it.</summary>
    public static readonly TimeSpan Kept = TimeSpan.FromDays(30);

    /// <summary>Pauses before the second, third … try: the example schedule of Standard Webhooks 1.0.0, "Deliverability and reliability"; a little over three days in all.</summary>
    private static readonly TimeSpan[] Pauses =
    [
        TimeSpan.FromSeconds(5),
        TimeSpan.FromMinutes(5),
        TimeSpan.FromMinutes(30),
        TimeSpan.FromHours(2),
        TimeSpan.FromHours(5),
        TimeSpan.FromHours(10),
        TimeSpan.FromHours(14),
        TimeSpan.FromHours(20),
        TimeSpan.FromHours(24),
    ];

    private WebhookDelivery() { }

    public WebhookDeliveryId Id { get; private set; }
    public long Version { get; private set; }
    public WebhookId WebhookId { get; private set; }

    /// <summary>Number of the line.</summary>
    public long EventSequence { get; private set; }
    public DeliveryState State { get; private set; }
    public DateTimeOffset CreatedAt { get; private set; }
    public DateTimeOffset DueAt { get; private set; }
    public DateTimeOffset? LeaseUntil { get; private set; }
    public int Attempts { get; private set; }

    /// <summary>The last answer's HTTP status; null where there was none.</summary>
    public int? Status { get; private set; }

    /// <summary>Why it was not taken, for people.</summary>
    public string? Problem { get; private set; }
    public DateTimeOffset? EndedAt { get; private set; }

    /// <summary>Tries before it is given up.</summary>
    public static int MostAttempts => Pauses.Length + 1;

    public static WebhookDelivery Due(WebhookId webhook, long sequence, DateTimeOffset at) =>
        new()
        {
            Id = Ids.New<WebhookDeliveryId>(at),
            WebhookId = webhook,
            EventSequence = sequence,
            CreatedAt = at,
            DueAt = at,
        };

    /// <summary>The <c>webhook-id</c>: the same at every try, so that the other side knows a repeat.</summary>
    public string MessageId => $"msg_{Id.Value:N}";

    public void Taken(int status, DateTimeOffset at) =>
        (State, Status, Problem, EndedAt, LeaseUntil) = (DeliveryState.Taken, status, null, at, null);

    /// <summary>Not taken: later once more, or given up after the last try.</summary>
    /// <param name="status">The answer's status; null where there was none.</param>
    /// <param name="problem">For people; cut where it is too long.</param>
    /// <param name="isFinal">The other side wants no repeat.</param>
    /// <param name="at">Now.</param>
    public void NotTaken(int? status, string problem, bool isFinal, DateTimeOffset at)
    {
        (Status, Problem, LeaseUntil) = (
            status,
            problem.Length > LongestProblem ? problem[..LongestProblem] : problem,
            null
        );
        if (isFinal || Attempts >= MostAttempts)
        {
            (State, EndedAt) = (DeliveryState.GivenUp, at);
        }
        else
        {
            // Up to a tenth longer, so that what failed together is not tried again together.
            DueAt = at + (Pauses[Math.Max(Attempts, 1) - 1] * (1 + (Id.Value.ToByteArray()[15] / 2560.0)));
        }
    }

    /// <summary>Sent once more because a person asked for it.</summary>
    public void Again(DateTimeOffset at) =>
        (State, DueAt, EndedAt, Attempts, LeaseUntil) = (DeliveryState.Waiting, at, null, 0, null);
}
