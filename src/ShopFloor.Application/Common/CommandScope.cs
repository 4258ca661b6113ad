using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Messages;
using ShopFloor.Data;
using ShopFloor.Data.Conventions;
using ShopFloor.Data.History;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Common;

/// <summary>One command at work: its database context and transaction, its actor and times, the events it records.</summary>
public sealed class CommandScope
{
    private readonly List<EventDraft> drafts = [];
    private readonly List<ChangeNotice> notices = [];
    private readonly DatabaseKind kind;

    internal CommandScope(
        ShopDbContext db,
        DatabaseKind kind,
        Envelope envelope,
        DateTimeOffset now,
        DateTimeOffset occurredAt,
        CancellationToken ct
    )
    {
        Db = db;
        this.kind = kind;
        Envelope = envelope;
        Now = now;
        OccurredAt = occurredAt;
        Cancellation = ct;
    }

    public ShopDbContext Db { get; }
    public Envelope Envelope { get; }
    public Actor Actor => Envelope.Actor;

    /// <summary>The server's time, to the millisecond; the only time safety timers may use.</summary>
    public DateTimeOffset Now { get; }

    /// <summary>The device's time of the tap, or <see cref="Now"/>.</summary>
    public DateTimeOffset OccurredAt { get; }
    public CancellationToken Cancellation { get; }

    internal IReadOnlyList<ChangeNotice> Notices => notices;

    public TId NewId<TId>()
        where TId : struct, IEntityId<TId> => Ids.New<TId>(Now);

    /// <summary>Refuses where the change was made on an older version than the stored one.</summary>
    public Failure? Stale(IVersioned aggregate) =>
        Envelope.IfMatch is { } expected && expected != aggregate.Version
            ? Failure.Because(
                "stale",
                $"Somebody else changed this meanwhile (you saw version {expected}, it is now {aggregate.Version}). Load it again and repeat your change."
            )
            : null;

    /// <summary>Adds a line to the history, in this command's transaction.</summary>
    public void Record(EventDraft draft) => drafts.Add(draft);

    /// <summary>The shop; commands run only after it was set up.</summary>
    public Task<Shop> ShopAsync() => Db.Shops.SingleAsync(Cancellation);

    /// <summary>The next number of a gapless series, e.g. <c>Q-2026-0001</c>; given back if the command fails.</summary>
    public async Task<string> NextNumberAsync(string series)
    {
        var year = (await ShopAsync()).LocalDay(Now).Year;
        var last = await Db
            .Database.SqlQuery<long>(
                $"""
                INSERT INTO "NumberSeries" ("Series", "Year", "Last") VALUES ({series}, {year}, 1)
                ON CONFLICT ("Series", "Year") DO UPDATE SET "Last" = "NumberSeries"."Last" + 1 RETURNING "Last" AS "Value"
                """
            )
            .ToListAsync(Cancellation);
        return string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{series}-{year}-{last[0]:0000}");
    }

    /// <summary>Waits for other commands that take a number of this series, and makes them wait, until this command ends.</summary>
    public async Task LockSeriesAsync(string series)
    {
        var year = (await ShopAsync()).LocalDay(Now).Year;
        await Db.Database.ExecuteSqlAsync(
            $"""
            INSERT INTO "NumberSeries" ("Series", "Year", "Last") VALUES ({series}, {year}, 0)
            ON CONFLICT ("Series", "Year") DO UPDATE SET "Last" = "NumberSeries"."Last"
            """,
            Cancellation
        );
    }

    /// <summary>Writes what was changed so far together with its events. Called by the runner at the end; call it earlier where the result needs saved versions.</summary>
    public async Task SaveAsync()
    {
        if (drafts.Count > 0)
        {
            await AppendEventsAsync();
        }

        await Db.SaveChangesAsync(Cancellation);
    }

    private async Task AppendEventsAsync()
    {
        if (kind == DatabaseKind.Postgres)
        {
            // Numbers must follow the order of commits: whoever holds this lock numbers, writes and commits before the next may number.
            await Db.Database.ExecuteSqlAsync($"SELECT pg_advisory_xact_lock({EventLock})", Cancellation);
        }

        var head = await Db
            .Events.AsNoTracking()
            .OrderByDescending(e => e.Sequence)
            .Select(e => new { e.Sequence, e.Hash })
            .FirstOrDefaultAsync(Cancellation);
        var sequence = head?.Sequence ?? 0;
        var previous = head?.Hash ?? EventRow.FirstHash;
        foreach (var draft in drafts)
        {
            var row = new EventRow
            {
                Sequence = ++sequence,
                Id = Guid.CreateVersion7(Now),
                Schema = EventRow.CurrentSchema,
                Type = draft.Type,
                Subject = draft.Subject,
                SubjectId = draft.SubjectId,
                Job = draft.Job,
                OccurredAt = draft.OccurredAt ?? OccurredAt,
                RecordedAt = Now,
                ActorKind = Actor.Kind,
                Person = Actor.Person,
                Through = Actor.Through,
                Device = Actor.Device,
                Data = DataOf(draft),
                PreviousHash = previous,
                Hash = "",
            }.Sealed();
            Db.Events.Add(row);
            if (MessageTriggers.Of(row) is { } message)
            {
                Db.Add(message);
            }

            previous = row.Hash;
            notices.Add(new ChangeNotice(row.Sequence, row.Type, row.Subject, row.SubjectId, row.Job?.Value));
        }

        drafts.Clear();
    }

    private static string DataOf(EventDraft draft) =>
        CanonicalJson.Write(
            new JsonObject
            {
                ["before"] = JsonSerializer.SerializeToNode(draft.Before, StoredJson.Options),
                ["after"] = JsonSerializer.SerializeToNode(draft.After, StoredJson.Options),
            }
        );

    private const long EventLock = 0x53684F706576; // any fixed number of our own
}
