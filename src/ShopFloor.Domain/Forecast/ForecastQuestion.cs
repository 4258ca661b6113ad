using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Forecast;

/// <summary>What a plan's operation is expected to take in all, and how sure that is.</summary>
/// <param name="Kind">See <see cref="KindOf"/>.</param>
/// <param name="EstimatedHours">Expected (mean) hours of the whole operation; 0 where nobody has estimated it: it then takes what the plan gives it.</param>
/// <param name="LoggedHours">Hours logged so far.</param>
/// <param name="StatedSpread">Log-spread of its three points, see <see cref="TaskSpread"/>.</param>
public sealed record ForecastTask(string Kind, double EstimatedHours, double LoggedHours, double StatedSpread)
{
    /// <summary>Operations of the same number and title are of one kind.</summary>
    public static string KindOf(Operation operation)
    {
        ArgumentNullException.ThrowIfNull(operation);
        return $"{operation.Code} {operation.Title}";
    }
}

/// <summary>A car that is to be forecast, beside what the plan knows of it.</summary>
/// <param name="Promised">The day promised last; null where none was.</param>
/// <param name="Done">Its operations that are over: they say what kind of car it is.</param>
public sealed record ForecastCar(JobId Job, string Number, DateOnly? Promised, IReadOnlyList<WorkedOperation> Done);

/// <summary>What is to be forecast: a plan's question with what its operations may really take.</summary>
/// <param name="Tasks">One for each of the plan's operations, in its order.</param>
/// <param name="Cars">One for each of the plan's jobs, in its order.</param>
/// <param name="Granted">What the plan takes for granted, and which jobs have operations without an estimate.</param>
public sealed record ForecastQuestion(
    PlanProblem Problem,
    IReadOnlyList<ForecastTask> Tasks,
    IReadOnlyList<ForecastCar> Cars,
    IReadOnlyList<PlanGranted> Granted
)
{
    /// <param name="plan">Made by <see cref="PlanBuilder.Build"/> from these orders.</param>
    /// <param name="spreads">Stated log-spreads of a job's operations by their codes, see <see cref="TaskSpread"/>; what is absent has the usual one.</param>
    /// <param name="now">The instant of the plan.</param>
    public static ForecastQuestion Of(
        PlanQuestion plan,
        IReadOnlyList<PlanOrder> orders,
        IReadOnlyDictionary<JobId, IReadOnlyDictionary<string, double>> spreads,
        DateTimeOffset now
    )
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(orders);
        ArgumentNullException.ThrowIfNull(spreads);
        var byJob = orders.ToDictionary(o => o.Job.Id);
        var tasks = plan.Problem.Tasks.Select(Task).ToList();
        return new ForecastQuestion(
            plan.Problem,
            tasks,
            [.. plan.Problem.Jobs.Select(Car)],
            [.. plan.Granted, .. plan.Problem.TasksByJob().SelectMany(Unestimated)]
        );

        ForecastTask Task(PlanTask task)
        {
            var order = byJob[plan.Problem.Jobs[task.Job].Id];
            var operation = order.Job.Operation(task.Code)!;
            return new ForecastTask(
                ForecastTask.KindOf(operation),
                (double)order.Hours.GetValueOrDefault(task.Code),
                operation.Minutes(now) / 60.0,
                Spreads(order).GetValueOrDefault(task.Code, TaskSpread.Usual)
            );
        }

        ForecastCar Car(PlanJob job)
        {
            var order = byJob[job.Id];
            return new ForecastCar(
                job.Id,
                job.Number,
                order.Job.PromisedOn,
                WorkedCar.Of(order.Job, order.Hours, Spreads(order), now).Operations
            );
        }

        IEnumerable<PlanGranted> Unestimated(IGrouping<int, int> job)
        {
            var count = job.Count(t => tasks[t].EstimatedHours <= 0);
            if (count > 0)
            {
                var facts = plan.Problem.Jobs[job.Key];
                yield return new PlanGranted(
                    facts.Id,
                    facts.Number,
                    count == 1
                        ? "Nobody has estimated one of its operations; it is taken for a quarter hour."
                        : $"Nobody has estimated {count} of its operations; each is taken for a quarter hour."
                );
            }
        }

        IReadOnlyDictionary<string, double> Spreads(PlanOrder order) =>
            spreads.TryGetValue(order.Job.Id, out var own) ? own : None;
    }

    private static readonly Dictionary<string, double> None = [];
}
