using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench;

/// <summary>A figure of the answer, with how it came about.</summary>
/// <param name="IsMain">One of the figures that the page is for; shown large.</param>
public sealed record BenchResult(string Label, string Value, Explanation Explanation, bool IsMain = false);

/// <summary>Rows of figures beside the picture.</summary>
/// <param name="IsWorkedBy">Metal is cut or bent by these rows: they go along where the figures are saved.</param>
public sealed record BenchTable(
    string Caption,
    IReadOnlyList<string> Headings,
    IReadOnlyList<IReadOnlyList<string>> Rows,
    bool IsWorkedBy = false
);

/// <summary>A paper or outline that a calculator can make.</summary>
/// <param name="File">Last part of its address, e.g. <c>wrap.pdf</c>.</param>
/// <param name="Label">On its link.</param>
public sealed record BenchPaperName(string File, string Label);

/// <summary>A paper or outline that can be made of the answer.</summary>
/// <param name="File">Last part of its address, e.g. <c>wrap.pdf</c>.</param>
/// <param name="Label">On its link.</param>
/// <param name="Make">Its content, from its head and how it is set.</param>
public sealed record BenchPaper(
    string File,
    string Label,
    string ContentType,
    Func<IWorkbenchPapers, WorkbenchHead, PaperSettings, Outcome<byte[]>> Make
);

/// <summary>What a sheet answers.</summary>
/// <param name="Warnings">Must be read before metal is cut.</param>
/// <param name="View">The picture from a direction in degrees, for things in space; null where <paramref name="Picture"/> does.</param>
/// <param name="Name">What the papers are called after.</param>
public sealed record BenchAnswer(
    IReadOnlyList<BenchResult> Results,
    IReadOnlyList<string> Warnings,
    BenchPicture? Picture,
    IReadOnlyList<BenchTable> Tables,
    IReadOnlyList<BenchPaper> Papers,
    string Name,
    Func<double, double, BenchPicture>? View = null,
    IReadOnlyList<BenchLink>? Links = null
)
{
    /// <summary>Rows of a table that are kept with saved figures; a longer one is left to its card.</summary>
    private const int MostRows = 24;

    /// <summary>The answer as lines: its results, then the rows that metal is worked by, each under its first cell.</summary>
    public IReadOnlyList<FigureLine> Lines =>
        [
            .. Results.Select(r => new FigureLine(r.Label, r.Value, r.IsMain)),
            .. Tables
                .Where(t => t is { IsWorkedBy: true, Rows.Count: <= MostRows })
                .SelectMany(t => t.Rows.Select(row => Line(t, row))),
        ];

    private static FigureLine Line(BenchTable table, IReadOnlyList<string> row) =>
        new(
            $"{table.Headings[0]} {row[0]}",
            string.Join("; ", table.Headings.Zip(row).Skip(1).Select(c => $"{c.First} {c.Second}")),
            IsMain: true
        );
}

/// <summary>Where the answer can be taken further.</summary>
/// <param name="Href">Behind <c>workbench/</c>.</param>
public sealed record BenchLink(string Label, string Href)
{
    /// <summary>To another calculator with some of its fields filled in.</summary>
    public static BenchLink To(
        string label,
        string calculator,
        LengthUnit unit,
        params IEnumerable<(string Field, string Text)> fields
    ) =>
        new(
            label,
            $"{calculator}?{BenchValues.UnitName}={(unit == LengthUnit.Inch ? "in" : "mm")}"
                + string.Concat(fields.Select(f => $"&{Uri.EscapeDataString(f.Field)}={Uri.EscapeDataString(f.Text)}"))
        );

    /// <summary>The weld of a joint round a tube, in short runs.</summary>
    public static BenchLink ToWeld(BenchReader read, double jointMm, string name)
    {
        ArgumentNullException.ThrowIfNull(read);
        return To(
            "Plan its weld in short runs",
            "heat-input",
            read.Unit,
            ("shape", "round"),
            ("jointMm", BenchValues.Written(jointMm, read.Unit)),
            ("plate", name)
        );
    }
}

/// <summary>How the workbench writes figures.</summary>
public static class BenchLengths
{
    /// <summary>The parts of an inch that a person may choose to read.</summary>
    public static IReadOnlyList<int> Tapes { get; } = [16, 32];

    /// <summary>Beyond it no tape is read: a thousand kilometres. What is longer came of a figure that was mistyped.</summary>
    private const double LongestOfTape = 1e9;

    /// <summary>Millimetres, decimal inches, and the nearest mark of an inch tape with what it leaves out.</summary>
    public static string Say(double millimetres, int divisions)
    {
        if (Math.Abs(millimetres) > LongestOfTape)
        {
            return Beyond(millimetres);
        }

        var tape = FractionalInches.Nearest(millimetres, divisions);
        return FormattableString.Invariant(
            $"{millimetres:0.00} mm · {millimetres / Length.MillimetresPerInch:0.000} in · {tape} {Left(tape.RemainderMm)}"
        );
    }

    /// <summary>Millimetres to a tenth and the nearest mark of an inch tape, for tables.</summary>
    public static string Brief(double millimetres, int divisions) =>
        Math.Abs(millimetres) > LongestOfTape
            ? Beyond(millimetres)
            : FormattableString.Invariant($"{millimetres:0.0} mm · {FractionalInches.Nearest(millimetres, divisions)}");

    private static string Beyond(double millimetres) =>
        FormattableString.Invariant($"{millimetres:0.##E+0} mm, longer than any tape");

    public static string Degrees(double degrees) => FormattableString.Invariant($"{degrees:0.##}°");

    private static string Left(double remainderMm) =>
        Math.Abs(remainderMm) < 0.005
            ? "exactly"
            : FormattableString.Invariant($"{(remainderMm > 0 ? "and" : "less")} {Math.Abs(remainderMm):0.00} mm");
}
