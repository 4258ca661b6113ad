using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Forecast;

/// <summary>A forecast as it is kept: one for each car and local day, the last of that day. The first one of a car is later held against what came.</summary>
public sealed class KeptForecast
{
    private KeptForecast() { }

    public ForecastId Id { get; private set; }
    public JobId JobId { get; private set; }

    /// <summary>The shop's day.</summary>
    public DateOnly On { get; private set; }
    public DateTimeOffset MadeAt { get; private set; }
    public JobForecast Said { get; private set; } = null!;

    public static KeptForecast Of(ForecastId id, DateOnly on, JobForecast said)
    {
        ArgumentNullException.ThrowIfNull(said);
        var kept = new KeptForecast
        {
            Id = id,
            JobId = said.Job,
            On = on,
        };
        kept.Take(said);
        return kept;
    }

    /// <summary>A later one of the same day stands in its place.</summary>
    public void Take(JobForecast said)
    {
        ArgumentNullException.ThrowIfNull(said);
        (MadeAt, Said) = (said.MadeAt, said);
    }
}
