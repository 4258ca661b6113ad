using System.Collections.ObjectModel;
using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Workbench;

/// <summary>What was typed, by field name. Lengths without a unit are in <see cref="Unit"/>.</summary>
/// <param name="unit">In which lengths without a unit are typed.</param>
/// <param name="typed">By field name.</param>
/// <param name="divisions">Parts of an inch to which results are said; one of <see cref="BenchLengths.Tapes"/>.</param>
public sealed class BenchValues(LengthUnit unit, IReadOnlyDictionary<string, string> typed, int divisions = 16)
{
    /// <summary>The name under which the unit travels in an address.</summary>
    public const string UnitName = "unit";

    /// <summary>The name under which the parts of an inch travel in an address.</summary>
    public const string TapeName = "tape";

    /// <summary>Longest text of a field; a tube path has up to 1,000 lines.</summary>
    public const int LongestText = 40_000;

    public LengthUnit Unit => unit;

    public int Divisions => divisions;

    public string? this[string name] => typed.GetValueOrDefault(name);

    /// <summary>From an address; what is absent is as the sheet starts.</summary>
    public static Outcome<BenchValues> Read(BenchSheet sheet, LengthUnit usual, Func<string, string?> query)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(query);
        var unit = query(UnitName) switch
        {
            "in" => LengthUnit.Inch,
            "mm" => LengthUnit.Millimetre,
            _ => usual,
        };
        var typed = new Dictionary<string, string>(StringComparer.Ordinal);
        var errors = new FieldErrors();
        var tape = BenchLengths.Tapes.FirstOrDefault(t => Word(t) == (query(TapeName) ?? Word(BenchLengths.Tapes[0])));
        errors.AddIf(tape == 0, TapeName, "A tape has 16 or 32 parts in an inch here.");
        foreach (var field in sheet.Fields)
        {
            var text = query(field.Name) ?? StartOf(field, unit);
            errors.AddIf(text.Length > LongestText, field.Name, "This text is too long.");
            typed[field.Name] = text;
        }

        return errors.Any ? errors.ToFailure() : new BenchValues(unit, typed, tape);

        static string Word(int parts) => parts.ToString(CultureInfo.InvariantCulture);
    }

    /// <summary>What stands in a field at first, written in a unit.</summary>
    public static string StartOf(BenchField field, LengthUnit unit)
    {
        ArgumentNullException.ThrowIfNull(field);
        return Rewritten(field, field.Start, LengthUnit.Millimetre, unit);
    }

    /// <summary>What stands in a field, its lengths in the other unit; what is no length, or names its own unit, stays as it is.</summary>
    public static string Rewritten(BenchField field, string text, LengthUnit from, LengthUnit to)
    {
        ArgumentNullException.ThrowIfNull(field);
        ArgumentNullException.ThrowIfNull(text);
        return from == to
            ? text
            : field.Kind switch
            {
                BenchFieldKind.Length => Converted(text, from, to),
                BenchFieldKind.Lines or BenchFieldKind.Point => string.Join(
                    '\n',
                    text.Split('\n')
                        .Select(line =>
                            string.Join(
                                "; ",
                                line.Split(';')
                                    .Select(
                                        (t, i) =>
                                            i < field.LengthParts || i == field.AlsoLength
                                                ? Converted(t, from, to)
                                                : t.Trim()
                                    )
                            )
                        )
                ),
                _ => text,
            };
    }

    private static string Converted(string text, LengthUnit from, LengthUnit to)
    {
        var bare = text.AsSpan().Trim();
        var hasUnit = bare.EndsWith("mm") || bare.EndsWith("in") || bare.Contains('"');
        return !hasUnit && LengthText.TryReadMm(text, from, out var millimetres)
            ? Written(millimetres, to)
            : text.Trim();
    }

    /// <summary>A length as it is typed: whole digits where it has them.</summary>
    public static string Written(double millimetres, LengthUnit unit) =>
        (unit == LengthUnit.Inch ? millimetres / Length.MillimetresPerInch : millimetres).ToString(
            "0.####",
            CultureInfo.InvariantCulture
        );

    /// <summary>The part of an address that brings these figures back.</summary>
    public string ToQuery() =>
        string.Join(
            '&',
            typed
                .OrderBy(t => t.Key, StringComparer.Ordinal)
                .Select(t => $"{Uri.EscapeDataString(t.Key)}={Uri.EscapeDataString(t.Value)}")
                .Prepend(string.Create(CultureInfo.InvariantCulture, $"{TapeName}={divisions}"))
                .Prepend($"{UnitName}={(unit == LengthUnit.Inch ? "in" : "mm")}")
        );

    public ReadOnlyDictionary<string, string> ToDictionary() =>
        new(new Dictionary<string, string>(typed, StringComparer.Ordinal));
}

/// <summary>Reads the fields of a sheet, gathering what cannot be read.</summary>
public sealed class BenchReader(BenchSheet sheet, BenchValues values)
{
    private readonly Dictionary<string, BenchField> fields = sheet.Fields.ToDictionary(
        f => f.Name,
        StringComparer.Ordinal
    );

    /// <summary>Of a tube, an end or a plate, in characters.</summary>
    public const int LongestName = 60;

    public FieldErrors Errors { get; } = new();

    /// <summary>Whether everything so far could be read: else the figures are stand-ins.</summary>
    public bool IsGood => !Errors.Any;

    public LengthUnit Unit => values.Unit;

    /// <summary>A length of the answer in full: see <see cref="BenchLengths.Say"/>.</summary>
    public string Say(double millimetres) => BenchLengths.Say(millimetres, values.Divisions);

    /// <summary>A length of a table: see <see cref="BenchLengths.Brief"/>.</summary>
    public string Brief(double millimetres) => BenchLengths.Brief(millimetres, values.Divisions);

    public double Length(string name) => OptionalLength(name) ?? Missing(name, 1);

    public double? OptionalLength(string name) =>
        Text(name) is not { Length: > 0 } text ? null
        : LengthText.TryReadMm(text, values.Unit, out var millimetres) ? millimetres
        : Complain(
            name,
            "This is not a length, or can be read in two ways. Write it like 44.45, 1250, 1 3/4 or 38 mm."
        );

    public double Number(string name) => OptionalNumber(name) ?? Missing(name, 1);

    public double? OptionalNumber(string name) =>
        Text(name) is not { Length: > 0 } text ? null
        : LengthText.TryReadDegrees(text, out var number) ? number
        : Complain(name, "This is not a number, or can be read in two ways. Write it like 45, 22.5 or 1250.");

    public T Choice<T>(string name, IReadOnlyList<(string Word, T Value)> words)
    {
        ArgumentNullException.ThrowIfNull(words);
        var typed = Text(name);
        foreach (var (word, value) in words)
        {
            if (word == typed)
            {
                return value;
            }
        }

        Errors.Add(name, "Choose one of the list.");
        return words[0].Value;
    }

    /// <summary>A name for the paper; the field's start where it is empty.</summary>
    public string Name(string name)
    {
        var text = Text(name);
        if (text is not { Length: > 0 })
        {
            return fields[name].Start;
        }

        Errors.AddIf(text.Length > LongestName, name, $"A name has at most {LongestName} characters.");
        Errors.AddIf(text.Any(char.IsControl), name, "A name is one line of plain text.");
        return text;
    }

    public string Text(string name) => (values[name] ?? "").Trim();

    /// <summary>What went in, as an explanation lists it.</summary>
    public IReadOnlyList<ExplanationInput> Inputs(params string[] names)
    {
        ArgumentNullException.ThrowIfNull(names);
        return
        [
            .. names
                .Select(n => fields[n])
                .Where(f => Text(f.Name).Length > 0)
                .Select(f => new ExplanationInput(f.Label, Said(f))),
        ];
    }

    private string Said(BenchField field) =>
        field.Kind switch
        {
            BenchFieldKind.Length when OptionalLength(field.Name) is { } mm => Say(mm),
            BenchFieldKind.Angle => Text(field.Name).TrimEnd('°') + "°",
            BenchFieldKind.Choice => field.Options?.FirstOrDefault(o => o.Word == Text(field.Name))?.Label
                ?? Text(field.Name),
            _ => field.Unit is { } unit ? $"{Text(field.Name)} {unit}" : Text(field.Name),
        };

    private double Missing(string name, double standIn)
    {
        if (Text(name).Length == 0)
        {
            Errors.Add(name, $"{fields[name].Label} is needed.");
        }

        return standIn;
    }

    private double? Complain(string name, string text)
    {
        Errors.Add(name, text);
        return null;
    }
}
