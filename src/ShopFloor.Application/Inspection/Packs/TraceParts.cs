using ShopFloor.Domain.Inspection.Packs;
using ShopFloor.Domain.Materials;

namespace ShopFloor.Application.Inspection.Packs;

/// <summary>The parts of a record that tell what went into the job and who welded it.</summary>
internal static class TraceParts
{
    public static IReadOnlyList<PackMaterial> Materials(JobTrace? trace) =>
        [
            .. (trace?.Materials ?? [])
                .OrderBy(m => m.Number)
                .Select(m => new PackMaterial(
                    m.Number,
                    m.Kind,
                    [.. m.Entries.Select(Of)],
                    m.WithdrawnReason,
                    m.WithdrawnBy?.Value,
                    PackParts.Instant(m.WithdrawnAt)
                )),
        ];

    public static IReadOnlyList<PackJoint> Joints(JobTrace? trace) =>
        [
            .. (trace?.Joints ?? [])
                .OrderBy(j => j.Position)
                .Select(j => new PackJoint(j.Code, j.What, j.OperationCode, [.. j.Entries.Select(Of)])),
        ];

    public static IReadOnlyList<PackAcceptance> Accepted(JobTrace? trace) =>
        [
            .. (trace?.Acceptances ?? []).Select(a => new PackAcceptance(
                [.. a.Gaps.Select(JobTrace.Words)],
                a.Reason,
                a.By.Value,
                PackParts.Instant(a.At)
            )),
        ];

    /// <summary>Everybody whom these parts name by id.</summary>
    public static IEnumerable<Guid> People(PackRecord record) =>
        (record.Materials ?? [])
            .SelectMany(m => m.Entries.Select(e => e.By).Append(m.WithdrawnBy))
            .Concat((record.Joints ?? []).SelectMany(j => j.Entries).SelectMany(e => new[] { e.Welder, e.By }))
            .Concat((record.Accepted ?? []).Select(a => (Guid?)a.By))
            .OfType<Guid>();

    private static PackMaterialEntry Of(MaterialEntry entry) =>
        new(
            entry.What,
            entry.Size,
            entry.Grade,
            entry.Mark,
            entry.Origin,
            entry.From,
            entry.Certificate?.OriginalSha256,
            entry.Certificate?.StoredSha256,
            entry.Reason,
            entry.By?.Value,
            PackParts.Instant(entry.At),
            PackParts.Instant(entry.RecordedAt)
        );

    private static PackWeld Of(WeldEntry entry) =>
        new(
            entry.Welder.Value,
            entry.Qualification,
            entry.ValidUntil,
            entry.IsExpired,
            entry.Procedure,
            entry.Filler,
            entry.Gas,
            entry.On,
            entry.Note,
            entry.By?.Value,
            PackParts.Instant(entry.At),
            PackParts.Instant(entry.RecordedAt)
        );
}
