using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Changes;

/// <summary>What the approved changes of a job add up to beside its accepted quote.</summary>
public static class ApprovedChanges
{
    /// <summary>In the order of their approval.</summary>
    public static async Task<IReadOnlyList<ChangeOrder>> OfAsync(ShopDbContext db, JobId job, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(db);
        var changes = await db.Set<ChangeOrder>()
            .AsNoTracking()
            .Where(c => c.JobId == job && c.State == ChangeState.Approved)
            .ToListAsync(ct);
        return [.. changes.OrderBy(c => c.ClosedAt).ThenBy(c => c.Number, StringComparer.Ordinal)];
    }

    /// <summary>Expected hours of each operation: the accepted quote's and those of the approved changes, never below 0.</summary>
    public static IReadOnlyDictionary<string, decimal> Hours(Quote quote, IEnumerable<ChangeOrder> approved)
    {
        ArgumentNullException.ThrowIfNull(quote);
        return quote
            .Priced.Operations.Concat(approved.SelectMany(c => c.Priced.Operations))
            .GroupBy(o => o.OperationCode, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => Math.Max(0, g.Sum(o => o.Hours)), StringComparer.Ordinal);
    }

    /// <summary>The answers agreed now: those of the accepted quote, then those of each approved change.</summary>
    internal static SortedDictionary<string, string> Condition(
        Quote quote,
        PriceBook book,
        IEnumerable<ChangeOrder> approved
    )
    {
        var agreed = new SortedDictionary<string, string>(StringComparer.Ordinal);
        foreach (var question in book.Questions)
        {
            agreed[question.Code] = PriceBook.AnswerTo(question, quote.Scope.Condition).Code;
        }

        foreach (var (question, answer) in approved.SelectMany(c => c.Terms.ConditionFound))
        {
            agreed[question] = answer;
        }

        return agreed;
    }
}
