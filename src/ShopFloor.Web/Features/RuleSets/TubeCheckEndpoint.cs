using ShopFloor.Application.Common;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;
using ShopFloor.Domain.RuleSets;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;
using PrintedSize = ShopFloor.Domain.RuleSets.TubeSize;

namespace ShopFloor.Web.Features.RuleSets;

/// <summary>Holds a tube against a rule set; nothing is stored.</summary>
public sealed class TubeCheckEndpoint : IApiEndpoints
{
    /// <param name="RuleSet">Code of the rule set.</param>
    /// <param name="Member">Code of its figure of tube sizes, e.g. <c>main-hoop-tube</c>.</param>
    /// <param name="Unit"><c>mm</c> or <c>in</c>: in which diameter and wall are ordered.</param>
    public sealed record TubeCheckBody(
        string? RuleSet,
        string? Member,
        decimal? Diameter,
        decimal? Wall,
        string? Unit,
        TubeMake? Make,
        bool? Certificate,
        bool? MeetsComposition,
        decimal? YieldNPerMm2,
        decimal? TensileNPerMm2,
        decimal? MeasuredDiameterMm,
        decimal? MeasuredWallMm,
        decimal? DiameterToleranceMm,
        decimal? WallTolerancePercent,
        TubeBendBody? Bend
    );

    public sealed record TubeBendBody(decimal? CentrelineRadiusMm, decimal? MinorMm, decimal? MajorMm, bool? Smooth);

    public static void Map(RouteGroupBuilder api) =>
        api.MapPost("/calculators/tube-check", Check)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary(
                "A tube held against the sizes, material and bends that a rule set prints, metric and inch apart."
            );

    private static IResult Check(ApiCall call, Body<TubeCheckBody> body, RuleSetLibrary library)
    {
        var b = body.Value;
        var errors = new FieldErrors()
            .AddIf(b.RuleSet is null || library.Find(b.RuleSet) is null, "ruleSet", "There is no such rule set.")
            .AddIf(b.Member is null, "member", "Say which of its figures of tube sizes.")
            .AddIf(b.Diameter is null, "diameter", "The outside diameter is needed.")
            .AddIf(b.Wall is null, "wall", "The wall is needed.")
            .AddIf(b.Unit is not ("mm" or "in"), "unit", "The size is in mm or in.");
        if (errors.Any)
        {
            return errors.ToFailure().ToProblem();
        }

        var rules = library.Find(b.RuleSet!)!;
        var size = new PrintedSize(b.Diameter!.Value, b.Wall!.Value, b.Unit!);
        return TubeCheck
            .Check(
                rules,
                b.Member!,
                new OrderedTube(
                    size,
                    b.Make,
                    b.Certificate == true,
                    b.MeetsComposition,
                    b.YieldNPerMm2,
                    b.TensileNPerMm2
                ),
                new MeasuredTube(
                    b.MeasuredDiameterMm,
                    b.MeasuredWallMm,
                    b.DiameterToleranceMm ?? MeasuredTube.UsualDiameterToleranceMm,
                    b.WallTolerancePercent ?? MeasuredTube.UsualWallTolerancePercent
                ),
                b.Bend is { } bend
                    ? new MeasuredBend(bend.CentrelineRadiusMm, bend.MinorMm, bend.MajorMm, bend.Smooth)
                    : null
            )
            .ToHttp(findings => new
            {
                ruleSet = rules.Code,
                rules.Version,
                rules.Citation,
                RuleSet.Advice,
                findings,
                forInformation = Section(size),
            });
    }

    private static object? Section(PrintedSize size)
    {
        var inMm = size.Unit == "in" ? 25.4m : 1;
        return RoundTube
            .Calculate(new RoundTubeInput((double)(size.Diameter * inMm), (double)(size.Wall * inMm)))
            .TryGet(out var figures, out _)
            ? new { figures.SectionModulusMm3, figures.MassKgPerM }
            : null;
    }
}
