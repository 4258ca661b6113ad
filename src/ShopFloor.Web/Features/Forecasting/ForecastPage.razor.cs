using System.Globalization;
using ShopFloor.Application.Common;
using ShopFloor.Application.Forecasting;
using ShopFloor.Application.Solving;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Forecasting;

/// <summary>The forecasts of all open cars, and how good past ones were.</summary>
public sealed partial class ForecastPage(ReadForecasts read, MakeForecast make, ShopHead head) : IProgress<double>
{
    private ForecastsView? view;
    private CancellationTokenSource? running;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private double share;

    private bool MayRun => Actor?.May(Permission.RunJobs) == true;

    protected override async Task<Failure?> LoadAsync()
    {
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        var outcome = await read.AllAsync(Actor, Closing);
        view = outcome.IsSuccess ? outcome.Value : view;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "forecast";

    /// <summary>Called from the thread that plays the weeks through.</summary>
    public void Report(double value) =>
        _ = InvokeAsync(() =>
        {
            share = value;
            StateHasChanged();
        });

    private async Task MakeAsync()
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Closing);
        (running, share) = (stop, 0);
        try
        {
            var run = await make.RunAsync(new MakeForecast.Request(), Envelope(NewKey()), this, stop.Token);
            var outcome = run is SolverRun<Outcome<MakeForecast.Made>>.Finished(var made)
                ? made
                : Failure.Because("busy", SolverRuns.BusyText);
            if (Accepted(outcome, out _, "The forecast is made."))
            {
                await ReloadAsync();
            }
        }
        catch (OperationCanceledException) when (!Closing.IsCancellationRequested)
        {
            Snackbar.Add("Stopped. The forecast before stands.", MudBlazor.Severity.Info);
        }
        finally
        {
            running = null;
        }
    }

    private string Local(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("ddd d MMM HH:mm", CultureInfo.CurrentCulture);
}
