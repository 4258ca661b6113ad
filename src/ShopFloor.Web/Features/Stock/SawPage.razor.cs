using System.Globalization;
using ShopFloor.Application.Common;
using ShopFloor.Application.Solving;
using ShopFloor.Application.Stock;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Solving;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Stock;

/// <summary>Nests the pieces of jobs on what lies in the store.</summary>
public sealed partial class SawPage(SawPlans plans) : IProgress<SolveProgress>
{
    private readonly HashSet<JobId> chosen = [];
    private IReadOnlyList<JobToSaw> toSaw = [];
    private Page<SawPlanView>? cards;
    private TypedFields? typed;
    private CancellationTokenSource? running;
    private string tube = "";
    private string seconds = SolveLimits.UsualSeconds.ToString(CultureInfo.InvariantCulture);
    private decimal? kerf = 3;
    private decimal? trim = 0;
    private decimal? keepFrom = SawPlan.UsualKeepMm;
    private string? progress;
    private string? told;
    private int page = 1;

    private IEnumerable<TubeToSaw> Tubes =>
        toSaw
            .SelectMany(j => j.Tubes)
            .GroupBy(t => t.ItemId)
            .Select(g => new TubeToSaw(g.Key, g.First().Code, g.Sum(t => t.Pieces), g.Sum(t => t.TotalMm)))
            .OrderBy(t => t.Code, StringComparer.Ordinal);

    private IEnumerable<JobToSaw> JobsOfTube => toSaw.Where(j => j.Tubes.Any(t => t.ItemId.ToString() == tube));

    protected override async Task<Failure?> ReadAsync()
    {
        if (!(await plans.ToSawAsync(Actor, Closing)).TryGet(out var found, out var failure))
        {
            return failure;
        }

        if (!(await plans.ListAsync(new PageRequest(page, 20), Actor, Closing)).TryGet(out cards, out failure))
        {
            return failure;
        }

        toSaw = found;
        return null;
    }

    /// <summary>Called from the solver's thread.</summary>
    public void Report(SolveProgress value) =>
        _ = InvokeAsync(() =>
        {
            progress = value.Best is { } best
                ? string.Create(
                    CultureInfo.InvariantCulture,
                    $"Best so far {best / 1000.0:0.000} m of stock; no nest can use less than {value.Bound / 1000.0:0.000} m."
                )
                : null;
            StateHasChanged();
        });

    private string? Say(string path) => Errors.FirstOrDefault(e => e.Path == path)?.Text;

    private void Choose(JobId job, bool isChosen)
    {
        if (isChosen)
        {
            chosen.Add(job);
        }
        else
        {
            chosen.Remove(job);
        }
    }

    private void Stop() => running?.Cancel();

    private async Task PlanAsync()
    {
        if (typed!.Refuse() || running is not null)
        {
            return;
        }

        (told, progress) = (null, null);
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Closing);
        running = stop;
        var request = new SawPlans.PlanRequest(
            [.. chosen.Select(j => j.Value)],
            Guid.TryParse(tube, out var item) ? item : null,
            kerf,
            trim,
            keepFrom,
            int.Parse(seconds, CultureInfo.InvariantCulture)
        );
        SawPlanView? made = null;
        try
        {
            await DoAsync(() => RunAsync(request, stop.Token), "The saw card is made.", plan => made = plan);
        }
        finally
        {
            running = null;
        }

        if (made is not null)
        {
            Navigation.NavigateTo($"stock/saw/{made.Id}");
        }
    }

    private async Task<Outcome<SawPlanView>> RunAsync(SawPlans.PlanRequest request, CancellationToken stop)
    {
        try
        {
            var run = await plans.PlanAsync(request, Envelope(NewKey()), this, stop);
            var outcome = run is SolverRun<Outcome<SawPlanView>>.Finished(var value)
                ? value
                : Failure.Because("busy", SolverRuns.BusyText);
            told = outcome.Failure is Failure.Refused refused ? refused.Sentence : null;
            return outcome;
        }
        catch (OperationCanceledException) when (!Closing.IsCancellationRequested)
        {
            return Failure.Because("stopped", "Stopped. Nothing was changed.");
        }
    }

    private async Task TurnAsync(int to)
    {
        page = to;
        await ReloadAsync();
    }
}
