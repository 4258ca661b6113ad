using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Changes;

/// <summary>Turns a request into a change order's terms, with a sentence for everything that cannot be taken.</summary>
internal static class ChangeReader
{
    private const int MostCodes = 40;
    private const int LongestCure = 7 * 24 * 60;

    internal static ChangeTerms Read(
        ChangeRequest request,
        Job job,
        PriceBook book,
        string number,
        DateOnly today,
        FieldErrors errors
    )
    {
        var operations = Operations(request, errors);
        Promise(request, today, errors);
        var holds = QuoteExtrasReader.Codes(request.Holds, "holds", "The operation", MostCodes, errors);
        foreach (var (i, code) in holds.Index())
        {
            var operation = job.Operation(code);
            errors.AddIf(operation is null, $"holds[{i}]", $"There is no operation {code} on this job.");
            errors.AddIf(
                operation is { IsOver: true },
                $"holds[{i}]",
                $"{code} {operation?.Title} is done already; it cannot wait for an answer."
            );
        }

        return new ChangeTerms(
            request.ConditionFound is null ? ChangeBasis.FurtherWork : ChangeBasis.ConditionFound,
            TextRules.Required(request.Reason, "reason", "The reason", TextRules.Note, errors),
            [.. (request.PhotoIds ?? []).Distinct().Select(PhotoId.From)],
            Work(request, errors),
            operations,
            Lines(request, job, operations, number, errors),
            new Discount(request.DiscountPercent, request.DiscountMinor),
            QuoteExtrasReader.Read(
                new QuoteRequest(
                    null,
                    null,
                    null,
                    Lines: request.Lines,
                    OutsideWorkCodes: request.OutsideWorkCodes,
                    DiscountLineCodes: request.DiscountLineCodes
                ),
                book,
                errors
            ),
            new Dictionary<string, string>(),
            new Dictionary<string, string>(),
            request.PromiseDays,
            request.PromiseOn,
            holds,
            false
        );
    }

    private static void Promise(ChangeRequest request, DateOnly today, FieldErrors errors)
    {
        errors.AddIf(
            request.PromiseDays is < -ChangeTerms.MostDays or > ChangeTerms.MostDays,
            "promiseDays",
            $"The promise moves by at most {ChangeTerms.MostDays} days either way."
        );
        errors.AddIf(
            request is { PromiseDays: not null, PromiseOn: not null },
            "promiseOn",
            "Give the days or the new day, not both."
        );
        errors.AddIf(
            request.PromiseOn is { } day && (day < today || day > today.AddDays(QuoteRequestReader.MostPromiseDays)),
            "promiseOn",
            "Promise today or a day within the next five years."
        );
    }

    private static List<ChangeWork> Work(ChangeRequest request, FieldErrors errors)
    {
        var given = request.Work ?? [];
        errors.AddIf(
            given.Count > PriceExtras.MostLines,
            "work",
            $"At most {PriceExtras.MostLines} pieces of work are taken."
        );
        return
        [
            .. given
                .Take(PriceExtras.MostLines)
                .Select(
                    (w, i) =>
                        new ChangeWork(
                            TextRules.Required(
                                w?.Operation,
                                $"work[{i}].operation",
                                "The operation",
                                TextRules.Code,
                                errors
                            ),
                            TextRules.Required(w?.Skill, $"work[{i}].skill", "The skill", TextRules.Code, errors),
                            TextRules.Required(
                                w?.StandardCode,
                                $"work[{i}].standardCode",
                                "The labour standard",
                                TextRules.Code,
                                errors
                            ),
                            w?.Quantity ?? 0
                        )
                ),
        ];
    }

    private static List<AddedOperation> Operations(ChangeRequest request, FieldErrors errors)
    {
        var given = request.Operations ?? [];
        errors.AddIf(
            given.Count > ChangeTerms.MostOperations,
            "operations",
            $"At most {ChangeTerms.MostOperations} operations are added at once."
        );
        return [.. given.Take(ChangeTerms.MostOperations).Select((o, i) => Operation(o, $"operations[{i}]", errors))];
    }

    private static AddedOperation Operation(ChangeOperationRequest? given, string path, FieldErrors errors)
    {
        List<string> Codes(IReadOnlyList<string?>? codes, string field, string label) =>
            [.. QuoteExtrasReader.Codes(codes, $"{path}.{field}", label, MostCodes, errors).Distinct()];
        var phase = Words<Phase>.Read(given?.Phase);
        errors.AddIf(phase is null, path + ".phase", $"The phase is one of: {Words<Phase>.All}.");
        var place = TextRules.Optional(given?.Place, path + ".place", "The place", TextRules.Code, errors) ?? "bay";
        errors.AddIf(
            !ShopPlaces.Kinds.Contains(place),
            path + ".place",
            $"The place is one of {string.Join(", ", ShopPlaces.Kinds)}."
        );
        errors.AddIf(
            given?.CureMinutes is < 0 or > LongestCure,
            path + ".cureMinutes",
            $"A cure takes 0 to {LongestCure} minutes, a week."
        );
        return new AddedOperation(
            new RouteOperation
            {
                Code = TextRules.Required(given?.Code, path + ".code", "The number", TextRules.Code, errors),
                Title = TextRules.Required(given?.Title, path + ".title", "The title", TextRules.ShortText, errors),
                Phase = phase ?? Phase.Intake,
                Skill = TextRules.Required(given?.Skill, path + ".skill", "The skill", TextRules.Code, errors),
                Place = place,
                After = Codes(given?.After, "after", "The earlier operation"),
                NeedsOpen = Codes(given?.NeedsOpen, "needsOpen", "The access way"),
                Closes = Codes(given?.Closes, "closes", "The access way"),
                Opens = Codes(given?.Opens, "opens", "The access way"),
                Gates = Gates(given?.Gates ?? [], path + ".gates", errors),
                HotWork = given?.HotWork ?? false,
                PaintOrSolvent = given?.PaintOrSolvent ?? false,
                CureMinutes = given?.CureMinutes ?? 0,
                Instruction =
                    TextRules.Optional(
                        given?.Instruction,
                        path + ".instruction",
                        "The instruction",
                        TextRules.Note,
                        errors
                    ) ?? "",
                Caution = TextRules.Optional(
                    given?.Caution,
                    path + ".caution",
                    "The caution",
                    TextRules.ShortText,
                    errors
                ),
            },
            Codes(given?.Before, "before", "The later operation")
        );
    }

    private static List<RouteGate> Gates(IReadOnlyList<ChangeGateRequest?> given, string path, FieldErrors errors)
    {
        errors.AddIf(given.Count > MostCodes, path, $"At most {MostCodes} gates are taken.");
        var gates = new List<RouteGate>();
        foreach (var (i, gate) in given.Take(MostCodes).Index())
        {
            if (Words<GateKind>.Read(gate?.Kind) is not { } kind)
            {
                errors.Add(
                    $"{path}[{i}].kind",
                    "A gate is holdPoint, cure, customerPart, stock, sentOut, qualifiedPerson or secondPerson."
                );
                continue;
            }

            gates.Add(
                new RouteGate
                {
                    Kind = kind,
                    Operation = TextRules.Optional(
                        gate!.Operation,
                        $"{path}[{i}].operation",
                        "The operation",
                        TextRules.Code,
                        errors
                    ),
                    Part = TextRules.Optional(gate.Part, $"{path}[{i}].part", "The part", TextRules.Code, errors),
                }
            );
        }

        return gates;
    }

    private static List<LineToCheck> Lines(
        ChangeRequest request,
        Job job,
        List<AddedOperation> added,
        string number,
        FieldErrors errors
    )
    {
        var given = request.InspectionLines ?? [];
        errors.AddIf(
            given.Count > ChangeTerms.MostLines,
            "inspectionLines",
            $"At most {ChangeTerms.MostLines} inspection lines are added at once."
        );
        var lines = new List<LineToCheck>();
        foreach (var (i, line) in given.Take(ChangeTerms.MostLines).Index())
        {
            var path = $"inspectionLines[{i}].";
            var planned = new PlannedLine(
                $"{number.ToLowerInvariant()}-{i + 1}",
                TextRules.Required(line?.Operation, path + "operation", "The operation", TextRules.Code, errors),
                line?.What ?? "",
                line?.How ?? "",
                $"Change order {number}",
                line?.Hold == true ? InspectionPoint.Hold : InspectionPoint.None,
                line?.ByInspector == false ? RecordedBy.Worker : RecordedBy.Inspector,
                line?.Unit,
                line?.Nominal,
                line?.Lower,
                line?.Upper,
                line?.PhotoRequired ?? false,
                Caution: line?.Caution
            );
            if (InspectionPlan.LineOf(planned, path, errors) is { } checkedLine)
            {
                lines.Add(checkedLine);
            }

            errors.AddIf(
                planned.Operation.Length > 0
                    && job.Operation(planned.Operation) is null
                    && added.TrueForAll(a => a.Route.Code != planned.Operation),
                path + "operation",
                $"There is no operation {planned.Operation} on this job or in this change."
            );
        }

        return lines;
    }
}

/// <summary>Words of an enumeration as the API writes them.</summary>
internal static class Words<T>
    where T : struct, Enum
{
    internal static string All => string.Join(", ", Enum.GetValues<T>().Select(Of));

    internal static string Of(T value)
    {
        var word = value.ToString();
        return char.ToLowerInvariant(word[0]) + word[1..];
    }

    internal static T? Read(string? word) =>
        Enum.GetValues<T>().Where(v => Of(v) == word).Select(v => (T?)v).FirstOrDefault();
}
