using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Data.History;

namespace ShopFloor.Application.History;

/// <summary>One kind of stored thing that can be added up or hashed again; found by scanning and run by <see cref="VerifyHistory"/>.</summary>
public interface IVerifier : IHook
{
    /// <summary>A sentence for each difference; none where all is as it was written.</summary>
    Task<IReadOnlyList<string>> VerifyAsync(ShopDbContext db, CancellationToken ct);
}

/// <summary>Shows whether anything stored was changed behind the program's back.</summary>
public sealed class VerifyHistory(IDbContextFactory<ShopDbContext> contexts, IEnumerable<IVerifier> verifiers)
    : IUseCase
{
    public async Task<IReadOnlyList<string>> RunAsync(CancellationToken ct)
    {
        var differences = new List<string>();
        foreach (var verifier in verifiers)
        {
            await using var db = await contexts.CreateDbContextAsync(ct);
            differences.AddRange(await verifier.VerifyAsync(db, ct));
        }

        return differences;
    }
}

/// <summary>The history's numbers have no gaps and every line's hash follows from the line before.</summary>
public sealed class EventChainVerifier : IVerifier
{
    private const int Batch = 1000;

    public async Task<IReadOnlyList<string>> VerifyAsync(ShopDbContext db, CancellationToken ct)
    {
        var differences = new List<string>();
        var previous = EventRow.FirstHash;
        long last = 0;
        while (true)
        {
            var rows = await db
                .Events.AsNoTracking()
                .Where(e => e.Sequence > last)
                .OrderBy(e => e.Sequence)
                .Take(Batch)
                .ToListAsync(ct);
            foreach (var row in rows)
            {
                if (row.Sequence != last + 1)
                {
                    differences.Add(Say($"Event {last + 1} is missing before event {row.Sequence}."));
                }

                if (row.PreviousHash != previous || row.ComputeHash() != row.Hash)
                {
                    differences.Add(
                        Say($"Event {row.Sequence} ({row.Type}) is not what was written: its hash differs.")
                    );
                }

                previous = row.Hash;
                last = row.Sequence;
            }

            if (rows.Count < Batch)
            {
                return differences;
            }
        }
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
