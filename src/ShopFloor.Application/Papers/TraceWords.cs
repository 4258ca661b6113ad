using System.Globalization;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Inspection.Packs;
using ShopFloor.Domain.Materials;

namespace ShopFloor.Application.Papers;

/// <summary>Material and welds of a record as its paper words them.</summary>
internal sealed class TraceWords(TimeZoneInfo zone, Func<Guid, string> nameOf)
{
    public PaperTrace Trace(PackRecord record, IReadOnlyList<PackMaterial> materials) =>
        new(
            [.. materials.Select(Material)],
            [.. (record.Joints ?? []).Select(j => Weld(j, materials))],
            [
                .. (record.Accepted ?? []).SelectMany(a =>
                    a.Missing.Select(m => $"{m}. Reason: {a.Reason} ({nameOf(a.By)}, {At(a.At)})")
                ),
            ]
        );

    private PaperMaterial Material(PackMaterial material)
    {
        var last = material.Entries[^1];
        string?[] notes =
        [
            last.Grade is { } grade ? $"Grade {grade}" : null,
            $"{Capital(last.Origin.Title())}{(last.From is { } from ? $": {from}" : "")}",
            last.CertificateSha256 is { } hash ? $"Certificate, SHA-256 {hash}" : "No certificate",
            $"Entered by {By(last.By)}, {At(last.At)}",
            .. material.Entries.SkipLast(1).Zip(material.Entries.Skip(1), Earlier),
            material.WithdrawnReason is { } why ? $"Not used after all: {why}" : null,
        ];
        return new PaperMaterial(
            material.Number,
            $"{material.Kind.Title()}: {last.What}",
            last.Size ?? "",
            last.Mark,
            [.. notes.OfType<string>()]
        );
    }

    /// <summary>An entry that was corrected, with why; where only the certificate came later, that alone.</summary>
    private string? Earlier(PackMaterialEntry earlier, PackMaterialEntry later) =>
        earlier with
        {
            CertificateSha256 = null,
            CertificateOriginalSha256 = null,
            Reason = null,
            By = null,
            At = default,
            RecordedAt = default,
        }
        == later with
        {
            CertificateSha256 = null,
            CertificateOriginalSha256 = null,
            Reason = null,
            By = null,
            At = default,
            RecordedAt = default,
        }
            ? null
            : $"Earlier entry: {earlier.What}, {earlier.Size}, heat or lot {earlier.Mark ?? "not written down"}; corrected by {By(later.By)}, {At(later.At)}: {later.Reason}";

    private PaperWeld Weld(PackJoint joint, IReadOnlyList<PackMaterial> materials)
    {
        var last = joint.Entries.Count == 0 ? null : joint.Entries[^1];
        string? Named(int? number) => materials.FirstOrDefault(m => m.Number == number)?.Entries[^1].What;
        string?[] how =
        [
            last?.Qualification ?? "no qualification named",
            last?.Procedure is { } procedure ? $"procedure {procedure}" : "no procedure named",
            Named(last?.Filler) is { } filler ? $"filler {filler} (no. {last!.Filler})" : null,
            Named(last?.Gas) is { } gas ? $"gas {gas} (no. {last!.Gas})" : null,
        ];
        string?[] notes =
        [
            last is { Expired: true } ? $"! Qualification had run out on {Day(last.ValidUntil!.Value)}" : null,
            last?.Note,
            .. joint.Entries.SkipLast(1).Select(e => $"Earlier entry: {nameOf(e.Welder)}, {Day(e.On)}"),
        ];
        return new PaperWeld(
            joint.Operation,
            joint.What,
            last is null ? null : nameOf(last.Welder),
            last?.On,
            last is null ? "" : string.Join(", ", how.OfType<string>()),
            [.. notes.OfType<string>()]
        );
    }

    private string By(Guid? person) => person is { } by ? nameOf(by) : "an integration";

    private string At(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy, HH:mm", CultureInfo.InvariantCulture);

    private static string Day(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];
}
