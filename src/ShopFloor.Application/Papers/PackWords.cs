using ShopFloor.Application.Inspection.Packs;
using ShopFloor.Documents.Images;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Inspection.Packs;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Papers;

/// <summary>A record as its paper words it: names for ids, the shop's time.</summary>
internal sealed class PackWords(TimeZoneInfo zone, PackDraft draft)
{
    private readonly PackRecord record = draft.Record;

    public InspectionPaper Paper(
        PaperShop shop,
        CustomerId customer,
        string? registration,
        IReadOnlyList<PaperPhoto> photos,
        PaperSignOff? signOff,
        PaperRecord? stored
    ) =>
        new(
            shop,
            draft.Names.GetValueOrDefault(customer.Value, Customer.ErasedName),
            new PaperCar(record.Car.Title, record.Car.ChassisNumber, registration),
            record.Job,
            record.Work,
            [.. record.RuleSets.Select(r => new PaperRuleSet(r.Name, r.Edition, r.ReadOn, r.Version))],
            [.. record.Lines.Select(Line)],
            [.. record.Nonconformances.Select(Nonconformance)],
            [.. record.Operations.Where(o => o.FinishedAt is not null).Select(Work)],
            photos,
            [.. record.Cautions.Where(c => c != Cautions.WhoDecides)],
            signOff,
            stored,
            record.Materials is { } materials ? new TraceWords(zone, NameOf).Trace(record, materials) : null
        );

    public PaperSignOff SignOff(InspectionPack pack, SignOff signOff) =>
        new(
            NameOf(signOff.SignedBy.Value),
            Local(signOff.SignedAt),
            signOff.IsSelfInspection,
            signOff.Note,
            pack.StrokesOf(signOff.SignedBy) is { } strokes
                ? new PaperSignature(
                    NameOf(signOff.SignedBy.Value),
                    Local(signOff.SignedAt),
                    SignaturePicture.Png(strokes)
                )
                : null,
            signOff.WithdrawnAt is { } at ? Local(at) : null,
            signOff.WithdrawnReason
        );

    /// <summary>Every photo once for each reading that refers to it, in plan order.</summary>
    public IEnumerable<(string Caption, PackPhoto Photo)> Photos()
    {
        var byId = record.Photos.ToDictionary(p => p.Id);
        return from line in record.Lines
            from reading in line.Readings
            from id in reading.Photos
            where byId.ContainsKey(id)
            select ($"{line.Operation} {line.What}, reading {reading.Number}", byId[id]);
    }

    private PaperInspectionLine Line(PackLine line) =>
        new(
            line.Code,
            line.Operation,
            line.What,
            line.Unit,
            (double?)line.Lower,
            (double?)line.Nominal,
            (double?)line.Upper,
            line.Source,
            line.Point == InspectionPoint.Hold,
            line.State switch
            {
                LineState.Passed => PaperResult.Passed,
                LineState.Failed => PaperResult.Failed,
                LineState.Accepted => PaperResult.Accepted,
                _ => PaperResult.NotYet,
            },
            [.. line.Readings.Select(Reading)]
        );

    private static PaperNonconformance Nonconformance(PackNonconformance fault) =>
        new(
            fault.What,
            fault.Description + (fault.Cause is { } cause ? $" Cause: {NonconformanceWords.Of(cause)}." : ""),
            fault.Outcome,
            fault.ClosedAt is not null
        );

    private PaperReading Reading(PackReading reading) =>
        new(
            (double?)reading.Value,
            reading.Passed ? PaperResult.Passed : PaperResult.Failed,
            reading.By is { } by ? NameOf(by) : "an integration",
            Local(reading.OccurredAt),
            reading.InstrumentName,
            reading.Note,
            reading.Photos.Count
        );

    private PaperWorkDone Work(PackOperation operation) =>
        new(
            operation.Code,
            operation.Title,
            operation.HotWork,
            string.Join(", ", operation.By.Select(NameOf)),
            operation.FinishedAt is { } at ? Local(at) : null
        );

    private string NameOf(Guid person) => draft.Names.GetValueOrDefault(person, "somebody who was forgotten");

    private DateTimeOffset Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, zone);
}
