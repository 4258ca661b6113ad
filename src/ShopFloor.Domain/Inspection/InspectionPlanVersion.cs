using System.Text.Json;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection;

/// <summary>One version of an inspection plan as the shop keeps it: written once as canonical JSON (RFC 8785) with its SHA-256, and never changed. A change is the next version.</summary>
public sealed class InspectionPlanVersion
{
    private InspectionPlan? plan;

    private InspectionPlanVersion() { }

    public InspectionPlanVersionId Id { get; private set; }

    public string PlanCode { get; private set; } = "";

    /// <summary>From 1; unique with the plan's code.</summary>
    public int Number { get; private set; }

    /// <summary>The canonical JSON of the document.</summary>
    public string Content { get; private set; } = "";

    /// <summary>SHA-256 of the UTF-8 bytes of <see cref="Content"/>.</summary>
    public string ContentHash { get; private set; } = "";

    /// <summary>Why it was changed; null for a plan that came with the program.</summary>
    public string? Note { get; private set; }

    public DateTimeOffset SavedAt { get; private set; }

    /// <summary>Null where the program itself did it.</summary>
    public PersonId? SavedBy { get; private set; }

    /// <summary>The checked plan that it holds.</summary>
    public InspectionPlan Plan => plan ??= InspectionPlan.From(Read()).Value;

    public static InspectionPlanVersion Save(
        InspectionPlanVersionId id,
        InspectionPlan plan,
        string? note,
        DateTimeOffset at,
        PersonId? by
    )
    {
        ArgumentNullException.ThrowIfNull(plan);
        var content = Canonical(plan.Document);
        return new InspectionPlanVersion
        {
            Id = id,
            PlanCode = plan.Code,
            Number = plan.Version,
            Content = content,
            ContentHash = CanonicalJson.Sha256(content),
            Note = note,
            SavedAt = at,
            SavedBy = by,
            plan = plan,
        };
    }

    /// <summary>A plan's document as it is hashed.</summary>
    public static string Canonical(InspectionPlanDocument document) =>
        CanonicalJson.Write(document, FrozenJson.Options);

    /// <summary>Whether the text is still the one that was saved.</summary>
    public bool IsWhole => CanonicalJson.Sha256(Content) == ContentHash;

    private InspectionPlanDocument Read() =>
        JsonSerializer.Deserialize<InspectionPlanDocument>(Content, FrozenJson.Options)
        ?? throw new JsonException("null");
}
