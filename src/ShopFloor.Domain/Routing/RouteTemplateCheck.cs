using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Routing;

/// <summary>Finds what is wrong with a route template before a car is built by it.</summary>
public static class RouteTemplateCheck
{
    /// <summary>Each problem with the path of its field and a sentence; empty when the template can be used.</summary>
    public static IReadOnlyList<FieldError> Problems(RouteTemplate template)
    {
        var errors = new FieldErrors();
        TextRules.Required(template.Code, "code", "The template's code", TextRules.Code, errors);
        TextRules.Required(template.Title, "title", "The template's title", TextRules.ShortText, errors);
        errors.AddIf(template.Edition < 1, "edition", $"Edition {template.Edition} is under 1; count from 1.");
        errors.AddIf(template.Kits.Count == 0, "kits", "Name at least one kit that is built by this route.");
        errors.AddIf(
            template.Operations.Count is 0 or > RouteTemplate.MostOperations,
            "operations",
            $"The route has {template.Operations.Count} operations; 1 to {RouteTemplate.MostOperations} are possible."
        );
        errors.AddIf(
            template.Ways.Count > RouteTemplate.MostWays,
            "ways",
            $"The route has {template.Ways.Count} access ways; at most {RouteTemplate.MostWays} are possible."
        );
        Duplicates(template.Ways.Select(w => w.Code), "ways", "access way", errors);
        Duplicates(template.Operations.Select(o => o.Code), "operations", "operation", errors);
        var operations = template.Operations.Select(o => o.Code).ToHashSet(StringComparer.Ordinal);
        var ways = template.Ways.Select(w => w.Code).ToHashSet(StringComparer.Ordinal);
        for (var i = 0; i < template.Operations.Count; i++)
        {
            Operation(template.Operations[i], $"operations[{i}]", operations, ways, errors);
        }

        if (!errors.Any)
        {
            Order(template, errors);
        }

        return errors.Any ? ((Failure.Invalid)errors.ToFailure()).Errors : [];
    }

    /// <summary>The check's view of the whole template, every operation on it.</summary>
    public static SequencePlan PlanOf(IReadOnlyList<AccessWay> ways, IEnumerable<RouteOperation> operations) =>
        new(
            [.. ways.Where(w => w.OpenAtStart).Select(w => w.Code)],
            [.. operations.Select(o => new SequenceOperation(o.Code, [.. Before(o)], o.NeedsOpen, o.Closes, o.Opens))],
            []
        );

    /// <summary>Its predecessors, and the operation whose cure it waits for.</summary>
    private static IEnumerable<string> Before(RouteOperation operation) =>
        operation
            .After.Concat(operation.Gates.Where(g => g.Kind == GateKind.Cure).Select(g => g.Operation!))
            .Distinct(StringComparer.Ordinal);

    private static void Operation(
        RouteOperation operation,
        string path,
        HashSet<string> operations,
        HashSet<string> ways,
        FieldErrors errors
    )
    {
        TextRules.Required(operation.Code, path + ".code", "The operation's number", TextRules.Code, errors);
        TextRules.Required(operation.Title, path + ".title", "The operation's title", TextRules.ShortText, errors);
        TextRules.Required(operation.Skill, path + ".skill", $"The skill for {operation.Code}", TextRules.Code, errors);
        TextRules.Required(operation.Place, path + ".place", $"The place of {operation.Code}", TextRules.Code, errors);
        TextRules.Optional(operation.Instruction, path + ".instruction", "The instruction", TextRules.Note, errors);
        TextRules.Optional(operation.Caution, path + ".caution", "The caution", TextRules.Note, errors);
        errors.AddIf(
            operation.CureMinutes is < 0 or > 60 * 24 * 30,
            path + ".cureMinutes",
            $"{operation.CureMinutes} minutes of cure are not between 0 and 30 days."
        );
        errors.AddIf(
            operation.HotWork && string.IsNullOrWhiteSpace(operation.Caution),
            path + ".caution",
            $"{operation.Code} is hot work and needs a caution."
        );
        errors.AddIf(
            operation.Equipment.Count > RouteTemplate.MostEquipment,
            path + ".equipment",
            $"{operation.Code} keeps {operation.Equipment.Count} pieces of equipment for itself; at most {RouteTemplate.MostEquipment} are possible."
        );
        foreach (var (i, equipment) in operation.Equipment.Index())
        {
            TextRules.Required(equipment, $"{path}.equipment[{i}]", "The equipment", TextRules.Code, errors);
        }

        foreach (var (i, figure) in operation.Figures.Index())
        {
            errors.AddIf(
                !OperationFigures.All.ContainsKey(figure),
                $"{path}.figures[{i}]",
                $"{operation.Code} names the figures '{figure}', which no calculator gives; there are: {string.Join(", ", OperationFigures.All.Keys)}."
            );
        }

        errors.AddIf(
            operation.Pictures.Count > RouteTemplate.MostPictures,
            path + ".pictures",
            $"{operation.Code} shows {operation.Pictures.Count} pictures; at most {RouteTemplate.MostPictures} are possible."
        );
        foreach (var (i, picture) in operation.Pictures.Index())
        {
            TextRules.Required(
                picture.Caption,
                $"{path}.pictures[{i}].caption",
                $"What picture {i + 1} of {operation.Code} shows",
                TextRules.ShortText,
                errors
            );
        }

        Known(operation.After, path + ".after", operation.Code, "operation", operations, errors);
        Known(operation.NeedsOpen, path + ".needsOpen", operation.Code, "access way", ways, errors);
        Known(operation.Closes, path + ".closes", operation.Code, "access way", ways, errors);
        Known(operation.Opens, path + ".opens", operation.Code, "access way", ways, errors);
        for (var i = 0; i < operation.Gates.Count; i++)
        {
            Gate(operation.Gates[i], $"{path}.gates[{i}]", operation.Code, operations, errors);
        }

        for (var i = 0; i < operation.Work.Count; i++)
        {
            var work = operation.Work[i];
            TextRules.Required(work.Standard, $"{path}.work[{i}].standard", "The standard", TextRules.Code, errors);
            errors.AddIf(
                work.Quantity is <= 0 or > 1_000_000,
                $"{path}.work[{i}].quantity",
                $"{work.Quantity} units of {work.Standard} are not over 0 and at most 1,000,000."
            );
        }
    }

    private static void Gate(
        RouteGate gate,
        string path,
        string operation,
        HashSet<string> operations,
        FieldErrors errors
    )
    {
        switch (gate.Kind)
        {
            case GateKind.Cure or GateKind.HoldPoint:
                Known(gate.Operation is null ? [] : [gate.Operation], path, operation, "operation", operations, errors);
                errors.AddIf(
                    gate.Operation is null,
                    path + ".operation",
                    $"The {gate.Kind} gate of {operation} does not say of which operation."
                );
                break;
            case GateKind.CustomerPart or GateKind.Stock or GateKind.SentOut:
                TextRules.Required(gate.Part, path + ".part", "What the gate waits for", TextRules.Code, errors);
                break;
            case GateKind.Operation
            or GateKind.AccessWay
            or GateKind.Deposit
            or GateKind.ChangeOrder
            or GateKind.OwnerHold
            or GateKind.Permit
            or GateKind.FireWatch
            or GateKind.Fumes:
                errors.Add(
                    path + ".kind",
                    $"{operation}: earlier operations belong in 'after', access ways in 'needsOpen'; deposits, change orders and the owner's hold belong to a job, not to a route; permits, fire watches and fumes follow from 'hotWork' and 'paintOrSolvent'."
                );
                break;
            case GateKind.Authorisation or GateKind.Isolation or GateKind.QualifiedPerson or GateKind.SecondPerson:
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(gate), gate.Kind, "Unknown kind of gate.");
        }
    }

    private static void Order(RouteTemplate template, FieldErrors errors)
    {
        var result = SequenceCheck.Run(PlanOf(template.Ways, template.Operations));
        if (result.Cycle.Count > 0)
        {
            errors.Add(
                "operations",
                $"These operations wait for each other in a circle: {string.Join(" → ", result.Cycle)}. Take one 'after' away."
            );
        }
        else if (result.DeadEnd is { } end)
        {
            errors.Add(
                "operations",
                $"After {string.Join(", ", end.After)} nothing more can be done: "
                    + string.Join(" ", end.Reasons.Select(r => r.Text))
            );
        }
        else if (result.CanFinish is null)
        {
            errors.Add("operations", "It could not be proven that this route can be finished; make it simpler.");
        }
    }

    private static void Duplicates(IEnumerable<string> codes, string path, string what, FieldErrors errors)
    {
        foreach (var group in codes.GroupBy(c => c, StringComparer.Ordinal).Where(g => g.Count() > 1))
        {
            errors.Add(path, $"There are {group.Count()} {what}s called {group.Key}; each needs its own code.");
        }
    }

    private static void Known(
        IReadOnlyList<string> codes,
        string path,
        string operation,
        string what,
        HashSet<string> known,
        FieldErrors errors
    )
    {
        foreach (var code in codes.Where(c => !known.Contains(c)))
        {
            errors.Add(path, $"{operation} names the {what} {code}, which this route does not have.");
        }
    }
}
