using ShopFloor.Application.Solving;
using ShopFloor.Web.Api;

namespace ShopFloor.Web.Features.Calculators;

/// <summary>How the API says what became of a solver's run.</summary>
internal static class SolverAnswers
{
    /// <summary>The view of what was found, or 429 with the time after which to ask again.</summary>
    public static IResult ToHttp<T>(this SolverRun<T> run, HttpContext context, Func<T, IResult> view)
    {
        if (run is SolverRun<T>.Finished(var value))
        {
            return view(value);
        }

        context.Response.Headers.RetryAfter = SolverRuns.RetryAfterSeconds.ToString(
            System.Globalization.CultureInfo.InvariantCulture
        );
        return Problems.Problem(
            StatusCodes.Status429TooManyRequests,
            "Too much is being worked out.",
            SolverRuns.BusyText
        );
    }

    /// <summary>503: never a guess.</summary>
    public static IResult NotInTime(string detail) =>
        Problems.Problem(StatusCodes.Status503ServiceUnavailable, "No answer in the time.", detail);
}
