using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench.Sheets;

/// <summary>What a tube weighs and how stiff its section is.</summary>
public sealed class RoundTubeSheet : BenchSheet
{
    private const string Source = "strength of materials, circular ring of even wall";

    public override string Code => "round-tube";

    public override string Title => "Round tube";

    public override string Purpose => "What a tube weighs, and figures of its section to compare sizes.";

    public override IReadOnlyList<string> Steps { get; } =
    [
        "Choose a tube from the rack, or give outside diameter and wall.",
        "Give a length where you want the mass of a piece.",
        "The figures compare tubes. They never prove that one size may stand for the one a rule book prints.",
    ];

    public override string? PresetsLabel => "Tube from the rack";

    public override IReadOnlyList<BenchPreset> Presets { get; } = Benches.Rack("outsideDiameterMm", "wallMm");

    public override IReadOnlyList<(string, string)> Guide { get; } =
    [
        (
            "Second moment, moduli",
            "They say how stiff and how strong the section is in bending, and compare sizes of one steel. Twice the figure, half the bending."
        ),
        (
            "What they do not say",
            "Whether a rule book takes a tube. A rule book prints sizes; no computed section stands for one that it does not print."
        ),
    ];

    public override IReadOnlyList<BenchField> Fields { get; } =
    [
        new("outsideDiameterMm", "Outside diameter", BenchFieldKind.Length, "45"),
        new("wallMm", "Wall", BenchFieldKind.Length, "2.5"),
        new("lengthMm", "Length of the piece", BenchFieldKind.Length, "1000", IsOptional: true),
        new(
            "densityKgPerM3",
            "Density",
            BenchFieldKind.Number,
            "7850",
            "7850 is customary for carbon steel.",
            Unit: "kg/m³"
        ),
    ];

    protected override Outcome<BenchAnswer> Answer(BenchReader read)
    {
        ArgumentNullException.ThrowIfNull(read);
        var input = new RoundTubeInput(
            read.Length("outsideDiameterMm"),
            read.Length("wallMm"),
            read.Number("densityKgPerM3"),
            read.OptionalLength("lengthMm")
        );
        var inputs = read.Inputs("outsideDiameterMm", "wallMm", "lengthMm", "densityKgPerM3");
        return RoundTube
            .Calculate(input)
            .Then<BenchAnswer>(f =>
            {
                BenchResult Result(string label, FormattableString value, string rule, bool isMain = false)
                {
                    var said = FormattableString.Invariant(value);
                    return new(label, said, new Explanation(rule, inputs, Source, said, []), isMain);
                }

                var results = new List<BenchResult>();
                if (f.MassKg is { } mass)
                {
                    results.Add(
                        Result(
                            "Mass of the piece",
                            $"{mass:0.000} kg · {mass / 0.45359237:0.000} lb",
                            "mass per metre × length",
                            isMain: true
                        )
                    );
                }

                results.AddRange([
                    Result(
                        "Mass per metre",
                        $"{f.MassKgPerM:0.0000} kg/m · {f.MassKgPerM / 1.4881639436:0.0000} lb/ft",
                        "A × density",
                        isMain: true
                    ),
                    Result(
                        "Area of steel, A",
                        $"{f.AreaMm2:0.00} mm² · {f.AreaMm2 / 645.16:0.00000} in²",
                        "π (D² − d²) / 4, d = D − 2 t"
                    ),
                    Result(
                        "Second moment of area, I",
                        $"{f.SecondMomentMm4:0.0} mm⁴ · {f.SecondMomentMm4 / 416231.4256:0.00000} in⁴",
                        "π (D⁴ − d⁴) / 64"
                    ),
                    Result(
                        "Elastic section modulus, S",
                        $"{f.SectionModulusMm3:0.00} mm³ · {f.SectionModulusMm3 / 16387.064:0.00000} in³",
                        "2 I / D"
                    ),
                    Result(
                        "Plastic section modulus, Z",
                        $"{f.PlasticModulusMm3:0.00} mm³ · {f.PlasticModulusMm3 / 16387.064:0.00000} in³",
                        "(D³ − d³) / 6"
                    ),
                    Result(
                        "Radius of gyration",
                        $"{f.RadiusOfGyrationMm:0.000} mm · {f.RadiusOfGyrationMm / 25.4:0.0000} in",
                        "√(I / A)"
                    ),
                ]);
                return new BenchAnswer(results, [], Picture(input), [], [], "Tube");
            });
    }

    private static BenchPicture Picture(RoundTubeInput input)
    {
        var radius = input.OutsideDiameterMm / 2;
        var pad = radius * 0.5;
        return new BenchPicture(
            "The tube's section, to scale.",
            -radius - pad,
            -radius - pad,
            radius + (pad * 3),
            radius + pad
        )
            .Line("fill", Ring(radius), isClosed: true)
            .Line("hole", Ring(radius - input.WallMm), isClosed: true)
            .Across(
                -radius,
                radius,
                -radius - (pad * 0.6),
                FormattableString.Invariant($"{input.OutsideDiameterMm:0.##} mm")
            )
            .Across(radius - input.WallMm, radius, radius * 0.02, "")
            .Words(radius + (pad * 0.2), 0, FormattableString.Invariant($"wall {input.WallMm:0.###} mm"));
    }

    private static IEnumerable<BenchPoint> Ring(double radius) =>
        Enumerable
            .Range(0, 120)
            .Select(i => new BenchPoint(radius * Math.Cos(i * Math.PI / 60), radius * Math.Sin(i * Math.PI / 60)));
}
