using ShopFloor.Domain.Backups;

namespace ShopFloor.Domain.Tests.Backups;

public sealed class BackupRulesTests
{
    private static readonly DateTimeOffset Now = new(2026, 11, 25, 3, 0, 0, TimeSpan.Zero);

    [Fact]
    public void After_two_years_of_daily_backups_a_week_of_days_five_weeks_and_a_year_of_months_are_left()
    {
        List<DateTimeOffset> kept = [];
        for (var at = Now.AddDays(-730); at <= Now; at += BackupRules.Interval)
        {
            kept.Add(at);
            var gone = BackupRules.MayGo(kept, at).ToHashSet();
            kept.RemoveAll(gone.Contains);
        }

        // The last eight mornings: seven whole days lie between the first and the last of them.
        Assert.All(Enumerable.Range(0, 8), d => Assert.Contains(Now.AddDays(-d), kept));
        Assert.DoesNotContain(Now.AddDays(-9), kept);
        // The Sundays of the weeks before: the newest of each.
        Assert.Contains(new DateTimeOffset(2026, 11, 15, 3, 0, 0, TimeSpan.Zero), kept);
        Assert.Contains(new DateTimeOffset(2026, 11, 8, 3, 0, 0, TimeSpan.Zero), kept);
        // The last day of each of twelve months, and nothing before them.
        Assert.Equal(12, kept.Select(k => (k.Year, k.Month)).Distinct().Count());
        Assert.Contains(new DateTimeOffset(2026, 6, 30, 3, 0, 0, TimeSpan.Zero), kept);
        Assert.Equal(new DateTimeOffset(2025, 12, 31, 3, 0, 0, TimeSpan.Zero), kept.Min());
        Assert.InRange(kept.Count, 20, 25);
    }

    [Fact]
    public void The_newest_stays_however_old_it_is()
    {
        var old = Now.AddYears(-5);
        Assert.Empty(BackupRules.MayGo([old], Now));
        Assert.Equal([old.AddDays(-1)], BackupRules.MayGo([old, old.AddDays(-1)], Now));
        Assert.Empty(BackupRules.MayGo([], Now));
    }

    [Theory]
    [InlineData(null, true)]
    [InlineData(23.9, false)]
    [InlineData(24.0, true)]
    public void One_a_day_is_due(double? hoursAgo, bool isDue) =>
        Assert.Equal(isDue, BackupRules.IsDue(hoursAgo is { } hours ? Now.AddHours(-hours) : null, Now));

    [Theory]
    [InlineData(null, 47.0, false)]
    [InlineData(null, 49.0, true)]
    [InlineData(48.0, 900.0, false)]
    [InlineData(48.1, 900.0, true)]
    public void Two_nights_without_one_are_a_worry_where_there_is_something_to_lose(
        double? hoursAgo,
        double shopHours,
        bool isOld
    ) =>
        Assert.Equal(
            isOld,
            BackupRules.IsOld(hoursAgo is { } hours ? Now.AddHours(-hours) : null, Now.AddHours(-shopHours), Now)
        );
}
