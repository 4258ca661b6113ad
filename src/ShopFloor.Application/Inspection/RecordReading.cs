using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection;

/// <summary>Records a reading of one of a job's inspection lines.</summary>
public sealed class RecordReading(CommandRunner runner) : IUseCase
{
    /// <param name="Line">The line's code.</param>
    /// <param name="Value">Measured value in the line's unit.</param>
    /// <param name="Result"><c>passed</c> or <c>failed</c> (<c>pass</c> and <c>fail</c> are taken too).</param>
    /// <param name="PhotoIds">Photos of this job that show it.</param>
    /// <param name="Corrects">Number of a mistyped earlier reading of this line.</param>
    /// <param name="Entered">The value as typed, in place of <paramref name="Value"/>: <c>1 3/4 in</c>.</param>
    /// <param name="EnteredSecond">On a pair of angles the second one.</param>
    /// <param name="InstrumentId">From the register; absent where it is not in it.</param>
    public sealed record Request(
        string? Line,
        decimal? Value = null,
        string? Result = null,
        string? Note = null,
        IReadOnlyList<Guid>? PhotoIds = null,
        int? Corrects = null,
        string? Entered = null,
        string? EnteredSecond = null,
        Guid? InstrumentId = null
    );

    /// <summary>What was recorded, how the line stands now, and what the answer's sentence says.</summary>
    public sealed record Taken(ReadingView Reading, LineState LineState, long Version, string Text);

    public Task<Outcome<Taken>> RunAsync(JobId job, Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Taken>(
            Permission.Inspect,
            envelope,
            new { job, request },
            async scope =>
            {
                if (!Read(request).TryGet(out var input, out var wrong))
                {
                    return wrong;
                }

                if (await FindAsync(scope, job) is not ({ } found, { } inspection))
                {
                    return Failure.Missing("job");
                }

                if (InspectionLoading.Over(found) is { } over)
                {
                    return over;
                }

                if (scope.Stale(inspection) is { } stale)
                {
                    return stale;
                }

                var photos = await PhotosAsync(scope, job, input.PhotoIds!);
                if (photos.Failure is { } missing)
                {
                    return missing;
                }

                var instrument = await Instruments.InUseAsync(scope, request.InstrumentId);
                if (instrument.Failure is { } unknown)
                {
                    return unknown;
                }

                input = input with
                {
                    Instrument = instrument.Value,
                    // Whoever types a value in has an instrument in the hand; a plain figure comes from a program, by a contract that knows no register.
                    Register = request.Entered is null ? null : await Instruments.KindsInUseAsync(scope.Db, ct),
                };
                var before = inspection.Lines.FirstOrDefault(l => l.Code == request.Line)?.State;
                var recorded = inspection.Record(
                    request.Line ?? "",
                    input,
                    new ReadingBy(scope.Actor.Person, scope.Actor.Is(Role.Inspector) || scope.Actor.Is(Role.Owner)),
                    scope.OccurredAt,
                    scope.Now,
                    SignOffFacts.NotYetWorkedOn(found),
                    found.Operations.Where(o => !o.IsOver).Select(o => o.Code).ToHashSet(StringComparer.Ordinal)
                );
                if (!recorded.TryGet(out var reading, out var failure))
                {
                    return failure;
                }

                foreach (var photo in photos.Value.Where(p => p.ReadingId is null))
                {
                    photo.Prove(reading.Id);
                }

                var line = inspection.Lines.Single(l => l.Code == request.Line);
                scope.Db.Touch(inspection);
                scope.Record(Event(found, line, reading, before));
                foreach (var fault in inspection.Nonconformances.Where(n => Concerns(n, line, reading)))
                {
                    scope.Record(NonconformanceViews.EventOf(fault, fault.IsOpen ? "opened" : "closed"));
                }

                await scope.SaveAsync();
                var names = await InspectionView.NamesAsync(scope.Db, [inspection], scope.Cancellation);
                return new Taken(
                    InspectionView.Of(line.Code, reading, names),
                    line.State,
                    inspection.Version,
                    Sentence(line, reading)
                );
            },
            ct
        );

    private static Outcome<ReadingInput> Read(Request request)
    {
        var errors = new FieldErrors();
        errors.AddIf(string.IsNullOrWhiteSpace(request.Line), "line", "Say which line was read, by its code.");
        bool? passed = request.Result switch
        {
            null => null,
            "passed" or "pass" => true,
            "failed" or "fail" => false,
            _ => None(errors),
        };
        errors.AddIf(
            request.Value is not null && (request.Entered ?? request.EnteredSecond) is not null,
            "value",
            "Send the value as a number or as it was typed, not both."
        );
        errors.AddIf(
            request.PhotoIds?.Count > InspectionLine.MostPhotos,
            "photoIds",
            $"At most {InspectionLine.MostPhotos} photos go with a reading."
        );
        return errors.Any
            ? errors.ToFailure()
            : new ReadingInput(
                request.Value,
                passed,
                request.Note,
                [.. (request.PhotoIds ?? []).Distinct().Select(PhotoId.From)],
                request.Corrects,
                request.Entered,
                request.EnteredSecond
            );
    }

    private static bool? None(FieldErrors errors)
    {
        errors.Add("result", "The result is passed or failed.");
        return null;
    }

    private static async Task<(Job?, JobInspection?)> FindAsync(CommandScope scope, JobId job) =>
        (
            await scope
                .Db.Set<Job>()
                .Include(j => j.Operations)
                .SingleOrDefaultAsync(j => j.Id == job, scope.Cancellation),
            await scope.Db.InspectionAsync(job, scope.Cancellation)
        );

    /// <summary>Photos must be this job's own and still be there.</summary>
    private static async Task<Outcome<IReadOnlyList<Photo>>> PhotosAsync(
        CommandScope scope,
        JobId job,
        IReadOnlyList<PhotoId> ids
    )
    {
        if (ids.Count == 0)
        {
            return Outcome<IReadOnlyList<Photo>>.Success([]);
        }

        var photos = await scope
            .Db.Set<Photo>()
            .Where(p => p.JobId == job && ids.Contains(p.Id) && p.RemovedAt == null)
            .ToListAsync(scope.Cancellation);
        return photos.Count == ids.Count
            ? photos
            : Failure.Field("photoIds", "A photo named here does not belong to this job. Add it to the job first.");
    }

    private static EventDraft Event(Job job, InspectionLine line, Reading reading, LineState? before) =>
        new(
            "reading.recorded",
            "inspection",
            job.Id.Value,
            job.Id,
            new { state = before },
            new
            {
                reading = reading.Id,
                line = line.Code,
                operation = line.OperationCode,
                number = reading.Number,
                value = Text(reading.Value),
                entered = reading.Entered,
                enteredSecond = reading.EnteredSecond,
                unit = line.Unit,
                lower = Text(line.Lower),
                upper = Text(line.Upper),
                instrument = reading.Instrument,
                uncertainty = Text(reading.Uncertainty),
                result = reading.Passed ? "passed" : "failed",
                corrects = reading.Corrects,
                photos = reading.PhotoIds,
                state = line.State,
            }
        );

    /// <summary>Opened or closed by this very reading.</summary>
    private static bool Concerns(Nonconformance fault, InspectionLine line, Reading reading) =>
        fault.LineCode == line.Code
        && (fault.IsOpen ? fault.Reading == reading.Number : fault.ClosedByReading == reading.Number);

    private static string? Text(decimal? value) => value is { } v ? InspectionLine.Text(v) : null;

    private static string Sentence(InspectionLine line, Reading reading) =>
        (reading.Passed, line.State) switch
        {
            (true, LineState.Passed) => $"Passed: {line.What}{Said(line, reading)}.",
            (true, LineState.ReadAgain) =>
                $"Recorded{Said(line, reading)}, within {line.LimitsInWords} but closer to a limit than {reading.InstrumentName} can tell (±{Text(reading.Uncertainty)} {line.Unit}). Read it once more: {line.What}.",
            (true, _) =>
                $"Recorded, but the line stays failed ({line.What}): a failure read later than this one stands. Check it once more.",
            _ when reading.Value is not null =>
                $"Failed: {line.What}{Said(line, reading)}. Its limits are {line.LimitsInWords}.",
            _ => $"Failed: {line.What}. Mend it and have it checked again.",
        };

    /// <summary>What was made of a value that was typed otherwise than in the line's own unit.</summary>
    private static string Said(InspectionLine line, Reading reading) =>
        reading switch
        {
            { First: { } a, Second: { } b, Value: { } difference } =>
                $", {Text(a)} less {Text(b)} is {Text(difference)} {line.Unit}",
            { Entered: { } typed, Value: { } value } when typed != Text(value) =>
                $", {typed} is {Text(value)} {line.Unit}",
            _ => "",
        };
}
