using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Inspection.Packs;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection.Packs;

/// <summary>The parts of a record that follow from job and inspection alone.</summary>
internal static class PackParts
{
    public static IReadOnlyList<PackLine> Lines(JobInspection inspection) =>
        [.. inspection.Lines.OrderBy(l => l.Position).Select(Of)];

    /// <summary>By number.</summary>
    public static IReadOnlyList<PackNonconformance> Nonconformances(JobInspection inspection) =>
        [.. inspection.Nonconformances.OrderBy(n => n.Number).Select(n => Of(inspection, n))];

    /// <summary>What was done on the car, in route order.</summary>
    public static IReadOnlyList<PackOperation> Operations(Job job) =>
        [
            .. job
                .Operations.Where(o => o.Progress != OperationProgress.NotNeeded)
                .OrderBy(o => o.Position)
                .Select(o => new PackOperation(
                    o.Code,
                    o.Title,
                    o.Route.HotWork,
                    [.. Workers(o).Distinct().Order()],
                    Instant(o.FinishedAt)
                )),
        ];

    public static IReadOnlyList<PackSignOff> SignOffs(JobInspection inspection) =>
        [
            .. inspection
                .SignOffs.OrderBy(s => s.RecordedAt)
                .Select(s => new PackSignOff(
                    s.Id.Value,
                    s.SignedBy.Value,
                    Instant(s.SignedAt),
                    s.IsSelfInspection,
                    s.Note,
                    Instant(s.WithdrawnAt),
                    s.WithdrawnBy?.Value,
                    s.WithdrawnReason
                )),
        ];

    /// <summary>Everybody whom a record names by id.</summary>
    public static IReadOnlyList<Guid> People(PackRecord record) =>
        [
            .. record
                .Lines.SelectMany(l => l.Readings)
                .Select(r => r.By)
                .OfType<Guid>()
                .Concat(record.Nonconformances.Select(n => n.DecidedBy).OfType<Guid>())
                .Concat(record.Operations.SelectMany(o => o.By))
                .Concat(record.SignOffs.Select(s => s.By))
                .Concat(TraceParts.People(record))
                .Concat(record.SignOffs.Select(s => s.WithdrawnBy).OfType<Guid>())
                .Distinct(),
        ];

    private static PackLine Of(InspectionLine line) =>
        new(
            line.Code,
            line.OperationCode,
            line.What,
            line.How,
            line.Unit,
            line.Nominal,
            line.Lower,
            line.Upper,
            line.Point,
            line.Source,
            line.Caution,
            line.State,
            [.. line.Readings.OrderBy(r => r.Number).Select(Of)]
        );

    private static PackReading Of(Reading reading) =>
        new(
            reading.Number,
            reading.Value,
            reading.Entered,
            reading.EnteredSecond,
            reading.Instrument?.Value,
            reading.InstrumentName,
            reading.Uncertainty,
            reading.Passed,
            reading.Note,
            [.. reading.PhotoIds.Select(p => p.Value)],
            reading.Corrects,
            reading.RecordedBy?.Value,
            Instant(reading.OccurredAt),
            Instant(reading.RecordedAt)
        );

    private static PackNonconformance Of(JobInspection inspection, Nonconformance fault)
    {
        var closing = inspection
            .Lines.FirstOrDefault(l => l.Code == fault.LineCode)
            ?.Readings.FirstOrDefault(r => r.Number == fault.ClosedByReading);
        return new PackNonconformance(
            fault.Number,
            fault.LineCode,
            fault.OperationCode,
            fault.What,
            fault.Reading,
            fault.Description,
            [.. fault.PhotoIds.Select(p => p.Value)],
            fault.Cause,
            fault.Disposition,
            fault.Reason,
            fault.DecidedBy?.Value,
            Instant(fault.DecidedAt),
            fault.Reworks,
            Instant(fault.OpenedAt),
            Instant(fault.ClosedAt),
            fault.ClosedByReading,
            NonconformanceWords.Done(fault, closing)
        );
    }

    private static IEnumerable<Guid> Workers(Operation operation) =>
        operation.Times.Select(t => t.Person).Append(operation.FinishedBy).OfType<PersonId>().Select(p => p.Value);

    // The two databases keep instants with different offsets; a record has one way to write an instant.
    internal static DateTimeOffset Instant(DateTimeOffset at) => at.ToUniversalTime();

    internal static DateTimeOffset? Instant(DateTimeOffset? at) => at?.ToUniversalTime();
}
