using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>How an edition of a route template stands.</summary>
public enum RouteEditionState
{
    /// <summary>Being written; no job uses it.</summary>
    Draft,

    /// <summary>Put in force; the newest of these is used for new jobs, the older ones by the jobs that were opened with them.</summary>
    InForce,
}

/// <summary>One edition of a route template as the shop keeps it: written as a draft, checked, put in force, and from then on never changed.</summary>
/// <remarks>A draft may hold what <see cref="RouteTemplateCheck"/> would refuse; only putting it in force asks the check.</remarks>
public sealed class RouteEdition : IVersioned
{
    private RouteEdition() { }

    public RouteEditionId Id { get; private set; }
    public long Version { get; private set; }
    public string TemplateCode { get; private set; } = "";

    /// <summary>From 1; unique with the template's code.</summary>
    public int Edition { get; private set; }
    public RouteEditionState State { get; private set; }

    /// <summary>The edition that the draft began from; null for one that was shipped with the program.</summary>
    public int? FromEdition { get; private set; }
    public RouteTemplate Template { get; private set; } = null!;
    public DateTimeOffset BegunAt { get; private set; }
    public PersonId? BegunBy { get; private set; }
    public DateTimeOffset ChangedAt { get; private set; }
    public PersonId? ChangedBy { get; private set; }
    public DateTimeOffset? AdoptedAt { get; private set; }

    /// <summary>Null where the program itself did it.</summary>
    public PersonId? AdoptedBy { get; private set; }

    /// <summary>A template that came with the program, in force from the start.</summary>
    public static RouteEdition Shipped(RouteEditionId id, RouteTemplate template, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(template);
        return new RouteEdition
        {
            Id = id,
            TemplateCode = template.Code,
            Edition = template.Edition,
            Template = template,
            State = RouteEditionState.InForce,
            BegunAt = now,
            ChangedAt = now,
            AdoptedAt = now,
        };
    }

    /// <summary>A working copy that will be the given edition.</summary>
    public static RouteEdition Begin(
        RouteEditionId id,
        RouteTemplate from,
        int edition,
        DateTimeOffset now,
        PersonId? by
    )
    {
        ArgumentNullException.ThrowIfNull(from);
        return new RouteEdition
        {
            Id = id,
            TemplateCode = from.Code,
            Edition = edition,
            FromEdition = from.Edition,
            Template = @from with { Edition = edition },
            BegunAt = now,
            BegunBy = by,
            ChangedAt = now,
            ChangedBy = by,
        };
    }

    /// <summary>Takes a changed document in the place of what is there; code and edition stay.</summary>
    public Outcome<Done> Change(RouteTemplate template, DateTimeOffset now, PersonId? by)
    {
        ArgumentNullException.ThrowIfNull(template);
        if (Adopted() is { } refused)
        {
            return refused;
        }

        if (
            template.Operations.Count > RouteTemplate.MostOperations
            || template.Ways.Count > RouteTemplate.MostWays
            || template.Kits.Count > RouteTemplate.MostOperations
        )
        {
            return Failure.Field(
                "operations",
                $"A route has at most {RouteTemplate.MostOperations} operations and {RouteTemplate.MostWays} access ways."
            );
        }

        Template = template with { Code = TemplateCode, Edition = Edition };
        ChangedAt = now;
        ChangedBy = by;
        return Outcome.Ok;
    }

    /// <summary>New jobs use it from now on. Refused where the check finds something; the problems of the rest of the shop's data are handed in.</summary>
    public Outcome<Done> PutInForce(IReadOnlyList<FieldError> problems, DateTimeOffset now, PersonId? by)
    {
        if (Adopted() is { } refused)
        {
            return refused;
        }

        if (problems.Count > 0)
        {
            return new Failure.Invalid(problems);
        }

        State = RouteEditionState.InForce;
        AdoptedAt = now;
        AdoptedBy = by;
        return Outcome.Ok;
    }

    private Failure? Adopted() =>
        State == RouteEditionState.InForce
            ? Failure.Because(
                "inForce",
                $"Edition {Edition} of {TemplateCode} is in force and never edited. Begin a draft from it."
            )
            : null;
}
