using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;

namespace ShopFloor.Domain.Routing;

public sealed partial class Job
{
    /// <summary>Which place of each kind the job uses, by kind; nothing where the shop has one of a kind or nobody has said.</summary>
    public IReadOnlyDictionary<string, string> Places { get; private set; } = new Dictionary<string, string>();

    /// <summary>The job goes to another place. Refused while sparks or vapour of its own are about: they stay where they are.</summary>
    public Outcome<Done> PutIn(ShopPlace place, HotWorkFacts facts)
    {
        ArgumentNullException.ThrowIfNull(place);
        ArgumentNullException.ThrowIfNull(facts);
        if (NotOpen() is { } closed)
        {
            return closed;
        }

        if (Places.GetValueOrDefault(place.Kind) == place.Code)
        {
            return Outcome.Ok;
        }

        var permit = facts.Unclosed.FirstOrDefault(p =>
            p.Place != place.Code && facts.Places.Find(p.Place)?.Kind == place.Kind && p.Concerns(Id)
        );
        if (permit is not null)
        {
            return Failure.Because(
                "permit",
                $"Hot-work permit {permit.Number} in {facts.Places.Title(permit.Place)} is about this {Scope.Kind.Thing()} and is not closed: it stays there until the fire watch is over and its watcher has closed it."
            );
        }

        if (
            Operations.FirstOrDefault(o =>
                o.Progress == OperationProgress.InWork
                && o.Place == place.Kind
                && (o.Route.PaintOrSolvent || o.Route.HotWork)
            ) is
            { } running
        )
        {
            return Failure.Because(
                "inWork",
                $"{running.Code} {running.Title} is in work. Stop it, then move the {Scope.Kind.Thing()}.",
                running.Code
            );
        }

        Places = new Dictionary<string, string>(Places) { [place.Kind] = place.Code };
        return Outcome.Ok;
    }
}
