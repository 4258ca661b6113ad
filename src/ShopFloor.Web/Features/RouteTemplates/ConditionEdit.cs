using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Web.Features.RouteTemplates;

/// <summary>A condition while it is being written: what is ticked, part by part. Nothing ticked means always.</summary>
public sealed class ConditionEdit
{
    public ConditionEdit(RouteCondition? when)
    {
        var from = when ?? new RouteCondition();
        Kits = [.. from.Kits];
        Uses = [.. from.Uses];
        Doors = from.Doors;
        Hinges = [.. from.Hinges];
        Answers = from.Answers.ToDictionary(a => a.Key, a => a.Value.ToHashSet());
        Energy = [.. from.Energy];
        Airbags = [.. from.Airbags];
        Tank = [.. from.Tank];
        RearSeatsUsed = from.RearSeatsUsed;
        CustomerBrings = string.Join(", ", from.CustomerBrings);
    }

    public HashSet<string> Kits { get; }
    public HashSet<string> Uses { get; }
    public bool? Doors { get; set; }
    public HashSet<string> Hinges { get; }
    public Dictionary<string, HashSet<string>> Answers { get; }
    public HashSet<Energy> Energy { get; }
    public HashSet<Airbags> Airbags { get; }
    public HashSet<TankPosition> Tank { get; }
    public bool? RearSeatsUsed { get; set; }

    /// <summary>Codes of parts with commas between them.</summary>
    public string CustomerBrings { get; set; }

    public void Clear()
    {
        Kits.Clear();
        Uses.Clear();
        Hinges.Clear();
        Answers.Clear();
        Energy.Clear();
        Airbags.Clear();
        Tank.Clear();
        (Doors, RearSeatsUsed, CustomerBrings) = (null, null, "");
    }

    /// <summary>The answers ticked for a question.</summary>
    public HashSet<string> Of(string question)
    {
        if (!Answers.TryGetValue(question, out var answers))
        {
            Answers[question] = answers = [];
        }

        return answers;
    }

    /// <summary>Null where nothing is ticked. Lists are in a fixed order, so that ticking to and fro changes nothing.</summary>
    public RouteCondition? ToCondition()
    {
        var written = new RouteCondition
        {
            Kits = Sorted(Kits),
            Uses = Sorted(Uses),
            Doors = Doors,
            Hinges = Sorted(Hinges),
            Answers = Answers
                .Where(a => a.Value.Count > 0)
                .OrderBy(a => a.Key, StringComparer.Ordinal)
                .ToDictionary(a => a.Key, a => Sorted(a.Value)),
            Energy = [.. Energy.Order()],
            Airbags = [.. Airbags.Order()],
            Tank = [.. Tank.Order()],
            RearSeatsUsed = RearSeatsUsed,
            CustomerBrings =
            [
                .. CustomerBrings
                    .Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
                    .Distinct(),
            ],
        };
        return RouteConditionWords.Of(written).Length == 0 ? null : written;
    }

    private static IReadOnlyList<string> Sorted(HashSet<string> codes) => [.. codes.Order(StringComparer.Ordinal)];
}
