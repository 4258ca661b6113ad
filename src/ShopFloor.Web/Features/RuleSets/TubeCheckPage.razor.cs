using Microsoft.AspNetCore.Components;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;
using ShopFloor.Domain.TubeCheck;
using ShopFloor.Web.Features.Quotes;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.RuleSets;

/// <summary>Holds a tube against one rule set.</summary>
public partial class TubeCheckPage(ReadRuleSets read, CheckTube check)
{
    private const string Unknown = "unknown";

    private static readonly Choice<string>.Option[] Units = [new("mm", "Millimetres"), new("in", "Inches")];
    private static readonly Choice<string>.Option[] Makes =
    [
        new(Unknown, "Not known"),
        new("seamless", "Seamless"),
        new("welded", "Welded"),
    ];
    private static readonly Choice<string>.Option[] Insides =
    [
        new(Unknown, "Not looked at"),
        new("smooth", "Smooth"),
        new("wrinkled", "Wrinkled"),
    ];

    private TypedFields? typed;
    private RuleSetView? set;
    private IReadOnlyList<FieldError> errors = [];
    private TubeCheckView? result;
    private TubeUnderCheck? checkedTube;
    private string? figure;
    private string unit = "mm";
    private string make = Unknown;
    private string inside = Unknown;
    private string? grade;
    private string? certificate;
    private decimal? diameter;
    private decimal? wall;
    private decimal? measuredDiameter;
    private decimal? measuredWall;
    private decimal? diameterTolerance;
    private decimal? wallTolerance;
    private decimal? yieldStrength;
    private decimal? tensileStrength;
    private decimal? carbon;
    private decimal? manganese;
    private decimal? others;
    private decimal? radius;
    private decimal? major;
    private decimal? minor;

    [Parameter]
    public string Code { get; set; } = "";

    private IReadOnlyList<RuleFigure> Sizes => [.. set!.Figures.Where(f => f.Kind == FigureKind.SizeAlternatives)];

    /// <summary>The version that a job was built to; without it the newest.</summary>
    [SupplyParameterFromQuery]
    public int? Version { get; set; }

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.OneAsync(Code, Version, Actor, Closing);
        set = outcome.IsSuccess ? outcome.Value : null;
        figure ??= set?.Figures.FirstOrDefault(f => f.Kind == FigureKind.SizeAlternatives)?.Code;
        return outcome.Failure;
    }

    private async Task CheckAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        (result, errors) = (null, []);
        var missing = new FieldErrors();
        var tube = new TubeUnderCheck(
            figure ?? "",
            new TubeSize(
                Needed(diameter, "ordered.diameter", "The outside diameter", missing),
                Needed(wall, "ordered.wall", "The wall", missing),
                unit
            ),
            IsMeasured
                ? new MeasuredTube(
                    Needed(measuredDiameter, "measured.diameter", "The measured diameter", missing),
                    Needed(measuredWall, "measured.wall", "The measured wall", missing),
                    Needed(diameterTolerance, "measured.diameterTolerance", "The tolerance", missing),
                    Needed(wallTolerance, "measured.wallTolerance", "The tolerance", missing)
                )
                : null,
            new TubeMaterial(
                make switch
                {
                    "seamless" => TubeMake.Seamless,
                    "welded" => TubeMake.Welded,
                    _ => null,
                },
                grade,
                certificate,
                yieldStrength,
                tensileStrength,
                carbon,
                manganese,
                others
            ),
            IsBent
                ?
                [
                    new CheckedBend(
                        Needed(radius, "bends[0].centrelineRadius", "The centreline radius", missing),
                        major,
                        minor,
                        inside == Unknown ? null : inside == "wrinkled"
                    ),
                ]
                : []
        );
        if (missing.Any)
        {
            Refused(missing.ToFailure());
        }
        else if ((await check.RunAsync(Code, set!.Version, tube, Actor, Closing)).TryGet(out var view, out var failure))
        {
            (result, checkedTube) = (view, tube);
        }
        else
        {
            Refused(failure);
        }
    }

    private string Back => Version is null ? $"rule-sets/{Code}" : $"rule-sets/{Code}?version={Version}";

    private bool IsMeasured => (measuredDiameter ?? measuredWall ?? diameterTolerance ?? wallTolerance) is not null;

    private bool IsBent => (radius ?? major ?? minor) is not null || inside != Unknown;

    private void Refused(Failure failure)
    {
        if (failure is Failure.Invalid invalid)
        {
            // Said at the fields.
            errors = invalid.Errors;
        }
        else
        {
            Accepted<Done>(failure, out _);
        }
    }

    private static decimal Needed(decimal? value, string path, string label, FieldErrors missing)
    {
        missing.AddIf(value is null, path, $"{label} is needed.");
        return value ?? 0;
    }

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;

    private string NameOf(TubeUnderCheck tube) => Sizes.First(s => s.Code == tube.FigureCode).What;

    private static string WholeOf(TubeVerdict verdict) =>
        verdict switch
        {
            TubeVerdict.Meets => "Everything asked here is as printed",
            TubeVerdict.DoesNotMeet => "Not as printed",
            _ => "Not shown yet",
        };

    private static string GlyphOf(TubeVerdict verdict) =>
        verdict switch
        {
            TubeVerdict.Meets => "✓",
            TubeVerdict.DoesNotMeet => "✕",
            TubeVerdict.NotShown => "?",
            _ => "–",
        };
}
