using ShopFloor.Domain.Common;
using ShopFloor.Domain.Forecast;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Tests.Planning;

namespace ShopFloor.Domain.Tests.Forecast;

/// <summary>What a made-up shop is really like; the forecaster never sees it.</summary>
/// <param name="Bias">Median of logged ÷ estimated hours of whole cars.</param>
/// <param name="CarSpread">Log-spread of whole cars.</param>
/// <param name="TaskTimes">How many times as far operations spread as their three points say.</param>
internal sealed record Truth(double Bias, double CarSpread, double TaskTimes);

/// <summary>A made-up shop with some cars in it, met at a moment that knows nothing of how its work will come out.</summary>
internal sealed class HiddenShop(Truth truth, int seed)
{
    private const int Days = 260;
    private const int Cars = 4;
    private const int Operations = 8;
    private static readonly WorkAxis Axis = RandomShop.Axis(Days, 32);
    private static readonly PlanPerson[] People =
    [
        new(PersonId.From(Id(1)), "A", ["fitter", "welder", "inspector"], []),
        new(PersonId.From(Id(2)), "B", ["fitter", "welder", "inspector"], []),
        new(PersonId.From(Id(3)), "C", ["inspector"], []),
    ];
    private static readonly PlanPlace[] Places =
    [
        new("bay-1", "bay 1", "bay", "hall"),
        new("bay-2", "bay 2", "bay", "hall"),
        new("yard", "the yard", "bench", "yard"),
        new("yard", "the yard", "bench", "yard", 2),
    ];

    private readonly Dice dice = new(seed);
    private readonly List<WorkedCar> history = [];
    private int made;

    public IReadOnlyList<WorkedCar> History => history;

    /// <summary>The shop at a moment, and the quarter hours at which its cars will really be done.</summary>
    public (ForecastQuestion Question, IReadOnlyList<int> Ends) Meet()
    {
        var jobs = new List<PlanJob>();
        var tasks = new List<PlanTask>();
        var real = new List<PlanTask>();
        var hours = new List<ForecastTask>();
        var cars = new List<ForecastCar>();
        var finished = new List<WorkedCar>();
        while (jobs.Count < Cars)
        {
            var id = JobId.From(Id(100 + made++));
            var all = Car();
            // Looked at after so many hours of work as nobody could tell from how they came out.
            var looked = jobs.Count < 2 ? dice.Share() * all.Sum(o => o.Estimated) : 0;
            var over = Over(all, looked);
            if (over == all.Count)
            {
                continue;
            }

            var done = all.Take(over).Select(Worked).ToList();
            var logged = Math.Max(0, looked - all.Take(over).Sum(o => o.Real));
            var job = jobs.Count;
            jobs.Add(new PlanJob(id, $"J-{made:0000}", "car", null, 2, null, false, []));
            cars.Add(new ForecastCar(id, $"J-{made:0000}", null, done));
            for (var o = over; o < all.Count; o++)
            {
                var before = o > over ? new[] { new PlanBefore(tasks.Count - 1, o == 5 ? 720 : 0) } : [];
                var (estimated, stated, kind, took) = all[o];
                var already = o == over ? logged : 0;
                var task = new PlanTask(
                    job,
                    $"{(o + 1) * 10}",
                    kind,
                    Phase.FinalWeld,
                    Slots(estimated - already),
                    o == Operations - 1 ? [0, 1, 2] : [0, 1],
                    [0, 1, 2, 3],
                    before,
                    0
                )
                {
                    IsInspection = o == Operations - 1,
                    IsHot = o % 2 == 1,
                };
                tasks.Add(task);
                real.Add(task with { Slots = Slots(took - already) });
                hours.Add(new ForecastTask(kind, estimated, already, stated));
            }

            finished.Add(new WorkedCar(id, [.. all.Select(Worked)]));
        }

        var problem = new PlanProblem(Axis, People, Places, jobs, tasks);
        var result = DispatchPlan.Run(problem with { Tasks = real });
        Assert.Empty(result.LeftOut);
        history.AddRange(finished);
        var ends = result.Entries.GroupBy(e => tasks[e.Task].Job).OrderBy(g => g.Key).Select(g => g.Max(e => e.End));
        return (new ForecastQuestion(problem, hours, cars, []), [.. ends]);
    }

    private List<(double Estimated, double Stated, string Kind, double Real)> Car()
    {
        var factor = truth.Bias * Math.Exp(truth.CarSpread * dice.Normal());
        return
        [
            .. Enumerable
                .Range(0, Operations)
                .Select(o =>
                {
                    var estimated = 8 * Math.Exp(1.8 * dice.Share());
                    var stated = o % 2 == 0 ? 0.12 : 0.2;
                    var spread = stated * truth.TaskTimes;
                    var own = Math.Exp((spread * dice.Normal()) - (spread * spread / 2));
                    return (estimated, stated, o % 2 == 0 ? "fit" : "weld", estimated * factor * own);
                }),
        ];
    }

    private static int Over(List<(double Estimated, double Stated, string Kind, double Real)> all, double looked)
    {
        var over = 0;
        for (var sum = 0.0; over < all.Count && sum + all[over].Real <= looked; over++)
        {
            sum += all[over].Real;
        }

        return over;
    }

    private static WorkedOperation Worked((double Estimated, double Stated, string Kind, double Real) o) =>
        new(o.Kind, o.Estimated, o.Real, o.Stated);

    private static int Slots(double hours) => Math.Max(1, (int)Math.Round(hours * 4));

    private static Guid Id(int number) => new(number, 0, 0x7000, 0x80, 0, 0, 0, 0, 0, 0, 0);
}
