using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Application.RuleSets;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Papers;

/// <summary>Prints what was measured and looked at on a job, with the hash of the stored record once it is signed off.</summary>
public sealed class PrintInspection(
    QueryRunner runner,
    RuleSetLibrary ruleSets,
    PaperHeads heads,
    IPapers papers,
    TimeProvider clock
) : IUseCase
{
    public Task<Outcome<PrintedPaper>> RunAsync(JobId jobId, PaperSize? size, Actor actor, CancellationToken ct) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var job = await db.Set<Job>().SingleOrDefaultAsync(j => j.Id == jobId, ct);
                var inspection = await db.InspectionAsync(jobId, ct);
                if (job is null || inspection is null)
                {
                    return Failure.Missing("job");
                }

                var (shop, customer, car) = await PaperHeads.ReadAsync(db, job.CustomerId, job.CarId, ct);
                var names = await InspectionView.NamesAsync(db, [inspection], ct);
                var (_, book) = await ConditionComparison.LoadAsync(db, job, ct);
                var words = new Words(shop.Zone, names);
                var paper = new InspectionPaper(
                    await heads.LetterheadAsync(shop, ct),
                    customer.Name,
                    PaperHeads.Of(car, job.Scope.Kind.Title()),
                    job.Number,
                    book.WhatIsSold(job.Scope),
                    [.. inspection.RuleSets.Select(RuleSet)],
                    [.. inspection.Lines.OrderBy(l => l.Position).Select(words.Line)],
                    [.. inspection.Nonconformances.OrderBy(n => n.Number).Select(n => Nonconformance(inspection, n))],
                    inspection.Current is { } signOff ? words.Release(signOff) : null,
                    inspection.IsSignedOff ? InspectionRecord.HashOf(inspection) : null
                );
                return new PrintedPaper(
                    papers.Inspection(paper, PaperHeads.SettingsOf(shop, size, clock.GetUtcNow())),
                    $"{job.Number}-inspection.pdf"
                );
            },
            ct
        );

    private PaperRuleSet RuleSet(RuleSetUsed used) =>
        ruleSets.Find(used.Code) is { } known && known.Version == used.Version
            ? new PaperRuleSet(
                $"{known.Document.Publisher}, {known.Title}",
                known.Document.Edition,
                known.Document.DateRead
            )
            : new PaperRuleSet(used.Citation, $"version {used.Version} of its figures", null);

    private static PaperNonconformance Nonconformance(JobInspection inspection, Nonconformance fault)
    {
        var closing = inspection
            .Lines.FirstOrDefault(l => l.Code == fault.LineCode)
            ?.Readings.FirstOrDefault(r => r.Number == fault.ClosedByReading);
        return new PaperNonconformance(
            fault.What,
            fault.Description + (fault.Cause is { } cause ? $" Cause: {NonconformanceWords.Of(cause)}." : ""),
            NonconformanceWords.Done(fault, closing),
            !fault.IsOpen
        );
    }

    private sealed class Words(TimeZoneInfo zone, IReadOnlyDictionary<Guid, string> names)
    {
        public PaperInspectionLine Line(InspectionLine line) =>
            new(
                line.Code,
                line.OperationCode,
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
                    _ => PaperResult.NotYet,
                },
                [.. line.Readings.OrderBy(r => r.Number).Select(Read)]
            );

        public PaperSignOff Release(SignOff signOff) =>
            new(NameOf(signOff.SignedBy), Local(signOff.SignedAt), signOff.IsSelfInspection, signOff.Note);

        private PaperReading Read(Reading reading) =>
            new(
                (double?)reading.Value,
                reading.Passed ? PaperResult.Passed : PaperResult.Failed,
                NameOf(reading.RecordedBy),
                Local(reading.OccurredAt),
                reading.InstrumentName,
                reading.Note,
                reading.PhotoIds.Count
            );

        private string NameOf(PersonId? person) =>
            person is { } id && names.TryGetValue(id.Value, out var name) ? name : "an integration";

        private DateTimeOffset Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, zone);
    }
}
