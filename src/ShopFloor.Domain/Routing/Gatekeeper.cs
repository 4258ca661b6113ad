using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;

namespace ShopFloor.Domain.Routing;

/// <summary>Answers an operation's gates from the job and the facts around it.</summary>
internal static class Gatekeeper
{
    public static IReadOnlyList<GateAnswer> Answers(Job job, Operation operation, GateFacts facts) =>
        [
            .. operation.Route.After.Select(code => Earlier(job.Operation(code)!)),
            .. Deposit(operation, facts),
            .. Changes(operation, facts),
            .. AwaitedGates.Answers(job, operation, facts),
            .. operation
                .Route.Gates.Where(g => !AwaitedGates.Kinds.Contains(g.Kind))
                .Select(gate => Answer(job, gate, facts)),
            .. HotWorkGates.Of(job, operation, facts),
            .. operation.Route.NeedsOpen.Select(way => Way(job, operation, way)),
        ];

    private static GateAnswer Earlier(Operation earlier) =>
        new(
            GateKind.Operation,
            earlier.IsOver,
            earlier.Progress switch
            {
                OperationProgress.Done => $"{earlier.Code} {earlier.Title}: done.",
                OperationProgress.NotNeeded => $"{earlier.Code} {earlier.Title}: not needed.",
                OperationProgress.InWork => $"Waiting for {earlier.Code} {earlier.Title}, which is in work.",
                OperationProgress.OnHold => $"Waiting for {earlier.Code} {earlier.Title}, which is on hold.",
                _ => $"Waiting for {earlier.Code} {earlier.Title}.",
            },
            earlier.Code
        );

    private static GateAnswer Answer(Job job, RouteGate gate, GateFacts facts) =>
        gate.Kind switch
        {
            GateKind.Authorisation => new(
                gate.Kind,
                facts.AuthorisationSigned,
                facts.AuthorisationSigned
                    ? "The customer has signed the authorisation to cut and weld."
                    : "Waiting for the customer's signature under the authorisation to cut and weld. The front desk takes it at the drop-off.",
                null
            )
            {
                Whom = "the customer",
                Since = job.OpenedAt,
            },
            GateKind.Isolation => new(
                gate.Kind,
                job.Isolation is not null,
                job.Isolation is { } isolation
                    ? $"High voltage isolated, recorded at {facts.At(isolation.RecordedAt)}."
                    : "High-voltage car: a qualified person must isolate it before anything else is touched. The front desk records who did.",
                null
            )
            {
                Whom = "a qualified person",
            },
            GateKind.CustomerPart => Part(gate.Part!, facts),
            GateKind.HoldPoint => HoldPoint(job.Operation(gate.Operation!)!, facts),
            GateKind.Cure => Cure(job.Operation(gate.Operation!)!, facts),
            _ => throw new ArgumentOutOfRangeException(nameof(gate), gate.Kind, "Not a gate of its own."),
        };

    /// <summary>Before the first operations only: what began with the deposit missing is not stopped half way.</summary>
    private static IEnumerable<GateAnswer> Deposit(Operation operation, GateFacts facts)
    {
        if (operation.Route.After.Count == 0 && facts.MissingDeposit is { } missing)
        {
            yield return new GateAnswer(
                GateKind.Deposit,
                false,
                $"Waiting for the deposit: {missing} is not paid. The front desk books it on the job's account; the owner may let work start without it.",
                null
            )
            {
                Whom = "the customer",
            };
        }
    }

    /// <summary>Work under way goes on, unless the change names it.</summary>
    private static IEnumerable<GateAnswer> Changes(Operation operation, GateFacts facts) =>
        operation.IsOver
            ? []
            : facts
                .OpenChanges.Where(c =>
                    c.Holds.Count == 0 ? operation.BegunAt is null : c.Holds.Contains(operation.Code)
                )
                .Select(c => new GateAnswer(
                    GateKind.ChangeOrder,
                    false,
                    c.IsOffered
                        ? $"Waits for the customer: change order {c.Number} of {GateFacts.Day(c.On)}. Approving or declining it lifts this."
                        : $"The car was found otherwise than agreed: change order {c.Number} of {GateFacts.Day(c.On)} is not offered yet. The front desk offers it to the customer, or withdraws it.",
                    null
                )
                {
                    Whom = c.IsOffered ? "the customer" : "the front desk",
                    Since = facts.StartOf(c.On),
                });

    private static GateAnswer Part(string code, GateFacts facts)
    {
        var missing = facts.CustomerParts.Where(p => p.Code == code && !p.HasArrived).ToList();
        var text = missing.Count switch
        {
            0 when facts.CustomerParts.Any(p => p.Code == code) => "The customer's part has arrived.",
            0 => "The customer brings no part for this.",
            _ => "Waiting for "
                + string.Join(" and ", missing.Select(p => p.Title))
                + " from the customer"
                + (missing.Min(p => p.DueOn) is { } due ? $", due {GateFacts.Day(due)}." : ".")
                + " The front desk ticks it off when it arrives.",
        };
        return new GateAnswer(GateKind.CustomerPart, missing.Count == 0, text, null)
        {
            Whom = "the customer",
            DueOn = missing.Min(p => p.DueOn),
        };
    }

    private static GateAnswer HoldPoint(Operation of, GateFacts facts)
    {
        var open = facts.OpenHoldLines.Where(l => l.Operation == of.Code).ToList();
        var failed = open.Count(l => l.HasFailed);
        var names = string.Join("; ", open.Take(3).Select(l => l.Title)) + (open.Count > 3 ? " …" : "");
        var text =
            open.Count == 0 ? $"Hold point of {of.Code} passed."
            : failed > 0
                ? $"Hold point of {of.Code}: {failed} of {open.Count} open lines failed ({names}). Mend and inspect again."
            : $"Hold point of {of.Code}: {open.Count} {(open.Count == 1 ? "line is" : "lines are")} not passed yet ({names}). An inspector records the readings.";
        return new GateAnswer(GateKind.HoldPoint, open.Count == 0, text, of.Code)
        {
            Whom = failed > 0 ? "whoever mends it" : "an inspector",
            Since = of.FinishRecordedAt,
        };
    }

    private static GateAnswer Cure(Operation of, GateFacts facts)
    {
        if (of.Progress == OperationProgress.NotNeeded)
        {
            return new GateAnswer(GateKind.Cure, true, $"{of.Code} {of.Title}: not needed.", of.Code);
        }

        if (of.FinishRecordedAt is not { } from || of.Progress != OperationProgress.Done)
        {
            return new GateAnswer(
                GateKind.Cure,
                false,
                $"Waiting for {of.Code} {of.Title} and its cure of {Hours(of.Route.CureMinutes)}.",
                of.Code
            );
        }

        var until = from.AddMinutes(of.Route.CureMinutes);
        return facts.Now >= until
            ? new GateAnswer(GateKind.Cure, true, $"{of.Code} has cured.", of.Code)
            : new GateAnswer(
                GateKind.Cure,
                false,
                $"{of.Code} {of.Title} cures until {facts.At(until)}; nothing but time lifts it.",
                of.Code
            )
            {
                Whom = "time alone",
                Since = from,
            };
    }

    private static GateAnswer Way(Job job, Operation operation, string way)
    {
        var title = job.WayTitle(way);
        if (job.OpenWays.Contains(way) || operation.ClosedByStart.Contains(way))
        {
            return new GateAnswer(GateKind.AccessWay, true, $"Open: {title}.", null);
        }

        var opener = job.Operations.FirstOrDefault(o => !o.IsOver && o.Route.Opens.Contains(way));
        return new GateAnswer(
            GateKind.AccessWay,
            false,
            $"Needs {title}. "
                + (opener is null ? "Nothing left on the route opens it." : $"{opener.Code} {opener.Title} opens it."),
            opener?.Code
        );
    }

    private static string Hours(int minutes) => minutes % 60 == 0 ? $"{minutes / 60} h" : $"{minutes} min";
}
