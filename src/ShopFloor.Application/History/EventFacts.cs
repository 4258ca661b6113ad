using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.History;

namespace ShopFloor.Application.History;

/// <summary>What the history says of one kind of thing, by its id, in the order recorded; verifiers hold the stored state against it.</summary>
internal static class EventFacts
{
    public static async Task<ILookup<Guid, EventRow>> OfAsync(ShopDbContext db, string subject, CancellationToken ct) =>
        (
            await db.Events.AsNoTracking().Where(e => e.Subject == subject).OrderBy(e => e.Sequence).ToListAsync(ct)
        ).ToLookup(e => e.SubjectId);

    /// <summary>A field of what an event says was so afterwards, as text; null where it says nothing of it.</summary>
    public static string? After(this EventRow row, string field) =>
        JsonNode.Parse(row.Data)?["after"]?[field]?.ToString();
}
