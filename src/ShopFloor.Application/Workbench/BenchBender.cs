using System.Globalization;
using ShopFloor.Application.Workbench.Dies;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench;

/// <summary>The fields of a bender's die, shared by the calculators that bend.</summary>
public static class BenchBender
{
    public const string TrialsName = "trials";

    internal static BenchField Trials { get; } =
        new(
            TrialsName,
            "Springback trials: angle after release; angle the bender stood at",
            BenchFieldKind.Lines,
            "",
            "One trial a line, such as 88; 90. From your own trials with this die and tube; between two of them the figure goes by proportion.",
            IsOptional: true,
            LengthParts: 0
        );

    /// <summary>The trials of a field; complaints name their line.</summary>
    internal static SpringbackTable ReadTrials(this BenchReader read)
    {
        if (
            !Parse(read.Text(TrialsName)).Then(t => SpringbackTable.Of("die", t)).TryGet(out var table, out var failure)
        )
        {
            foreach (var error in Placed(failure).Take(5))
            {
                read.Errors.Add(error.Path, error.Text);
            }

            return new SpringbackTable("die", []);
        }

        return table;
    }

    /// <summary>Trials from their lines; an error names <c>trials</c> and says which line.</summary>
    public static Outcome<IReadOnlyList<SpringbackReading>> Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var trials = new List<SpringbackReading>();
        var lines = text.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        if (lines.Length > SpringbackTable.MostTrials)
        {
            return Failure.Field(TrialsName, $"At most {SpringbackTable.MostTrials} trials are taken.");
        }

        for (var i = 0; i < lines.Length; i++)
        {
            var parts = lines[i].Split(';', StringSplitOptions.TrimEntries);
            if (
                parts.Length != 2
                || !LengthText.TryReadDegrees(parts[0], out var released)
                || !LengthText.TryReadDegrees(parts[1], out var bent)
            )
            {
                return Failure.Field(
                    TrialsName,
                    $"Line {i + 1} is not two angles with a semicolon between, such as 88; 90."
                );
            }

            trials.Add(new SpringbackReading(released, bent));
        }

        return trials;
    }

    /// <summary>The Domain's complaints about a trial, said at the one field of all trials.</summary>
    public static IReadOnlyList<FieldError> Placed(Failure failure)
    {
        ArgumentNullException.ThrowIfNull(failure);
        const string begin = TrialsName + "[";
        return failure is not Failure.Invalid invalid
            ? [new FieldError(TrialsName, failure.Sentence)]
            :
            [
                .. invalid.Errors.Select(e =>
                    e.Path.StartsWith(begin, StringComparison.Ordinal)
                        ? new FieldError(TrialsName, $"Trial {Number(e.Path[begin.Length..])}: {e.Text}")
                        : e
                ),
            ];
    }

    /// <summary>Trials as they are typed.</summary>
    public static string Written(IReadOnlyList<SpringbackReading> trials) =>
        string.Join('\n', trials.Select(t => FormattableString.Invariant($"{t.ReleasedDegrees}; {t.BentDegrees}")));

    /// <summary>Figures of a die for those of a calculator's fields that it has.</summary>
    public static BenchPreset Of(BenderDieView die, BenchSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(die);
        ArgumentNullException.ThrowIfNull(sheet);
        var all = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["outsideDiameterMm"] = Mm(die.OutsideDiameterMm),
            ["centrelineRadiusMm"] = Mm(die.CentrelineRadiusMm),
            ["markOffsetMm"] = Mm(die.MarkOffsetMm),
            ["clampMm"] = Mm(die.ClampMm),
            [TrialsName] = Written(die.Trials),
        };
        var names = sheet.Fields.Select(f => f.Name).ToHashSet(StringComparer.Ordinal);
        return new BenchPreset(
            die.Name,
            all.Where(v => names.Contains(v.Key)).ToDictionary(v => v.Key, v => v.Value, StringComparer.Ordinal)
        );
    }

    private static string Mm(double millimetres) => FormattableString.Invariant($"{millimetres:0.####} mm");

    private static int Number(string path) =>
        1 + int.Parse(path[..path.IndexOf(']', StringComparison.Ordinal)], CultureInfo.InvariantCulture);
}
