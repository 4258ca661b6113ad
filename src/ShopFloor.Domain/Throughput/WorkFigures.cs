using ShopFloor.Domain.Common;
using static ShopFloor.Domain.Throughput.FigureDefinitions;

namespace ShopFloor.Domain.Throughput;

/// <summary>Figures of people's hours.</summary>
internal static class WorkFigures
{
    /// <summary>One spell's minutes within the range.</summary>
    internal sealed record Spell(JobId Job, string Title, string Person, string Step, bool IsRework, long Minutes);

    public static IReadOnlyList<Spell> Spells(IEnumerable<CarLog> cars, DateTimeOffset since, DateTimeOffset asOf) =>
        [
            .. from car in cars
            from step in car.Steps
            from spell in step.Spells
            let minutes = WorkedTime.Minutes(spell.From, spell.Until ?? asOf, since, asOf)
            where minutes > 0
            select new Spell(car.Id, car.Title, spell.Person, step.Code, step.IsRework, minutes),
        ];

    public static IReadOnlyList<Figure> Of(
        IReadOnlyList<CarLog> cars,
        IReadOnlyList<Spell> spells,
        IReadOnlyList<PersonSpan> attendance,
        ShopWeek week,
        DateTimeOffset asOf
    )
    {
        var finished = cars.Where(c => c.FinishedAt is { } at && week.Contains(at) && at <= asOf).ToList();
        decimal Logged(CarLog c) => Hours(Spells([c], DateTimeOffset.MinValue, asOf));
        return
        [
            Summed(
                HoursEstimated,
                finished.Select(c => new FigureRow(c.Id, c.Title, null, c.HoursEstimated, Logged(c)))
            ),
            Summed(
                HoursBilled,
                finished
                    .Where(c => c.HoursBilled is not null)
                    .Select(c => new FigureRow(c.Id, c.Title, null, c.HoursBilled, Logged(c)))
            ),
            Summed(
                HoursByJob,
                spells.GroupBy(s => (s.Job, s.Title)).Select(g => new FigureRow(g.Key.Job, g.Key.Title, null, Hours(g)))
            ),
            Summed(
                HoursByPerson,
                spells
                    .GroupBy(s => s.Person)
                    .OrderBy(g => g.Key, StringComparer.Ordinal)
                    .Select(g => new FigureRow(null, g.Key, null, Hours(g)))
            ),
            UtilisationOf(spells, attendance, week.From, asOf),
            Summed(
                Rework,
                spells
                    .Where(s => s.IsRework)
                    .GroupBy(s => (s.Job, s.Title, s.Step))
                    .Select(g => new FigureRow(g.Key.Job, g.Key.Title, g.Key.Step, Hours(g)))
            ),
        ];
    }

    private static Figure UtilisationOf(
        IReadOnlyList<Spell> spells,
        IReadOnlyList<PersonSpan> attendance,
        DateTimeOffset from,
        DateTimeOffset asOf
    )
    {
        var jobs = spells.GroupBy(s => s.Person).ToDictionary(g => g.Key, Hours);
        var rows = attendance
            .GroupBy(a => a.Person)
            .Select(g => new FigureRow(
                null,
                g.Key,
                null,
                g.Sum(a => WorkedTime.Minutes(a.From, a.Until ?? asOf, from, asOf)) / 60m,
                jobs.GetValueOrDefault(g.Key)
            ))
            .Where(r => r.Amount > 0)
            .OrderBy(r => r.Label, StringComparer.Ordinal)
            .ToList();
        return new Figure(
            Utilisation,
            rows.Count == 0 ? null : 100m * rows.Sum(r => r.Other) / rows.Sum(r => r.Amount),
            rows
        );
    }

    private static Figure Summed(FigureDefinition definition, IEnumerable<FigureRow> rows)
    {
        var list = rows.ToList();
        return new Figure(definition, list.Count == 0 ? null : list.Sum(r => r.Amount), list);
    }

    private static decimal Hours(IEnumerable<Spell> spells) => spells.Sum(s => s.Minutes) / 60m;
}
