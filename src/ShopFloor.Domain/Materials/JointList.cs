using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Materials;

/// <summary>A joint of a list, as its data file holds it.</summary>
/// <param name="Door">Only where this door has a bar.</param>
/// <param name="HingeOptions">Only where the door's hinge option is one of these; empty for all.</param>
public sealed record ListedJoint(
    string Code,
    string What,
    string Operation,
    DoorSide? Door = null,
    IReadOnlyList<string>? HingeOptions = null
);

/// <summary>Which joints some kits have, and which kinds of material their papers must name.</summary>
/// <param name="Schema">Number of the file's layout; 1.</param>
/// <param name="Wanted">Kinds of which at least one piece is to be written down.</param>
public sealed record JointListDocument(
    int Schema,
    string Source,
    IReadOnlyList<string> Kits,
    IReadOnlyList<MaterialKind> Wanted,
    IReadOnlyList<ListedJoint> Joints
);

/// <summary>The checked list of joints for some kits.</summary>
public sealed class JointList
{
    public const int CurrentSchema = 1;

    private readonly JointListDocument document;

    private JointList(JointListDocument document) => this.document = document;

    public IReadOnlyList<MaterialKind> Wanted => document.Wanted;

    public bool IsFor(string kit) => document.Kits.Contains(kit, StringComparer.Ordinal);

    public static Outcome<JointList> From(JointListDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        var errors = new FieldErrors();
        errors
            .AddIf(document.Schema != CurrentSchema, "schema", $"The layout is {CurrentSchema}.")
            .AddIf(document.Kits.Count == 0, "kits", "Name at least one kit.")
            .AddIf(document.Joints.Count is 0 or > JobTrace.MostJoints, "joints", "There are 1 to 100 joints.")
            .AddIf(
                document.Joints.Select(j => j.Code).Distinct(StringComparer.Ordinal).Count() != document.Joints.Count,
                "joints",
                "A joint's code stands once."
            );
        foreach (var (joint, i) in document.Joints.Select((j, i) => (j, i)))
        {
            _ = TextRules.Required(joint.Code, $"joints[{i}].code", "The code", TextRules.Code, errors);
            _ = TextRules.Required(joint.What, $"joints[{i}].what", "The joint", TextRules.Name, errors);
        }

        return errors.Any ? errors.ToFailure() : new JointList(document);
    }

    /// <summary>The joints of a job: those whose operation is on its route and whose door has what they need.</summary>
    public IReadOnlyList<JointToWeld> For(JobScope scope, IReadOnlySet<string> operations)
    {
        ArgumentNullException.ThrowIfNull(scope);
        ArgumentNullException.ThrowIfNull(operations);
        return
        [
            .. document
                .Joints.Where(j => operations.Contains(j.Operation))
                .Where(j =>
                    j.Door is not { } door
                    || scope.Doors.Any(d =>
                        d.Door == door
                        && (j.HingeOptions is not { Count: > 0 } wanted || wanted.Contains(d.HingeOptionCode))
                    )
                )
                .Select(j => new JointToWeld(j.Code, j.What, j.Operation)),
        ];
    }
}
