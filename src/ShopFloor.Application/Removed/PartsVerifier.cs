using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.History;
using ShopFloor.Data;
using ShopFloor.Data.History;
using ShopFloor.Domain.Removed;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Removed;

/// <summary>Whether every part that came out of a car is still on its list, and stands as the history last told.</summary>
public sealed class PartsVerifier : IVerifier
{
    public async Task<IReadOnlyList<string>> VerifyAsync(ShopDbContext db, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(db);
        var parts = await db.Set<PartOut>().AsNoTracking().ToListAsync(ct);
        var told = await EventFacts.OfAsync(db, "partOut", ct);
        var jobs = await db.Set<Job>().AsNoTracking().ToDictionaryAsync(j => j.Id, j => j.Number, ct);
        var known = parts.Select(p => p.Id.Value).ToHashSet();
        var differences = told.Where(t => !known.Contains(t.Key))
            .Select(t =>
                $"Removed part {t.First().After("number")} of {(t.First().Job is { } of ? jobs.GetValueOrDefault(of) : "a job")} was written down and is gone."
            )
            .ToList();
        foreach (var part in parts.OrderBy(p => p.JobId.Value).ThenBy(p => p.Number))
        {
            differences.AddRange(
                part.Audit()
                    .Concat(Against([.. told[part.Id.Value]], part))
                    .Select(d => $"Removed part {part.Label(jobs[part.JobId])}: {d}")
            );
        }

        foreach (var list in parts.GroupBy(p => p.JobId))
        {
            if (!list.Select(p => p.Number).Order().SequenceEqual(Enumerable.Range(1, list.Count())))
            {
                differences.Add($"The removed parts of {jobs[list.Key]} are not numbered one after the other.");
            }
        }

        return differences;
    }

    private static IEnumerable<string> Against(List<EventRow> told, PartOut part)
    {
        if (told.Count == 0)
        {
            yield return "the history does not tell that it came out.";
            yield break;
        }

        var last = told[^1];
        if (!string.Equals(last.After("state"), part.State.ToString(), StringComparison.OrdinalIgnoreCase))
        {
            yield return $"it is {part.State.Title()}, and the history says {last.After("state")}.";
        }

        if (
            last.After("fasteners") != part.Fasteners.ToString(CultureInfo.InvariantCulture)
            || last.After("fastenersBack") != part.FastenersBack?.ToString(CultureInfo.InvariantCulture)
        )
        {
            yield return $"it counts {part.Fasteners} fasteners out and {part.FastenersBack?.ToString(CultureInfo.InvariantCulture) ?? "none"} back, and the history says otherwise.";
        }
    }
}
