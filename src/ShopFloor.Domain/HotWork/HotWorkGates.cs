using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.HotWork;

/// <summary>The gates between sparks and vapour: hot work needs an open permit for its place, and never meets paint or solvent there.</summary>
internal static class HotWorkGates
{
    public static IEnumerable<GateAnswer> Of(Job job, Operation operation, GateFacts facts) =>
        Of(job, operation, facts, operation.IsOver);

    /// <param name="isOver">False to ask as if a finished operation went on again.</param>
    public static IEnumerable<GateAnswer> Of(Job job, Operation operation, GateFacts facts, bool isOver) =>
        isOver ? []
        : operation.Route.HotWork ? [Permit(job, operation, facts), .. PaintNear(job, operation, facts)]
        : operation.Route.PaintOrSolvent ? Watches(job, operation, facts)
        : [];

    /// <summary>Why this person may not take up this work now, for the sake of the fire watch; null where they may.</summary>
    public static Failure? Refusal(Job job, Operation operation, Job.Tap tap, GateFacts facts)
    {
        // Who joins others that are at it already is asked too: their permit may have ended meanwhile.
        if (Of(job, operation, facts).Where(g => !g.IsMet).ToList() is { Count: > 0 } unmet)
        {
            return new Failure.Refused([.. unmet.Select(g => new Reason(g.Code, g.Text, operation.Code))]);
        }

        if (WatchDuty(operation, tap, facts) is { } duty)
        {
            return duty;
        }

        return operation.Route.HotWork && facts.Now - tap.At > FireWatch.LatestStart
            ? Failure.Because(
                "hotWorkLate",
                $"This start of hot work was tapped at {facts.At(tap.At)} and reached the server at {facts.At(facts.Now)}: the others did not know of it. Stop, look at the place, and start again with a connection.",
                operation.Code
            )
            : null;
    }

    /// <summary>A fire watcher works on nothing; null for everybody else.</summary>
    public static Failure? WatchDuty(Operation operation, Job.Tap tap, GateFacts facts) =>
        facts.HotWork.WatchedBy(tap.Worker.Person) is { } watched
            ? Failure.Because(
                "watcherHasNoOtherDuty",
                $"{facts.Name(tap.Worker)} is the fire watcher of permit {watched.Number} in {facts.HotWork.Places.Title(watched.Place)} and has no other duty. Close the permit after the watch, or hand the watch to somebody else first.",
                operation.Code
            )
            : null;

    private static GateAnswer Permit(Job job, Operation operation, GateFacts facts)
    {
        var places = facts.HotWork.Places;
        if (places.Possible(job, operation.Place) is not [var where])
        {
            return new GateAnswer(
                GateKind.Permit,
                false,
                $"Hot work: nobody has said where this {job.Scope.Kind.Thing()} is: {places.Words(places.Possible(job, operation.Place))}. Say it on the page \"Car, keys and removed parts\", or open a permit for the right one.",
                null
            );
        }

        var place = places.Title(where);
        if (facts.HotWork.Covering(job, operation, facts.Now) is { } open)
        {
            return new GateAnswer(
                GateKind.Permit,
                true,
                $"Hot-work permit {open.Number} for {place} is open until {facts.At(open.ValidUntil)}; {facts.NameOf(open.Watcher)} watches.",
                null
            );
        }

        var ended = facts.HotWork.Unclosed.FirstOrDefault(p =>
            p.IsFor(job.Id, job.HasCarHere && places.HoldsCar(where), where) && p.ValidUntil <= facts.Now
        );
        return new GateAnswer(
            GateKind.Permit,
            false,
            ended is null
                ? $"Hot work: no permit is open for {place}{(job.HasCarHere && places.HoldsCar(where) ? " and this car" : "")}. Walk the checklist with the fire watcher and open one."
                : $"Hot work: permit {ended.Number} for {place} ended with its shift at {facts.At(ended.ValidUntil)}. Walk the checklist again and open a new one.",
            null
        );
    }

    private static IEnumerable<GateAnswer> PaintNear(Job job, Operation operation, GateFacts facts) =>
        facts
            .HotWork.Paint.Where(p => p.Places.Intersect(facts.HotWork.Places.Possible(job, operation.Place)).Any())
            .Select(p => new GateAnswer(
                GateKind.Fumes,
                false,
                $"{p.Code} {p.Title} of {p.JobNumber} uses paint or solvent in {facts.HotWork.Places.Words(p.Places)}: no spark there. Finish or stop it and air the place first.",
                null
            ));

    private static IEnumerable<GateAnswer> Watches(Job job, Operation operation, GateFacts facts) =>
        facts
            .HotWork.Unclosed.Where(p =>
                !p.IsClosed && facts.HotWork.Places.Possible(job, operation.Place).Contains(p.Place)
            )
            .Select(p => new GateAnswer(
                GateKind.FireWatch,
                false,
                $"No paint or solvent in {facts.HotWork.Places.Title(p.Place)}: "
                    + p.Standing(facts.Now) switch
                    {
                        PermitStanding.Watch watch =>
                            $"the fire watch of permit {p.Number} runs until {facts.At(watch.Until)}, then {facts.NameOf(p.Watcher)} confirms it.",
                        PermitStanding.WatchOver =>
                            $"the fire watch of permit {p.Number} is over, and {facts.NameOf(p.Watcher)} has not confirmed it yet.",
                        _ =>
                            $"hot-work permit {p.Number} is open. {facts.NameOf(p.Watcher)} closes it after the fire watch.",
                    },
                null
            ));
}
