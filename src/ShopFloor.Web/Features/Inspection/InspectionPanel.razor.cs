using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Inspection;

/// <summary>A job's inspection as the office sees it.</summary>
public partial class InspectionPanel(ReadInspections read, ShopHead head)
{
    private JobInspectionView? view;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    [Parameter, EditorRequired]
    public JobId Job { get; set; }

    private int Passed => view!.Inspection.Lines.Count(l => l.State.IsSettled());

    private int Failed => view!.Inspection.Lines.Count(l => l.State == LineState.Failed);

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.OneAsync(Job, Actor, Closing);
        view = outcome.IsSuccess ? outcome.Value : null;
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.JobId == Job.Value;

    private string When(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy, HH:mm", CultureInfo.InvariantCulture);

    private static string Stand(OperationLinesView operation) =>
        operation.FailedCount > 0 ? $"✕ {operation.FailedCount} failed"
        : operation.PassedCount == operation.Lines.Count ? "✓ passed"
        : $"○ {operation.PassedCount} of {operation.Lines.Count} passed";

    private static string Word(LineState state) =>
        state switch
        {
            LineState.Passed => "✓ Passed",
            LineState.Failed => "✕ Failed",
            LineState.Accepted => "◇ Failed, accepted by the owner",
            _ => "○ Not checked yet",
        };

    private static string Read(InspectionLineView line, ReadingView reading) =>
        reading.Value is not { } value
            ? ""
            : $", {InspectionLine.Text(value)} {line.Unit}"
                + (
                    reading is { First: { } a, Second: { } b }
                        ? $" ({InspectionLine.Text(a)} less {InspectionLine.Text(b)})"
                        : ""
                )
                + (
                    reading is { First: null, Entered: { } typed } && typed != InspectionLine.Text(value)
                        ? $" (typed {typed})"
                        : ""
                )
                + (reading.IsClose ? ", close to a limit" : "")
                + (reading.Instrument is { } instrument ? $", {instrument}" : "")
                + (reading.Corrects is { } number ? $", corrects reading {number}" : "");
}
