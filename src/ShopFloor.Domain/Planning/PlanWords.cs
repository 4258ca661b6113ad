using System.Globalization;

namespace ShopFloor.Domain.Planning;

/// <summary>Says in plain words how good a plan is known to be.</summary>
public static class PlanWords
{
    /// <summary>E.g. "No car is late. Time in the bays is within 2 % of the best possible."; null while there is no plan.</summary>
    public static string? Quality(PlanRun run)
    {
        ArgumentNullException.ThrowIfNull(run);
        if (run.Measure is not { } measure)
        {
            return null;
        }

        if (run.LateBound is not { } bound)
        {
            return measure.LateSlots == 0
                ? "Made by the plain rule. No car is late; whether bays could be free sooner was not looked at."
                : "Made by the plain rule; whether a better plan exists was not looked at.";
        }

        var late =
            measure.LateSlots == 0 ? "No car is late."
            : bound >= measure.LateSlots
                ? "Cars are late, and no plan within the days looked at has less lateness: proven."
            : $"Cars are late; {Within("lateness", measure.LateSlots, bound)}";
        var bay =
            run.BayBound is not { } least ? " Time in the bays was not looked at."
            : least >= measure.BaySlots
                ? " No plan as punctual within the days looked at keeps the bays for less: proven."
            : " " + Within("Time in the bays", measure.BaySlots, least);
        return late + bay;
    }

    private static string Within(string what, long value, long bound) =>
        bound * 2 < value
            ? $"{what} could not be bounded closely in this time."
            : $"{what} is within {Percent(value, bound)} of the best possible.";

    /// <summary>By how much a value may lie above the best one: (value − bound) ÷ value.</summary>
    public static string Percent(long value, long bound) =>
        ((value - bound) * 100.0 / value).ToString("0.#", CultureInfo.InvariantCulture) + " %";
}
