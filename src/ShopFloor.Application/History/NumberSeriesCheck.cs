using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Numbers;

namespace ShopFloor.Application.History;

/// <summary>Whether numbered papers are all there.</summary>
internal static class NumberSeriesCheck
{
    /// <summary>Each year of a series runs from 1 to its last number, nothing missing, nothing twice.</summary>
    public static async Task AddAsync(
        ShopDbContext db,
        string series,
        string what,
        IEnumerable<string> numbers,
        List<string> differences,
        CancellationToken ct
    )
    {
        var last = await db.Set<NumberSeriesRow>()
            .AsNoTracking()
            .Where(r => r.Series == series)
            .ToDictionaryAsync(r => r.Year, r => r.Last, ct);
        var given = numbers
            .Select(n => n.Split('-'))
            .GroupBy(n => int.Parse(n[1], CultureInfo.InvariantCulture))
            .ToDictionary(
                g => g.Key,
                g => g.Select(n => long.Parse(n[2], CultureInfo.InvariantCulture)).Order().ToList()
            );
        foreach (var year in last.Keys.Union(given.Keys).Order())
        {
            var have = given.GetValueOrDefault(year) ?? [];
            var most = Math.Max(last.GetValueOrDefault(year), have.LastOrDefault());
            var missing =
                have.Count == most && have.Distinct().Count() == have.Count
                    ? []
                    : LongRange(1, most).Except(have).Take(5).ToList();
            differences.AddRange(
                missing.Select(n => FormattableString.Invariant($"Of the {what}, {series}-{year}-{n:0000} is missing."))
            );
            if (most != last.GetValueOrDefault(year))
            {
                differences.Add(
                    FormattableString.Invariant(
                        $"The {what} of {year} were counted to {last.GetValueOrDefault(year)} and go to {most}."
                    )
                );
            }
        }
    }

    private static IEnumerable<long> LongRange(long from, long to)
    {
        for (var n = from; n <= to; n++)
        {
            yield return n;
        }
    }
}
