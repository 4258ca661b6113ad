using ShopFloor.Application.Forecasting;

namespace ShopFloor.Web.Hosting;

/// <summary>Keeps the forecasts of open cars fresh: looks every few minutes whether the last one has grown old, on each server; one that was just made elsewhere is not made again.</summary>
public sealed class ForecastWorker(IServiceScopeFactory scopes, TimeProvider clock, ILogger<ForecastWorker> log)
    : PeriodicWorker<MakeForecast>(scopes, clock, log, TimeSpan.FromMinutes(5), "The forecast could not be made")
{
    protected override Task RunOnceAsync(MakeForecast use, CancellationToken stop) => use.RunIfDueAsync(stop);
}
