using System.Buffers.Binary;
using System.Security.Cryptography;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Messages;

public enum MessageState
{
    /// <summary>To be written or sent; so too after a try that failed for now.</summary>
    Waiting,

    /// <summary>The mail server took it.</summary>
    Sent,

    /// <summary>Given up; somebody must look.</summary>
    Failed,

    /// <summary>Taken back before it went out.</summary>
    Cancelled,

    /// <summary>There was nothing to send: no address, not wanted, or no longer true.</summary>
    NotNeeded,
}

/// <summary>A message to a customer, or an owner's week to its owner: noted with the event that causes it, written shortly before it is sent, kept as a line of the list afterwards.</summary>
/// <remarks>What it says lies here encrypted only; what was noted with the event holds ids and no personal data.</remarks>
public sealed class OutboxMessage : IVersioned
{
    public const int LongestProblem = 400;

    /// <summary>Tries before it is given up: with the pauses of <see cref="Pause"/> a little over two days.</summary>
    public const int MostAttempts = 16;

    /// <summary>How long somebody who took it to send has it for himself; longer than any try may last.</summary>
    public static readonly TimeSpan Lease = TimeSpan.FromMinutes(2);

    /// <summary>What was not even written within this time (mail was not set up) is old news, and not sent without being asked for.</summary>
    public static readonly TimeSpan Stale = TimeSpan.FromDays(3);

    private static readonly TimeSpan LongestPause = TimeSpan.FromHours(6);

    private OutboxMessage() { }

    public OutboxMessageId Id { get; private set; }
    public long Version { get; private set; }
    public MessageKind Kind { get; private set; }

    /// <summary>Quote, job, part, change order, invoice or mail of the week, by the kind.</summary>
    public Guid SubjectId { get; private set; }
    public JobId? JobId { get; private set; }

    /// <summary>Known from the writing on; null where it goes to no customer.</summary>
    public CustomerId? CustomerId { get; private set; }

    /// <summary>Number of the event that caused it; null where a person asked for it.</summary>
    public long? EventSequence { get; private set; }
    public OutboxMessageId? RepeatOf { get; private set; }
    public DateTimeOffset CreatedAt { get; private set; }

    /// <summary>From when its news counts as fresh.</summary>
    public DateTimeOffset AskedAt { get; private set; }
    public MessageState State { get; private set; }

    /// <summary>Not tried before.</summary>
    public DateTimeOffset DueAt { get; private set; }
    public int Attempts { get; private set; }
    public DateTimeOffset? LeaseUntil { get; private set; }

    /// <summary>The <c>Message-ID</c> without its angle brackets; the same at every try.</summary>
    public string? MessageId { get; private set; }
    public DateTimeOffset? WrittenAt { get; private set; }

    /// <summary>The whole mail, encrypted, while it may still be sent.</summary>
    public byte[]? SealedMail { get; private set; }

    /// <summary>To whom and what, without its secret links, encrypted.</summary>
    public string? SealedHead { get; private set; }
    public DateTimeOffset? EndedAt { get; private set; }

    /// <summary>Why it failed, waits or was not needed, for people.</summary>
    public string? Problem { get; private set; }

    public static OutboxMessage Due(
        MessageKind kind,
        Guid subject,
        JobId? job,
        long? eventSequence,
        DateTimeOffset at,
        OutboxMessageId? repeatOf = null
    ) =>
        new()
        {
            Id = Ids.New<OutboxMessageId>(at),
            Kind = kind,
            SubjectId = subject,
            JobId = job,
            EventSequence = eventSequence,
            RepeatOf = repeatOf,
            CreatedAt = at,
            AskedAt = at,
            DueAt = at,
            State = MessageState.Waiting,
        };

    public bool IsStale(DateTimeOffset at) => WrittenAt is null && at - AskedAt > Stale;

    public bool IsLeased(DateTimeOffset at) => LeaseUntil > at;

    /// <summary>Keeps what will be sent, the same at every try.</summary>
    public void Write(CustomerId? customer, string messageId, byte[] sealedMail, string sealedHead, DateTimeOffset at)
    {
        (CustomerId, MessageId, SealedMail, SealedHead, WrittenAt) = (customer, messageId, sealedMail, sealedHead, at);
    }

    public void Sent(DateTimeOffset at) => End(MessageState.Sent, null, at);

    public void NotNeeded(string why, CustomerId? customer, DateTimeOffset at)
    {
        CustomerId ??= customer;
        End(MessageState.NotNeeded, why, at);
    }

    /// <summary>The mail server could not be reached or wants it later; after <see cref="MostAttempts"/> it is given up.</summary>
    public void TryLater(string why, DateTimeOffset at)
    {
        if (Attempts >= MostAttempts)
        {
            GiveUp(why, at);
            return;
        }

        Problem = Short(why);
        LeaseUntil = null;
        DueAt = at + Pause(Id, Attempts);
    }

    /// <summary>It cannot be sent as it is; the mail is kept, so that a person may try again.</summary>
    public void GiveUp(string why, DateTimeOffset at)
    {
        State = MessageState.Failed;
        (Problem, EndedAt, LeaseUntil) = (Short(why), at, null);
    }

    public Outcome<Done> Cancel(DateTimeOffset at)
    {
        if (State is not (MessageState.Waiting or MessageState.Failed) || IsLeased(at))
        {
            return Failure.Because("messageGone", "This message is being sent or has ended; it cannot be taken back.");
        }

        End(MessageState.Cancelled, null, at);
        return Outcome.Ok;
    }

    /// <summary>Tries a message that was given up once more, as the same message.</summary>
    public Outcome<Done> TryAgain(DateTimeOffset at)
    {
        if (State != MessageState.Failed)
        {
            return Failure.Because("messageState", "Only a message that failed is tried again as it is.");
        }

        (State, EndedAt, Attempts, DueAt, AskedAt) = (MessageState.Waiting, null, 0, at, at);
        return Outcome.Ok;
    }

    /// <summary>Nothing personal stays; what was still to be sent is not.</summary>
    public void ForgetPerson(DateTimeOffset at)
    {
        if (State is MessageState.Waiting or MessageState.Failed)
        {
            End(MessageState.Cancelled, null, at);
        }

        (SealedMail, SealedHead, Problem) = (null, null, null);
    }

    /// <summary>Pause after a failed try: doubled from one minute to six hours, and up to a fifth shorter or longer, so that many messages do not come back at once. The share depends on the message, not on chance.</summary>
    public static TimeSpan Pause(OutboxMessageId id, int attempts)
    {
        var plain = Math.Min(Math.Pow(2, Math.Clamp(attempts - 1, 0, 20)), LongestPause.TotalMinutes);
        Span<byte> seed = stackalloc byte[20];
        id.Value.TryWriteBytes(seed);
        BinaryPrimitives.WriteInt32LittleEndian(seed[16..], attempts);
        var share = BinaryPrimitives.ReadUInt32LittleEndian(SHA256.HashData(seed)) / (double)uint.MaxValue;
        return TimeSpan.FromMinutes(plain * (0.8 + (0.4 * share)));
    }

    private void End(MessageState state, string? problem, DateTimeOffset at)
    {
        State = state;
        (EndedAt, LeaseUntil, SealedMail) = (at, null, null);
        Problem = problem is null ? null : Short(problem);
    }

    private static string Short(string text)
    {
        var line = MessageWriting.OneLine(text);
        return line.Length <= LongestProblem ? line : line[..(LongestProblem - 1)] + "…";
    }
}
