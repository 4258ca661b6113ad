using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Solving;
using ShopFloor.Application.Workbench;
using ShopFloor.Application.Workbench.Sheets;
using ShopFloor.Domain.Nesting;
using ShopFloor.Domain.Solving;

namespace ShopFloor.Web.Features.Workbench;

/// <summary>The button that seeks the best nest, and what it says meanwhile.</summary>
public sealed partial class NestSearch(WorkOutNest work) : ComponentBase, IProgress<SolveProgress>, IDisposable
{
    private static readonly IReadOnlyList<(int Seconds, string Label)> Times =
    [
        (10, "10 seconds"),
        (30, "30 seconds"),
        (60, "one minute"),
        (120, "two minutes"),
    ];

    private int seconds = SolveLimits.UsualSeconds;
    private CancellationTokenSource? running;
    private SolveProgress? last;
    private string? told;
    private bool isBad;

    [Parameter, EditorRequired]
    public NestSheet Sheet { get; set; } = default!;

    [Parameter, EditorRequired]
    public BenchValues Values { get; set; } = default!;

    /// <summary>Whether what stands on the page can be read.</summary>
    [Parameter]
    public bool CanRun { get; set; }

    /// <summary>The bars as text, to be kept beside the list.</summary>
    [Parameter]
    public EventCallback<string> OnFound { get; set; }

    private bool IsRunning => running is not null;

    private string Progress =>
        last switch
        {
            { Best: { } best } p => string.Create(
                CultureInfo.InvariantCulture,
                $"Best so far {best / 1000.0:0.000} m of stock; no nest can use less than {p.Bound / 1000.0:0.000} m."
            ),
            { } p => string.Create(
                CultureInfo.InvariantCulture,
                $"None yet; no nest can use less than {p.Bound / 1000.0:0.000} m of stock."
            ),
            null => "",
        };

    /// <summary>Called from the solver's thread.</summary>
    public void Report(SolveProgress value)
    {
        if (value != last)
        {
            last = value;
            _ = InvokeAsync(StateHasChanged);
        }
    }

    private async Task SeekAsync()
    {
        // A copy: what is typed meanwhile is another list.
        var values = new BenchValues(Values.Unit, Values.ToDictionary(), Values.Divisions);
        if (!Sheet.Problem(values).TryGet(out var problem, out var failure))
        {
            Say(failure.Sentence, isWrong: true);
            return;
        }

        (last, told, running) = (null, null, new CancellationTokenSource());
        try
        {
            var run = await work.RunAsync(problem, new SolveLimits(seconds), this, running.Token);
            await TellAsync(problem, run);
        }
        catch (OperationCanceledException)
        {
            Say("Stopped. The bars are as they were before.", isWrong: false);
        }
        finally
        {
            running?.Dispose();
            running = null;
        }
    }

    private async Task TellAsync(NestProblem problem, SolverRun<NestResult> run)
    {
        switch (run)
        {
            case SolverRun<NestResult>.Busy:
                Say(SolverRuns.BusyText, isWrong: true);
                break;
            case SolverRun<NestResult>.Finished(NestResult.Found(var nest)):
                Say(
                    nest.IsProvenOptimal
                        ? "✓ Found, and proven: no nest is better."
                        : "✓ The best found in the time; see “How good it is”. More time may find a better one.",
                    isWrong: false
                );
                await OnFound.InvokeAsync(NestText.Write(problem.Request, nest));
                break;
            case SolverRun<NestResult>.Finished(NestResult.Impossible):
                Say("✗ " + NestProblem.TooLittleStock().Sentence, isWrong: true);
                break;
            default:
                Say(
                    "No way to lay all the pieces into this stock was found in the time, and no proof that there is none. Allow more time, or add a bar.",
                    isWrong: true
                );
                break;
        }
    }

    private void Say(string text, bool isWrong) => (told, isBad) = (text, isWrong);

    private void Stop() => running?.Cancel();

    public void Dispose() => running?.Cancel();
}
