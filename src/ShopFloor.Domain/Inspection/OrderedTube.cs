using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection;

/// <summary>Which size of a tube is read.</summary>
public enum TubeMeasure
{
    Diameter,
    Wall,
}

/// <summary>A tube's size as it was ordered for one job.</summary>
/// <param name="DiameterMm">Outside diameter; over 0.</param>
/// <param name="WallMm">Wall; over 0 and under half the diameter.</param>
/// <param name="From">Where the size stands, e.g. the accepted quote's kit or a delivery note.</param>
public sealed record OrderedTube(decimal DiameterMm, decimal WallMm, string From)
{
    public const decimal LargestMm = 500;

    public decimal Of(TubeMeasure measure) => measure == TubeMeasure.Diameter ? DiameterMm : WallMm;

    /// <summary>A size that somebody typed.</summary>
    public static Outcome<OrderedTube> Read(decimal? diameterMm, decimal? wallMm, string? from)
    {
        var errors = new FieldErrors();
        var where = TextRules.Required(from, "from", "Where the size stands", TextRules.ShortText, errors);
        errors
            .AddIf(
                diameterMm is not (> 0 and <= LargestMm),
                "diameterMm",
                $"The outside diameter is over 0 and at most {LargestMm} mm."
            )
            .AddIf(
                wallMm is not > 0 || wallMm * 2 >= diameterMm,
                "wallMm",
                "The wall is over 0 and under half the diameter."
            );
        return errors.Any
            ? errors.ToFailure()
            : new OrderedTube(InspectionLine.Rounded(diameterMm!.Value), InspectionLine.Rounded(wallMm!.Value), where);
    }
}

/// <summary>Says that a line's limits go by the size ordered for the job.</summary>
/// <param name="Part">Code of the kit's part, e.g. <c>hoop</c>.</param>
/// <param name="Of">Diameter or wall.</param>
/// <param name="Under">How far under the ordered size still passes, in mm.</param>
/// <param name="Over">How far over it.</param>
public sealed record OrderedLimit(string Part, TubeMeasure Of, decimal Under, decimal Over)
{
    public const decimal MostMm = 10;

    /// <summary>"the ordered diameter of hoop, 0.3 mm under to 0.3 mm over".</summary>
    public string Words =>
        $"the ordered {(Of == TubeMeasure.Diameter ? "diameter" : "wall")} of {Part}, {InspectionLine.Text(Under)} mm under to {InspectionLine.Text(Over)} mm over";

    /// <summary>The line with limits round the ordered size; without limits where the size is not known.</summary>
    internal LineToCheck Settle(LineToCheck line, OrderedTube? tube)
    {
        if (tube is null)
        {
            return line with { Nominal = null, Lower = null, Upper = null, Ordered = this };
        }

        var size = tube.Of(Of);
        return line with
        {
            Nominal = size,
            Lower = Math.Max(0, size - Under),
            Upper = size + Over,
            Source = Cut(
                $"Ordered {InspectionLine.Text(tube.DiameterMm)} × {InspectionLine.Text(tube.WallMm)} mm ({tube.From}); {line.Source}"
            ),
            Ordered = this,
        };
    }

    private static string Cut(string text) => text.Length <= TextRules.Note ? text : text[..TextRules.Note];
}
