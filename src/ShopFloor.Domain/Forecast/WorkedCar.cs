using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Forecast;

/// <summary>An operation that is over: what it was expected to take and what it took.</summary>
/// <param name="Kind">The same text is the same kind of operation, see <see cref="ForecastTask.KindOf"/>.</param>
/// <param name="EstimatedHours">Expected (mean) hours; 0 for work that nobody had estimated, such as rework.</param>
/// <param name="LoggedHours">Hours logged; an operation without any was not timed and is left out.</param>
/// <param name="StatedSpread">Log-spread of its three points, see <see cref="TaskSpread"/>.</param>
public sealed record WorkedOperation(string Kind, double EstimatedHours, double LoggedHours, double StatedSpread);

/// <summary>A car, or as much of it as is done, with its operations that are over.</summary>
public sealed record WorkedCar(JobId Job, IReadOnlyList<WorkedOperation> Operations)
{
    private const double LeastTimed = 0.5;

    /// <summary>What is done of a job.</summary>
    /// <param name="hours">Expected hours by operation.</param>
    /// <param name="spreads">Stated log-spreads by operation, see <see cref="TaskSpread.ByOperation"/>; what is absent has the usual one.</param>
    public static WorkedCar Of(
        Job job,
        IReadOnlyDictionary<string, decimal> hours,
        IReadOnlyDictionary<string, double> spreads,
        DateTimeOffset now
    )
    {
        ArgumentNullException.ThrowIfNull(job);
        ArgumentNullException.ThrowIfNull(hours);
        ArgumentNullException.ThrowIfNull(spreads);
        return new WorkedCar(
            job.Id,
            [
                .. job
                    .Operations.Where(o => o.Progress == OperationProgress.Done)
                    .Select(o => new WorkedOperation(
                        ForecastTask.KindOf(o),
                        (double)hours.GetValueOrDefault(o.Code),
                        o.Minutes(now) / 60.0,
                        spreads.GetValueOrDefault(o.Code, TaskSpread.Usual)
                    )),
            ]
        );
    }

    /// <summary>Operations with an estimate and logged time.</summary>
    public IEnumerable<WorkedOperation> Timed => Operations.Where(o => o is { EstimatedHours: > 0, LoggedHours: > 0 });

    /// <summary>At least half of its estimated hours were timed: less says little of the car.</summary>
    public bool IsTimed =>
        Timed.Sum(o => o.EstimatedHours) is > 0 and var timed
        && timed >= LeastTimed * Operations.Sum(o => o.EstimatedHours);

    /// <summary>The car's own factor as its hours show it: the logarithm of logged ÷ estimated, and how much of it may be the operations' own luck.</summary>
    /// <remarks>
    /// With operations that take estimate × car's factor × own factor of mean 1, hours ÷ estimate has, but for the car's factor, the mean 1 and the variance
    /// Σw²(exp(s²) − 1), w being each one's part of the estimate; matched by moments to a log-normal: variance v = ln(1 + that), mean −v/2
    /// (L. F. Fenton, The sum of log-normal probability distributions in scatter transmission systems, IRE Trans. Commun. Syst. 8, 1960, from memory).
    /// Hours of work that nobody had estimated count with the car.
    /// </remarks>
    /// <param name="spread">Log-spread of an operation.</param>
    public (double Value, double Variance)? Factor(Func<WorkedOperation, double> spread)
    {
        ArgumentNullException.ThrowIfNull(spread);
        var (estimated, logged, squares) = (0.0, 0.0, 0.0);
        foreach (var operation in Operations)
        {
            if (operation.LoggedHours <= 0)
            {
                continue;
            }

            logged += operation.LoggedHours;
            if (operation.EstimatedHours > 0)
            {
                var s = spread(operation);
                estimated += operation.EstimatedHours;
                squares += operation.EstimatedHours * operation.EstimatedHours * (Math.Exp(s * s) - 1);
            }
        }

        if (estimated == 0)
        {
            return null;
        }

        var variance = Math.Log(1 + (squares / (estimated * estimated)));
        return (Math.Log(logged / estimated) + (variance / 2), variance);
    }
}
