using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Web.Features.RouteTemplates;

/// <summary>A route template while it is being written on the page.</summary>
public sealed class RouteEdit
{
    private readonly RouteTemplate template;

    public RouteEdit(RouteTemplate template)
    {
        this.template = template;
        Title = template.Title;
        Source = template.Source;
        Kits = [.. template.Kits];
        Ways =
        [
            .. template.Ways.Select(w => new WayEdit
            {
                Code = w.Code,
                Title = w.Title,
                OpenAtStart = w.OpenAtStart,
            }),
        ];
        Operations = [.. template.Operations.Select(o => new OperationEdit(o))];
    }

    public string Title { get; set; }
    public string Source { get; set; }
    public HashSet<string> Kits { get; }
    public List<WayEdit> Ways { get; }
    public List<OperationEdit> Operations { get; }

    public RouteTemplate ToTemplate() =>
        template with
        {
            Title = Title.Trim(),
            Source = Source.Trim(),
            Kits = [.. Kits],
            Ways =
            [
                .. Ways.Select(w => new AccessWay
                {
                    Code = w.Code.Trim(),
                    Title = w.Title.Trim(),
                    OpenAtStart = w.OpenAtStart,
                }),
            ],
            Operations = [.. Operations.Select(o => o.ToOperation())],
        };
}

public sealed class WayEdit
{
    public string Code { get; set; } = "";
    public string Title { get; set; } = "";
    public bool OpenAtStart { get; set; }
}

public sealed class GateEdit
{
    public GateKind Kind { get; set; } = GateKind.CustomerPart;
    public string Operation { get; set; } = "";
    public string Part { get; set; } = "";
    public ConditionEdit When { get; init; } = new(null);

    public bool HasOperation => Kind is GateKind.Cure or GateKind.HoldPoint;

    public bool HasPart => Kind is GateKind.CustomerPart or GateKind.Stock or GateKind.SentOut;
}

public sealed class WorkEdit
{
    public string Standard { get; set; } = "";
    public decimal Quantity { get; set; } = 1;
    public bool PerDoor { get; set; }
    public string? Skill { get; set; }
    public ConditionEdit When { get; init; } = new(null);
}

public sealed class PictureEdit
{
    public required Guid Id { get; init; }
    public string Caption { get; set; } = "";
}

/// <summary>One operation while it is being written.</summary>
public sealed class OperationEdit
{
    private readonly RouteOperation operation;

    public OperationEdit(RouteOperation operation)
    {
        this.operation = operation;
        Code = operation.Code;
        Title = operation.Title;
        Phase = operation.Phase;
        Skill = operation.Skill;
        Place = operation.Place;
        After = [.. operation.After];
        NeedsOpen = [.. operation.NeedsOpen];
        Closes = [.. operation.Closes];
        Opens = [.. operation.Opens];
        Figures = [.. operation.Figures];
        HotWork = operation.HotWork;
        PaintOrSolvent = operation.PaintOrSolvent;
        CureMinutes = operation.CureMinutes;
        TakesBenchWork = operation.TakesBenchWork;
        InOneDay = operation.InOneDay;
        Equipment = string.Join(", ", operation.Equipment);
        Instruction = operation.Instruction;
        Caution = operation.Caution ?? "";
        Gates =
        [
            .. operation.Gates.Select(g => new GateEdit
            {
                Kind = g.Kind,
                Operation = g.Operation ?? "",
                Part = g.Part ?? "",
                When = new ConditionEdit(g.When),
            }),
        ];
        Work =
        [
            .. operation.Work.Select(w => new WorkEdit
            {
                Standard = w.Standard,
                Quantity = w.Quantity,
                PerDoor = w.PerDoor,
                Skill = w.Skill,
                When = new ConditionEdit(w.When),
            }),
        ];
        When = new ConditionEdit(operation.When);
        Pictures = [.. operation.Pictures.Select(p => new PictureEdit { Id = p.Id, Caption = p.Caption })];
    }

    public string Code { get; set; }
    public string Title { get; set; }
    public Phase Phase { get; set; }
    public string Skill { get; set; }
    public string Place { get; set; }
    public HashSet<string> After { get; }
    public HashSet<string> NeedsOpen { get; }
    public HashSet<string> Closes { get; }
    public HashSet<string> Opens { get; }
    public HashSet<string> Figures { get; }
    public List<GateEdit> Gates { get; }
    public List<WorkEdit> Work { get; }
    public List<PictureEdit> Pictures { get; }
    public bool HotWork { get; set; }
    public bool PaintOrSolvent { get; set; }
    public int CureMinutes { get; set; }
    public bool TakesBenchWork { get; set; }
    public bool InOneDay { get; set; }

    /// <summary>Codes with commas between.</summary>
    public string Equipment { get; set; }
    public string Instruction { get; set; }
    public string Caution { get; set; }

    /// <summary>On which jobs it is on the route.</summary>
    public ConditionEdit When { get; }

    public RouteOperation ToOperation() =>
        operation with
        {
            Code = Code.Trim(),
            Title = Title.Trim(),
            Phase = Phase,
            Skill = Skill,
            Place = Place,
            After = [.. After],
            NeedsOpen = [.. NeedsOpen],
            Closes = [.. Closes],
            Opens = [.. Opens],
            Figures = [.. Figures.Order(StringComparer.Ordinal)],
            HotWork = HotWork,
            PaintOrSolvent = PaintOrSolvent,
            CureMinutes = CureMinutes,
            TakesBenchWork = TakesBenchWork,
            InOneDay = InOneDay,
            Equipment =
            [
                .. Equipment
                    .Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
                    .Distinct(StringComparer.Ordinal),
            ],
            Instruction = Instruction.Trim(),
            Caution = Caution.Trim().Length == 0 ? null : Caution.Trim(),
            When = When.ToCondition(),
            Pictures = [.. Pictures.Select(p => new InstructionPicture { Id = p.Id, Caption = p.Caption.Trim() })],
            Gates =
            [
                .. Gates.Select(g => new RouteGate
                {
                    Kind = g.Kind,
                    Operation = g.HasOperation && g.Operation.Length > 0 ? g.Operation : null,
                    Part = g.HasPart && g.Part.Trim().Length > 0 ? g.Part.Trim() : null,
                    When = g.When.ToCondition(),
                }),
            ],
            Work =
            [
                .. Work.Select(w => new RouteWork
                {
                    Standard = w.Standard,
                    Quantity = w.Quantity,
                    PerDoor = w.PerDoor,
                    Skill = w.Skill,
                    When = w.When.ToCondition(),
                }),
            ],
        };
}
