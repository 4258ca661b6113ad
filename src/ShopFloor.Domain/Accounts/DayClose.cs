using System.Globalization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Accounts;

/// <summary>One way to pay as counted at the end of a day.</summary>
/// <param name="ExpectedMinor">What the ledger says came in less what went out.</param>
/// <param name="CountedMinor">What was there.</param>
/// <param name="Note">Why they differ; null where they do not.</param>
public sealed record CountedMethod(PaymentMethod Method, long ExpectedMinor, long CountedMinor, string? Note)
{
    /// <summary>Above zero there is more than expected.</summary>
    public long DifferenceMinor => CountedMinor - ExpectedMinor;
}

/// <summary>A count as typed in.</summary>
/// <param name="Minor">Minor units; below zero where more was given back than taken.</param>
public sealed record MethodCount(PaymentMethod Method, long? Minor, string? Note);

/// <summary>A local day whose money was counted. After it nothing is booked on that day any more.</summary>
public sealed class DayClose
{
    private DayClose() { }

    public DayCloseId Id { get; private set; }

    public DateOnly Day { get; private set; }

    public DateTimeOffset ClosedAt { get; private set; }

    public PersonId? ClosedBy { get; private set; }

    public IReadOnlyList<CountedMethod> Methods { get; private set; } = [];

    /// <summary>What came in less what went out on a day, by way to pay.</summary>
    public static IReadOnlyDictionary<PaymentMethod, long> Expected(IEnumerable<LedgerEntry> entriesOfDay)
    {
        ArgumentNullException.ThrowIfNull(entriesOfDay);
        var entries = entriesOfDay.ToList();
        return Enum.GetValues<PaymentMethod>()
            .ToDictionary(m => m, m => entries.Sum(e => e.Sum(JobAccount.AccountOf(m))));
    }

    /// <summary>Closes a day. Every way to pay with something expected needs its count, every difference a note.</summary>
    /// <param name="today">The day on which it is closed; later days cannot be closed.</param>
    public static Outcome<DayClose> Close(
        DayCloseId id,
        DateOnly day,
        DateOnly today,
        IReadOnlyDictionary<PaymentMethod, long> expected,
        IReadOnlyList<MethodCount> counts,
        EntryStamp stamp
    )
    {
        ArgumentNullException.ThrowIfNull(expected);
        ArgumentNullException.ThrowIfNull(counts);
        ArgumentNullException.ThrowIfNull(stamp);
        var errors = new FieldErrors();
        errors.AddIf(day > today, "day", "This day has not come yet; close it when it is over.");
        var methods = new List<CountedMethod>();
        for (var i = 0; i < counts.Count; i++)
        {
            var count = counts[i];
            var path = $"methods[{i}]";
            var note = TextRules.Optional(count.Note, path + ".note", "The note", TextRules.ShortText, errors);
            errors.AddIf(
                counts.Take(i).Any(c => c.Method == count.Method),
                path + ".method",
                "This way to pay is counted twice; count it once."
            );
            errors.AddIf(
                count.Minor is null,
                path + ".countedMinor",
                "Type what was counted, 0 where nothing is there."
            );
            errors.AddIf(
                count.Minor is < -TotalsRules.LargestMinor or > TotalsRules.LargestMinor,
                path + ".countedMinor",
                "The amount is too large."
            );
            var minor = count.Minor ?? 0;
            errors.AddIf(
                count.Minor is not null && minor != expected[count.Method] && note is null,
                path + ".note",
                "Counted and expected differ; say what is known about it, or count again."
            );
            methods.Add(new CountedMethod(count.Method, expected[count.Method], minor, note));
        }

        foreach (
            var method in expected.Where(e => e.Value != 0 && counts.All(c => c.Method != e.Key)).Select(e => e.Key)
        )
        {
            errors.Add(
                "methods",
                $"{method.Title()} is not counted, and money is expected of it; type what was counted, 0 where nothing is there."
            );
        }

        return errors.Any
            ? errors.ToFailure()
            : new DayClose
            {
                Id = id,
                Day = day,
                ClosedAt = stamp.RecordedAt,
                ClosedBy = stamp.RecordedBy,
                Methods = [.. methods.OrderBy(m => m.Method)],
            };
    }
}
