using ShopFloor.Application.Inspection;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;

namespace ShopFloor.Application.Demo;

/// <summary>The second person: looks at what the plan asks for, sends back what the story says failed, signs off.</summary>
internal sealed class DemoInspector(DemoWorld world, DemoPhotos photos, DemoOffice office, DemoMaterials materials)
{
    public const string Skill = "inspector";
    private const string Person = "tove";

    private Common.Envelope By => world.By(Person);

    /// <summary>An operation that is an inspection; the last one is the release, which the sign-off itself finishes.</summary>
    public async IAsyncEnumerable<DateTimeOffset> InspectAsync(DemoJob job, string code)
    {
        var id = job.Id!.Value;
        var isRelease = await IsReleaseAsync(job, code);
        if (!isRelease)
        {
            await DoAsync(job, world.Use<StartOperation>().RunAsync(id, code, By, default));
        }

        await foreach (var moment in LookAtAsync(job, code))
        {
            yield return moment;
        }

        yield return world.Now + TimeSpan.FromMinutes(5);
        if (isRelease)
        {
            await office.SettleAsync(job);
            await materials.AcceptAsync(job);
            var signed = await SignOffAsync(job);
            while (WaitsForTheWatch(signed))
            {
                yield return world.Calendar.WhenOpen(world.Now + TimeSpan.FromMinutes(15));
                signed = await SignOffAsync(job);
            }

            await DoAsync(job, Task.FromResult(signed));
            job.IsSignedOff = true;
        }
        else
        {
            await DoAsync(job, world.Use<FinishOperation>().RunAsync(id, code, By, default));
        }
    }

    /// <summary>Reads all lines of an operation; a line that fails by the story is mended and read again.</summary>
    public async IAsyncEnumerable<DateTimeOffset> LookAtAsync(DemoJob job, string code)
    {
        var lines = await OpenLinesAsync(job, code);
        if (lines.Count == 0)
        {
            yield break;
        }

        yield return world.Now + TimeSpan.FromMinutes(10 + (2 * lines.Count));
        string? mended = null;
        if (
            job.Data.Work!.Failures?.FirstOrDefault(f => f.Operation == code) is { } failure
            && job.FailedOnce.Add(code)
        )
        {
            await ReadAsync(job, lines[0], new(lines[0].Code, Result: "failed", Note: failure.Note));
            await DescribeAsync(job, failure);
            mended = failure.Disposition;
            yield return world.Now + TimeSpan.FromMinutes(75);
        }

        foreach (var line in lines)
        {
            var value = GoodValue(line);
            var note = line == lines[0] ? mended : null;
            var reading = new RecordReading.Request(
                line.Code,
                value,
                value is null ? "passed" : null,
                note,
                InstrumentId: value is null ? null : await InstrumentForAsync(line)
            );
            await ReadAsync(job, line, reading);
        }
    }

    private async Task DescribeAsync(DemoJob job, DemoFailureData failure)
    {
        var id = job.Id!.Value;
        var view = await DoAsync(job, world.Use<ReadInspections>().OneAsync(id, By.Actor, default));
        var fault = view.Inspection.Nonconformances.Single(n => n.IsOpen);
        var request = new DescribeNonconformance.Request(failure.Note, failure.Cause);
        await DoAsync(job, world.Use<DescribeNonconformance>().RunAsync(id, fault.Number, request, By, default));
    }

    private Task<Outcome<SignOffView>> SignOffAsync(DemoJob job) =>
        world.Use<SignOffJob>().RunAsync(job.Id!.Value, new(NoteOn(job)), By, default);

    private static bool WaitsForTheWatch(Outcome<SignOffView> signed) =>
        signed.Failure is Failure.Refused refused && refused.Reasons.All(r => r.Code == "fireWatch");

    private static string NoteOn(DemoJob job) =>
        job.Data.Kind == SaleKind.Shipped ? "Counted against the list." : "Seen from below and inside.";

    private async Task<List<InspectionLineView>> OpenLinesAsync(DemoJob job, string code)
    {
        var view = await DoAsync(job, world.Use<ReadInspections>().OneAsync(job.Id!.Value, By.Actor, default));
        return [.. view.Inspection.Lines.Where(l => l.Operation == code && l.State != LineState.Passed)];
    }

    private async Task<bool> IsReleaseAsync(DemoJob job, string code) =>
        (await world.LookAsync(job)).Operations[^1].Code == code;

    private async Task ReadAsync(DemoJob job, InspectionLineView line, RecordReading.Request reading)
    {
        if (line.PhotoRequired)
        {
            var photo = await photos.ProveAsync(job, line.Operation, line.What, By);
            reading = reading with { PhotoIds = [photo.Value] };
        }

        var taken = await DoAsync(job, world.Use<RecordReading>().RunAsync(job.Id!.Value, reading, By, default));
        if (taken.LineState == LineState.ReadAgain)
        {
            await DoAsync(job, world.Use<RecordReading>().RunAsync(job.Id!.Value, reading, By, default));
        }
    }

    /// <summary>What the plan names, calibrated; null where the register holds none.</summary>
    private async Task<Guid?> InstrumentForAsync(InspectionLineView line)
    {
        if (InstrumentWords.NamedIn(line.How) is not { } kind)
        {
            return null;
        }

        var register = await DemoWorld.DoAsync(world.Use<ReadInstruments>().RunAsync(By.Actor, default), line.Code);
        return register.FirstOrDefault(i => i.Kind == kind && i is { IsOverdue: false, IsRetired: false })?.Id.Value;
    }

    /// <summary>Near the nominal value, or a little inside the lower limit where there is none; null for a line judged without a number.</summary>
    private decimal? GoodValue(InspectionLineView line)
    {
        if (line.Unit is null)
        {
            return null;
        }

        var chance = (decimal)world.Chance();
        var (lower, upper) = (line.Lower ?? 0, line.Upper ?? (line.Lower ?? 0) * 2);
        var value = line.Nominal is { } nominal
            ? nominal + ((upper - nominal) * 0.3m * chance)
            : lower + ((upper - lower) * (0.06m + (0.1m * chance)));
        return Math.Clamp(Math.Round(value, 2), lower, upper);
    }

    private static Task<T> DoAsync<T>(DemoJob job, Task<Outcome<T>> task) => DemoWorld.DoAsync(task, job.Data.Key);
}
