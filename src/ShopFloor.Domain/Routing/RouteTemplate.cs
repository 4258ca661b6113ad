using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>How a kit is built, as data: its operations, what each must wait for, and which access ways each needs, closes and opens.</summary>
/// <remarks>A document that is never edited in place: a change is a new <see cref="Edition"/>, and a job keeps the one it was opened with.</remarks>
public sealed record RouteTemplate
{
    public const int MostOperations = 200;
    public const int MostWays = 64;

    /// <summary>Most pieces of equipment that one operation keeps for itself.</summary>
    public const int MostEquipment = 8;

    /// <summary>Most pictures of one operation's instruction.</summary>
    public const int MostPictures = 12;

    /// <summary>Stable name, e.g. <c>six-point-weld-in</c>.</summary>
    public required string Code { get; init; }

    /// <summary>1 or more; grows with each change.</summary>
    public required int Edition { get; init; }

    public required string Title { get; init; }

    /// <summary>Where its order and its quantities come from, e.g. "common practice, no source".</summary>
    public required string Source { get; init; }

    /// <summary>Kits that are built by it.</summary>
    public required IReadOnlyList<string> Kits { get; init; }

    /// <summary>The answer taken for a condition question that the scope leaves out.</summary>
    public IReadOnlyDictionary<string, string> AnswerDefaults { get; init; } = new Dictionary<string, string>();

    public IReadOnlyList<AccessWay> Ways { get; init; } = [];

    /// <summary>In route order, which is the order shown; what must wait for what is in <see cref="RouteOperation.After"/>.</summary>
    public required IReadOnlyList<RouteOperation> Operations { get; init; }
}

/// <summary>An opening or a freedom of movement, e.g. "the hoop can be rocked forward".</summary>
public sealed record AccessWay
{
    public required string Code { get; init; }

    /// <summary>Reads after "needs": "the passenger door opening clear".</summary>
    public required string Title { get; init; }

    public bool OpenAtStart { get; init; }
}

/// <summary>One step of a route.</summary>
public sealed record RouteOperation
{
    /// <summary>Its number on the route: 10, 20, 30 …</summary>
    public required string Code { get; init; }

    public required string Title { get; init; }

    public required Phase Phase { get; init; }

    /// <summary>Skill code, e.g. <c>welder</c>.</summary>
    public required string Skill { get; init; }

    /// <summary>Where in the shop: <c>bay</c>, <c>bench</c>, <c>paint</c>, <c>office</c>.</summary>
    public required string Place { get; init; }

    /// <summary>Operations that must be done before.</summary>
    public IReadOnlyList<string> After { get; init; } = [];

    public IReadOnlyList<RouteGate> Gates { get; init; } = [];

    public IReadOnlyList<string> NeedsOpen { get; init; } = [];

    /// <summary>Ways that are closed from the moment this operation starts.</summary>
    public IReadOnlyList<string> Closes { get; init; } = [];

    /// <summary>Ways that are open from the moment this operation is finished.</summary>
    public IReadOnlyList<string> Opens { get; init; } = [];

    /// <summary>Welding, tacking, grinding or cutting: sparks are thrown.</summary>
    public bool HotWork { get; init; }

    /// <summary>Paint, primer, thinner or another solvent is used: no spark may be near.</summary>
    public bool PaintOrSolvent { get; init; }

    /// <summary>Minutes that must pass after it is finished before an operation gated by its cure may start; 0 for none.</summary>
    public int CureMinutes { get; init; }

    /// <summary>It is not left overnight: begun and finished on the same day. Paint is so anyway.</summary>
    public bool InOneDay { get; init; }

    /// <summary>Codes of what the shop has only one of and the operation keeps for itself, such as a tube bender.</summary>
    public IReadOnlyList<string> Equipment { get; init; } = [];

    public IReadOnlyList<RouteWork> Work { get; init; } = [];

    /// <summary>Takes the work that a sale without a kit names; see <see cref="BenchItem"/>.</summary>
    public bool TakesBenchWork { get; init; }

    /// <summary>What to do, in a sentence or two.</summary>
    public string Instruction { get; init; } = "";

    /// <summary>Pictures that go with it, in the order shown.</summary>
    public IReadOnlyList<InstructionPicture> Pictures { get; init; } = [];

    /// <summary>Calculators whose figures belong to it, by their codes in <see cref="OperationFigures"/>.</summary>
    public IReadOnlyList<string> Figures { get; init; } = [];

    /// <summary>What can hurt somebody here, and who decides; null where nothing special does.</summary>
    public string? Caution { get; init; }

    /// <summary>When the operation is on the route at all; null for always.</summary>
    public RouteCondition? When { get; init; }
}

/// <summary>What an operation must wait for besides earlier operations.</summary>
public enum GateKind
{
    /// <summary>An earlier operation is not done.</summary>
    Operation,

    /// <summary>The customer's authorisation to cut and weld is signed.</summary>
    Authorisation,

    /// <summary>A part that the customer brings has arrived; met where the customer brings none of that code.</summary>
    CustomerPart,

    /// <summary>The cure minutes of the named operation have passed by the server's clock.</summary>
    Cure,

    /// <summary>All hold lines of the named operation are passed.</summary>
    HoldPoint,

    /// <summary>The high-voltage system was isolated by a qualified person.</summary>
    Isolation,

    /// <summary>An access way that it needs is closed.</summary>
    AccessWay,

    /// <summary>The deposit is paid, where the job waits for it. Not written in routes: it stands before the first operations.</summary>
    Deposit,

    /// <summary>A change order waits for the customer's answer. Not written in routes: an offered change names the operations it holds.</summary>
    ChangeOrder,

    /// <summary>Material or parts from a supplier are reserved in the shop or have arrived.</summary>
    Stock,

    /// <summary>Work that was sent out (coating, bending) has come back.</summary>
    SentOut,

    /// <summary>A qualified person is present and recorded as such.</summary>
    QualifiedPerson,

    /// <summary>A second person, other than the one who works, is present.</summary>
    SecondPerson,

    /// <summary>The owner stopped the job or some of its operations. Not written in routes.</summary>
    OwnerHold,

    /// <summary>A hot-work permit is open for its place. Not written in routes: it stands before every hot operation.</summary>
    Permit,

    /// <summary>No hot-work permit or fire watch is open in its place. Not written in routes: it stands before paint and solvent.</summary>
    FireWatch,

    /// <summary>No paint or solvent is in work in its place. Not written in routes: it stands before hot work.</summary>
    Fumes,
}

public sealed record RouteGate
{
    public required GateKind Kind { get; init; }

    /// <summary>For <see cref="GateKind.Cure"/> and <see cref="GateKind.HoldPoint"/>: which operation's.</summary>
    public string? Operation { get; init; }

    /// <summary>For <see cref="GateKind.CustomerPart"/>: the part's code, e.g. <c>door-panels</c>; for <see cref="GateKind.Stock"/> and <see cref="GateKind.SentOut"/> the code under which it is recorded on the job.</summary>
    public string? Part { get; init; }

    public RouteCondition? When { get; init; }
}

/// <summary>So many units of a labour standard.</summary>
public sealed record RouteWork
{
    /// <summary>Labour standard of the price book, e.g. <c>weld-tube-mm</c>.</summary>
    public required string Standard { get; init; }

    /// <summary>Units of that standard, over 0; for one door where <see cref="PerDoor"/> is set.</summary>
    public required decimal Quantity { get; init; }

    /// <summary>Counted once for each door with a bar (of a hinge option named in <see cref="When"/>, if it names any).</summary>
    public bool PerDoor { get; init; }

    /// <summary>Whose rate applies; null for the operation's own skill.</summary>
    public string? Skill { get; init; }

    public RouteCondition? When { get; init; }
}
