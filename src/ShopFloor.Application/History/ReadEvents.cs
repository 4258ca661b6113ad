using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data.History;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.History;

/// <summary>A line of the history as integrations and the history panel read it. Names are looked up, not stored with the event.</summary>
/// <param name="PaperOf">Whose line on paper it was that <paramref name="PersonName"/> typed in; null where it was tapped.</param>
public sealed record EventView(
    long Sequence,
    Guid Id,
    int Schema,
    string Type,
    string Subject,
    Guid SubjectId,
    Guid? JobId,
    DateTimeOffset OccurredAt,
    DateTimeOffset RecordedAt,
    string ActorKind,
    Guid? PersonId,
    string? PersonName,
    string? Device,
    JsonElement Data,
    string PreviousHash,
    string Hash,
    string? PaperOf
);

/// <summary>Reads the append-only history in commit order.</summary>
public sealed class ReadEvents(QueryRunner queries) : IUseCase
{
    public const int Most = 500;

    /// <summary>Lines after a sequence number, oldest first, at most <see cref="Most"/>.</summary>
    public Task<Outcome<IReadOnlyList<EventView>>> AfterAsync(long after, Actor actor, CancellationToken ct) =>
        ReadAsync(actor, q => q.Where(e => e.Sequence > after).OrderBy(e => e.Sequence), ct);

    /// <summary>A job's lines, newest first, at most <see cref="Most"/>.</summary>
    public Task<Outcome<IReadOnlyList<EventView>>> OfJobAsync(JobId job, Actor actor, CancellationToken ct) =>
        ReadAsync(actor, q => q.Where(e => e.Job == job).OrderByDescending(e => e.Sequence), ct);

    /// <summary>The newest lines of the whole shop.</summary>
    public Task<Outcome<IReadOnlyList<EventView>>> NewestAsync(Actor actor, CancellationToken ct) =>
        ReadAsync(actor, q => q.OrderByDescending(e => e.Sequence), ct);

    private Task<Outcome<IReadOnlyList<EventView>>> ReadAsync(
        Actor actor,
        Func<IQueryable<EventRow>, IQueryable<EventRow>> choose,
        CancellationToken ct
    ) =>
        queries.RunAsync<IReadOnlyList<EventView>>(
            Permission.SeeHistory,
            actor,
            async db =>
            {
                var rows = await choose(db.Events).Take(Most).ToListAsync(ct);
                var data = rows.ToDictionary(r => r.Sequence, r => JsonSerializer.Deserialize<JsonElement>(r.Data));
                var people = rows.SelectMany(r => new[] { r.Person?.Value, PaperPerson(data[r.Sequence]) })
                    .OfType<Guid>()
                    .Distinct()
                    .ToList();
                var names = await db
                    .Users.Where(u => people.Contains(u.Id))
                    .ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
                return rows.Select(r => View(r, data[r.Sequence], names)).ToList();
            },
            ct
        );

    private static EventView View(EventRow row, JsonElement data, Dictionary<Guid, string> names) =>
        new(
            row.Sequence,
            row.Id,
            row.Schema,
            row.Type,
            row.Subject,
            row.SubjectId,
            row.Job?.Value,
            row.OccurredAt,
            row.RecordedAt,
            char.ToLowerInvariant(row.ActorKind.ToString()[0]) + row.ActorKind.ToString()[1..],
            row.Person?.Value,
            row.Person is { } person ? names.GetValueOrDefault(person.Value) : null,
            row.Device,
            data,
            row.PreviousHash,
            row.Hash,
            PaperPerson(data) is { } writer ? names.GetValueOrDefault(writer, "Somebody who has left") : null
        );

    private static Guid? PaperPerson(JsonElement data) =>
        data.ValueKind == JsonValueKind.Object
        && data.TryGetProperty("after", out var after)
        && after.ValueKind == JsonValueKind.Object
        && after.TryGetProperty("paper", out var paper)
        && paper.ValueKind == JsonValueKind.Object
        && paper.TryGetProperty("person", out var person)
        && person.TryGetGuid(out var id)
            ? id
            : null;
}
