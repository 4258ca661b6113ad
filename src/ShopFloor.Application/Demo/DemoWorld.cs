using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Demo;

/// <summary>A job of the story with what has become of it so far.</summary>
internal sealed class DemoJob(DemoJobData data, int number)
{
    public DemoJobData Data => data;

    /// <summary>1, 2, 3 … in the order of the file; chooses paints and small differences.</summary>
    public int Number => number;

    public JobId? Id { get; set; }

    public QuoteView? Quote { get; set; }

    /// <summary>The customer has signed: work may begin.</summary>
    public bool MayBegin { get; set; }

    public HashSet<string> HeldOnce { get; } = new(StringComparer.Ordinal);

    public HashSet<string> FailedOnce { get; } = new(StringComparer.Ordinal);

    public bool IsSignedOff { get; set; }

    /// <summary>Everything the story wants done is done.</summary>
    public bool IsThrough { get; set; }
}

/// <summary>What all parts of the demo share: the program's use cases, the clock, the people.</summary>
internal sealed class DemoWorld(IServiceProvider services, DemoClock clock, DemoCalendar calendar, DateTimeOffset end)
{
    // Fixed, so that two loads are alike.
    private const int Seed = 20_031;
    private readonly Random random = new(Seed);

    public DemoCalendar Calendar => calendar;

    public DateTimeOffset Now => clock.GetUtcNow();

    /// <summary>The real moment at which the demo ends.</summary>
    public DateTimeOffset End => end;

    public Dictionary<string, Actor> People { get; } = new(StringComparer.Ordinal);

    public Dictionary<string, CustomerId> Customers { get; } = new(StringComparer.Ordinal);

    public Dictionary<string, CarId> Cars { get; } = new(StringComparer.Ordinal);

    /// <summary>Key of a car to its owner.</summary>
    public Dictionary<string, CustomerId> Owners { get; } = new(StringComparer.Ordinal);

    public Envelope By(string person) => new(People[person]);

    public T Use<T>()
        where T : class => services.GetRequiredService<T>();

    /// <summary>A number from 0 to 1 of the fixed row.</summary>
    public double Chance() => random.NextDouble();

    public Task<JobView> LookAsync(DemoJob job) =>
        DoAsync(Use<ReadJobs>().OneAsync(job.Id!.Value, Actor.System, CancellationToken.None), job.Data.Key);

    /// <summary>Waits for a use case and insists on its success: a refusal means that story and rules have drifted apart.</summary>
    public static async Task<T> DoAsync<T>(Task<Outcome<T>> task, string where)
    {
        var outcome = await task;
        return outcome.TryGet(out var value, out var failure)
            ? value
            : throw new InvalidOperationException($"The demo's story stopped at '{where}': {failure.Sentence}");
    }
}
