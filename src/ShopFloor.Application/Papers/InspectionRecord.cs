using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;

namespace ShopFloor.Application.Papers;

/// <summary>A job's inspection as one text that can be hashed: lines with limits, every reading, the sign-offs. People are ids only, so the hash outlives an erasure.</summary>
internal static class InspectionRecord
{
    /// <summary>SHA-256 of the canonical JSON (RFC 8785), 64 lower-case hexadecimal digits.</summary>
    public static string HashOf(JobInspection inspection) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(CanonicalJson.Write(Of(inspection)))));

    private static JsonObject Of(JobInspection inspection) =>
        new()
        {
            ["schema"] = 2,
            ["job"] = inspection.JobId.Value.ToString(),
            ["plan"] = $"{inspection.PlanCode} {inspection.PlanVersion.ToString(CultureInfo.InvariantCulture)}",
            ["ruleSets"] = Array(inspection.RuleSets.Select(r => (JsonNode)r.Citation)),
            ["lines"] = Array(inspection.Lines.OrderBy(l => l.Position).Select(l => (JsonNode)Of(l))),
            ["nonconformances"] = Array(inspection.Nonconformances.OrderBy(n => n.Number).Select(n => (JsonNode)Of(n))),
            ["signOffs"] = Array(inspection.SignOffs.OrderBy(s => s.RecordedAt).Select(s => (JsonNode)Of(s))),
        };

    private static JsonObject Of(InspectionLine line) =>
        new()
        {
            ["code"] = line.Code,
            ["operation"] = line.OperationCode,
            ["what"] = line.What,
            ["unit"] = line.Unit,
            ["lower"] = Text(line.Lower),
            ["nominal"] = Text(line.Nominal),
            ["upper"] = Text(line.Upper),
            ["readings"] = Array(line.Readings.OrderBy(r => r.Number).Select(r => (JsonNode)Of(r))),
        };

    private static JsonObject Of(Reading reading) =>
        new()
        {
            ["number"] = reading.Number,
            ["value"] = Text(reading.Value),
            ["entered"] = reading.Entered,
            ["enteredSecond"] = reading.EnteredSecond,
            ["instrument"] = reading.Instrument?.Value.ToString(),
            ["uncertainty"] = Text(reading.Uncertainty),
            ["passed"] = reading.Passed,
            ["note"] = reading.Note,
            ["photos"] = Array(reading.PhotoIds.Select(p => (JsonNode)p.Value.ToString())),
            ["corrects"] = reading.Corrects,
            ["by"] = reading.RecordedBy?.Value.ToString(),
            ["occurredAt"] = Text(reading.OccurredAt),
            ["recordedAt"] = Text(reading.RecordedAt),
        };

    private static JsonObject Of(Nonconformance fault) =>
        new()
        {
            ["number"] = fault.Number,
            ["line"] = fault.LineCode,
            ["reading"] = fault.Reading,
            ["description"] = fault.Description,
            ["photos"] = Array(fault.PhotoIds.Select(p => (JsonNode)p.Value.ToString())),
            ["cause"] = fault.Cause?.ToString(),
            ["disposition"] = fault.Disposition?.ToString(),
            ["reason"] = fault.Reason,
            ["by"] = fault.DecidedBy?.Value.ToString(),
            ["reworks"] = Array(fault.Reworks.Select(r => (JsonNode)r)),
            ["openedAt"] = Text(fault.OpenedAt),
            ["closedAt"] = fault.ClosedAt is { } at ? Text(at) : null,
            ["closedByReading"] = fault.ClosedByReading,
        };

    private static JsonObject Of(SignOff signOff) =>
        new()
        {
            ["by"] = signOff.SignedBy.Value.ToString(),
            ["at"] = Text(signOff.SignedAt),
            ["selfInspection"] = signOff.IsSelfInspection,
            ["withdrawnAt"] = signOff.WithdrawnAt is { } at ? Text(at) : null,
        };

    private static JsonArray Array(IEnumerable<JsonNode> nodes) => [.. nodes];

    private static string? Text(decimal? value) => value is { } v ? InspectionLine.Text(v) : null;

    private static string Text(DateTimeOffset at) =>
        at.ToUniversalTime().ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);
}
