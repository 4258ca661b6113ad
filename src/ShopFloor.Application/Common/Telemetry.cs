using System.Diagnostics;
using System.Diagnostics.Metrics;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Common;

/// <summary>What the program tells of its own work to those who watch it: traces and figures under one name. Kinds and counts only, never what somebody typed.</summary>
public static class Telemetry
{
    /// <summary>Name of the source and of the meter.</summary>
    public const string Name = "ShopFloor";

    private static readonly ActivitySource Source = new(Name);
    private static readonly Meter Meter = new(Name);
    private static readonly Counter<long> Commands = Meter.CreateCounter<long>(
        "shopfloor.commands",
        "{command}",
        "Commands that were given, by how they ended."
    );
    private static readonly Histogram<double> Durations = Meter.CreateHistogram<double>(
        "shopfloor.command.duration",
        "s",
        "From the first look to the commit or the refusal."
    );

    /// <summary>Runs a command within a span of its own and counts it.</summary>
    internal static async Task<Outcome<T>> WatchAsync<T>(Func<Task<Outcome<T>>> command)
    {
        using var span = Source.StartActivity("command");
        var began = Stopwatch.GetTimestamp();
        var ended = "Failed";
        try
        {
            var outcome = await command();
            ended = outcome.Failure is { } failure ? failure.GetType().Name : "Done";
            return outcome;
        }
        finally
        {
            var tag = new KeyValuePair<string, object?>("outcome", ended);
            span?.SetTag(tag.Key, tag.Value);
            Commands.Add(1, tag);
            Durations.Record(Stopwatch.GetElapsedTime(began).TotalSeconds, tag);
        }
    }
}
