using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Web.Features.RuleSets;

/// <summary>A rule set while it is typed: anything may be there, the check comes with saving.</summary>
public sealed class RuleSetEdit
{
    private readonly RuleSetView from;

    public RuleSetEdit(RuleSetView from)
    {
        ArgumentNullException.ThrowIfNull(from);
        this.from = from;
        (Publisher, Title, Edition, Caution) = (from.Publisher, from.Title, from.Edition, from.Caution);
        DateRead = from.DateRead;
        Figures = [.. from.Figures.Select(f => new FigureEdit(f))];
    }

    public string? Publisher { get; set; }
    public string? Title { get; set; }
    public string? Edition { get; set; }
    public DateOnly? DateRead { get; set; }
    public string? Caution { get; set; }
    public List<FigureEdit> Figures { get; }

    public RuleSetDocument ToDocument() =>
        new(
            RuleSet.CurrentSchema,
            from.Code,
            from.Version,
            Publisher ?? "",
            Title ?? "",
            Edition ?? "",
            DateRead ?? default,
            Caution ?? "",
            [.. Figures.Select(f => f.ToFigure())],
            from.CopyOf,
            from.CopyOfVersion
        );
}

/// <summary>One figure while it is typed.</summary>
public sealed class FigureEdit
{
    /// <summary>A figure of the shop's own.</summary>
    public FigureEdit() => Mark = FigureMark.CommonPractice;

    public FigureEdit(RuleFigure from)
    {
        ArgumentNullException.ThrowIfNull(from);
        (Code, Clause, What, Printed, Caution) = (from.Code, from.Clause, from.What, from.Printed, from.Caution);
        (Kind, Mark, Unit, Lower, Upper) = (from.Kind, from.Mark, from.Unit, from.Lower, from.Upper);
        IsKept = true;
        Sizes =
        [
            .. (from.Sizes ?? []).Select(s => new SizeEdit
            {
                Diameter = s.Diameter,
                Wall = s.Wall,
                Unit = s.Unit,
            }),
        ];
    }

    /// <summary>Its code is known to plans and stays as it is.</summary>
    public bool IsKept { get; }

    public string? Code { get; set; }
    public string? Clause { get; set; }
    public string? What { get; set; }
    public string? Printed { get; set; }
    public FigureKind Kind { get; set; } = FigureKind.Distance;
    public FigureMark Mark { get; set; }
    public string? Unit { get; set; }
    public decimal? Lower { get; set; }
    public decimal? Upper { get; set; }
    public string? Caution { get; set; }
    public List<SizeEdit> Sizes { get; } = [];

    public bool HasSizes => Kind == FigureKind.SizeAlternatives;

    public bool HasLimits => Kind is not (FigureKind.SizeAlternatives or FigureKind.YesNo);

    /// <summary>Fields that the kind does not have are not on the screen and not in the figure.</summary>
    public RuleFigure ToFigure() =>
        new(
            Code ?? "",
            Clause ?? "",
            What ?? "",
            Printed ?? "",
            Kind,
            Mark,
            HasLimits && !string.IsNullOrWhiteSpace(Unit) ? Unit : null,
            HasLimits ? Lower : null,
            HasLimits ? Upper : null,
            HasSizes ? [.. Sizes.Select(s => new TubeSize(s.Diameter ?? 0, s.Wall ?? 0, s.Unit))] : null,
            string.IsNullOrWhiteSpace(Caution) ? null : Caution
        );
}

/// <summary>One printed tube size while it is typed.</summary>
public sealed class SizeEdit
{
    public decimal? Diameter { get; set; }
    public decimal? Wall { get; set; }
    public string Unit { get; set; } = "mm";
}
