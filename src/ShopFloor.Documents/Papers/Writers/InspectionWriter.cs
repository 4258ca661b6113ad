using System.Globalization;
using ShopFloor.Documents.Papers.Layout;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Papers.Writers;

internal static class InspectionWriter
{
    private const string Kind = "Inspection pack";

    public static byte[] Write(InspectionPaper paper, PaperSettings settings)
    {
        var title = new SheetTitle(paper.Shop.Name, Kind, paper.JobNumber, Mark(paper));
        using var sheet = new Sheet(settings, title);
        Blocks.Letterhead(
            sheet,
            paper.Shop,
            Kind,
            [new("Job", paper.JobNumber), new("Kit", paper.KitName), new("Made", Sheet.Time(settings.MadeAt))]
        );
        Blocks.PartyAndCar(sheet, "Customer", new PaperParty(paper.CustomerName, []), paper.Car);
        RuleSets(sheet, paper.RuleSets);
        sheet.Heading("Lines");
        Lines(sheet, paper.Lines);
        Nonconformances(sheet, paper.Nonconformances);
        if (paper.Trace is { } trace)
        {
            TraceBlock.Write(sheet, trace);
        }

        Work(sheet, paper.Work);
        PhotoBlock.Write(sheet, paper.Photos);
        SignOff(sheet, paper);
        Blocks.CautionBox(sheet, "What this record is not, and what comes after", paper.Cautions, true);
        if (paper.Record is { } record)
        {
            Record(sheet, record);
        }

        return sheet.Finish();
    }

    public static string Word(PaperResult result) =>
        result switch
        {
            PaperResult.Passed => "✓ Passed",
            PaperResult.Failed => "✗ Failed",
            PaperResult.Accepted => "! Accepted",
            PaperResult.DoesNotApply => "– Does not apply",
            _ => "○ Not yet",
        };

    private static void RuleSets(Sheet sheet, IReadOnlyList<PaperRuleSet> ruleSets)
    {
        sheet.Heading("Held against");
        if (ruleSets.Count == 0)
        {
            sheet.Paragraph("The shop's own lines only; no published rule set was chosen.", TextStyle.Body);
        }

        foreach (var rules in ruleSets)
        {
            var read = rules.ReadOn is { } day ? $"figures read {Sheet.Day(day)}" : "day of reading not recorded";
            var version = rules.Version is { } number ? $"; version {number} here" : "";
            sheet.Item(
                "•",
                $"{rules.Name}, {rules.Edition}; {read}{version}. The current edition decides.",
                TextStyle.Body
            );
        }
    }

    private static void Lines(Sheet sheet, IReadOnlyList<PaperInspectionLine> lines)
    {
        var table = new Table(
            new TableColumn("Op.", 7),
            new TableColumn("Line", 35),
            new TableColumn("Value and limits", 28),
            new TableColumn("Result", 15),
            new TableColumn("Read by", 18)
        );
        table.Write(sheet, [.. lines.Select(line => Row(line, sheet.Culture))]);
    }

    private static TableRow Row(PaperInspectionLine line, CultureInfo culture)
    {
        var last = line.Readings.Count == 0 ? null : line.Readings[^1];
        string?[] notes =
        [
            line.IsHold ? "Hold point" : null,
            line.Source,
            last?.Note is { } note ? "Note: " + note : null,
            .. line.Readings.SkipLast(1).Select(r => Earlier(r, line.Unit, culture)),
        ];
        var scale = new ValueScale(line.Lower, line.Nominal, line.Upper, last?.Value, line.Result, culture);
        var hasScale = ValueScale.Makes(line.Lower, line.Upper);
        string?[] who =
        [
            last is null ? null : Sheet.Time(last.At),
            last?.Instrument,
            last is { PhotoCount: > 0 } ? string.Create(culture, $"Photos: {last.PhotoCount}") : null,
        ];
        return new TableRow(
            line.Operation,
            new TableCell(line.Title, Note: string.Join("\n", notes.OfType<string>())),
            new TableCell(
                Value(last?.Value, line.Unit, culture),
                TextStyle.Strong,
                Limits(line, culture),
                hasScale ? scale.Draw : null,
                hasScale ? ValueScale.Height : 0
            ),
            new TableCell(Word(line.Result), TextStyle.Strong),
            new TableCell(last?.By ?? "", Note: string.Join("\n", who.OfType<string>()))
        );
    }

    private static string Earlier(PaperReading reading, string? unit, CultureInfo culture)
    {
        var value = Value(reading.Value, unit, culture);
        var shown = value.Length > 0 ? $" {value}," : "";
        var note = reading.Note is { } text ? $": {text}" : "";
        return $"Earlier reading:{shown} {Word(reading.Result)}, {reading.By}, {Sheet.Time(reading.At)}{note}";
    }

    private static string Value(double? value, string? unit, CultureInfo culture) =>
        value is { } number ? $"{number.ToString("0.###", culture)} {unit}".TrimEnd() : "";

    private static string? Limits(PaperInspectionLine line, CultureInfo culture)
    {
        string? F(double? limit) => limit is null ? null : Value(limit, line.Unit, culture);
        return (F(line.Lower), F(line.Upper)) switch
        {
            ({ } low, { } high) => $"allowed {low} to {high}",
            ({ } low, null) => $"at least {low}",
            (null, { } high) => $"at most {high}",
            _ => null,
        };
    }

    private static void Nonconformances(Sheet sheet, IReadOnlyList<PaperNonconformance> nonconformances)
    {
        sheet.Heading("Nonconformances");
        if (nonconformances.Count == 0)
        {
            sheet.Paragraph("None recorded.", TextStyle.Body);
            return;
        }

        var table = new Table(
            new TableColumn("Line", 30),
            new TableColumn("Found", 28),
            new TableColumn("What was done", 28),
            new TableColumn("State", 14)
        );
        table.Write(
            sheet,
            [
                .. nonconformances.Select(n => new TableRow(
                    n.Line,
                    n.Found,
                    n.Disposition,
                    n.IsClosed ? "✓ Closed" : "✗ Open"
                )),
            ]
        );
    }

    private static string? Mark(InspectionPaper paper) =>
        paper.SignOff switch
        {
            null => "NOT SIGNED OFF",
            { WithdrawnAt: not null } => "SIGN-OFF WITHDRAWN",
            _ => null,
        };

    private static void Work(Sheet sheet, IReadOnlyList<PaperWorkDone> work)
    {
        if (work.Count == 0)
        {
            return;
        }

        sheet.Heading("Work done");
        var table = new Table(
            new TableColumn("Op.", 7),
            new TableColumn("Operation", 47),
            new TableColumn("By", 26),
            new TableColumn("Finished", 20)
        );
        table.Write(
            sheet,
            [
                .. work.Select(w => new TableRow(
                    w.Code,
                    new TableCell(w.Title, Note: w.IsHotWork ? "Hot work" : null),
                    w.By,
                    w.At is { } at ? Sheet.Time(at) : ""
                )),
            ]
        );
    }

    private static void Record(Sheet sheet, PaperRecord record)
    {
        var side = Sheet.Mm(32);
        sheet.Ensure(side + Sheet.Mm(4));
        var (top, x) = (sheet.Y, sheet.Left + side + Sheet.Mm(4));
        var width = sheet.Right - x;
        Blocks.Qr(sheet, record.Url, sheet.Left, top, side);
        var y = top + Sheet.Mm(2);
        y += sheet.DrawText("SHA-256 of the stored record (canonical JSON, RFC 8785)", TextStyle.Strong, x, y, width);
        y += sheet.DrawText(record.Sha256, TextStyle.Code, x, y, width) + Sheet.Mm(1);
        y += sheet.DrawText(
            "Anybody can see at this address whether the record exists unchanged and when it was signed; the page says nothing else. "
                + "Whoever holds the record's JSON file can have it checked there, or take its SHA-256 with any tool and compare.",
            TextStyle.Small,
            x,
            y,
            width
        );
        y += sheet.DrawText(record.Url, TextStyle.Small, x, y, width);
        sheet.Y = Math.Max(y, top + side) + Sheet.Mm(2);
    }

    private static void SignOff(Sheet sheet, InspectionPaper paper)
    {
        sheet.Heading("Sign-off");
        if (paper.SignOff is not { } signOff)
        {
            sheet.Paragraph("Not signed off: this record is still open.", TextStyle.Strong);
            return;
        }

        sheet.Paragraph($"✓ Released by {signOff.By}, {Sheet.Time(signOff.At)}.", TextStyle.Strong);
        sheet.Paragraph(
            signOff.IsSelfInspection
                ? "Self-inspection: the person who released this car also worked on it. No second person has looked at it."
                : "Released by another person than those who did the work.",
            signOff.IsSelfInspection ? TextStyle.Strong : TextStyle.Body
        );
        if (signOff.Note is { } note)
        {
            sheet.Paragraph(note, TextStyle.Body);
        }

        if (signOff.WithdrawnAt is { } at)
        {
            sheet.Paragraph($"✗ Withdrawn, {Sheet.Time(at)}: {signOff.WithdrawnReason}", TextStyle.Strong);
        }

        Blocks.Signature(sheet, "who signed off", signOff.Signature);
    }
}
