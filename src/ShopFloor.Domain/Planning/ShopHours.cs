using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Planning;

/// <summary>When the shop works and how its rooms lie: what plans are made from, one for the shop.</summary>
public sealed class ShopHours : IVersioned
{
    public const int MostHands = 6;
    public const int MostStands = 12;
    public const int MostCars = 200;

    private ShopHours() { }

    public ShopId Id { get; private set; }
    public long Version { get; private set; }

    /// <summary>Hours of everybody who has none of their own.</summary>
    public WeekHours Hours { get; private set; } = WeekHours.Usual;

    /// <summary>Days on which nobody works.</summary>
    public IReadOnlyList<DaysOff> Closed { get; private set; } = [];

    /// <summary>Room of a place, by the place's code; a place that is not named is a room of its own.</summary>
    public IReadOnlyDictionary<string, string> Rooms { get; private set; } = new Dictionary<string, string>();

    /// <summary>How many things a place holds at once, by the place's code; one where it is not named.</summary>
    public IReadOnlyDictionary<string, int> Stands { get; private set; } = new Dictionary<string, int>();

    /// <summary>Most people who work on one car at once.</summary>
    public int HandsOnACar { get; private set; } = PlanProblem.UsualHandsOnACar;

    /// <summary>Cars that fit in the shop and its yard; 0 where nobody has said.</summary>
    public int CarsAtOnce { get; private set; }

    public static ShopHours Of(ShopId shop) => new() { Id = shop };

    public string RoomOf(string place) => Rooms.GetValueOrDefault(place, place);

    public int HoldsAtOnce(string place) => Stands.GetValueOrDefault(place, 1);

    public bool IsClosed(DateOnly day) => Closed.Any(c => c.Covers(day));

    /// <summary>Minutes that somebody is there on a day: none while the shop is closed or they are away.</summary>
    /// <param name="own">Their own hours; null: the shop's.</param>
    public int MinutesOf(PersonHours? own, DateOnly day) =>
        IsClosed(day) || own?.IsAway(day) == true
            ? 0
            : (own?.Hours ?? Hours).On(day).Sum(s => (int)(s.To - s.From).TotalMinutes);

    /// <summary>What the owner fills in; what is absent stays as it is, but for the hours.</summary>
    /// <param name="Hours">Seven texts from Monday, see <see cref="WeekHours.Read"/>.</param>
    public sealed record Details(
        IReadOnlyList<string?>? Hours,
        IReadOnlyList<DaysOff>? Closed,
        IReadOnlyDictionary<string, string>? Rooms,
        int? HandsOnACar,
        IReadOnlyDictionary<string, int>? Stands = null,
        int? CarsAtOnce = null
    );

    public Outcome<Done> Change(Details details, IReadOnlyCollection<string> places)
    {
        ArgumentNullException.ThrowIfNull(details);
        ArgumentNullException.ThrowIfNull(places);
        var errors = new FieldErrors();
        var hours = WeekHours.Read(details.Hours, "hours");
        var closed = DaysOff.ReadList(details.Closed ?? Closed, "closed");
        errors.Take(hours).Take(closed);
        var rooms = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var (place, room) in details.Rooms ?? Rooms)
        {
            errors.AddIf(!places.Contains(place), $"rooms.{place}", Unknown(places));
            if (TextRules.Optional(room, $"rooms.{place}", "The room", TextRules.Code, errors) is { } name)
            {
                rooms[place] = name;
            }
        }

        var stands = details.Stands ?? Stands;
        foreach (var (place, count) in stands)
        {
            errors.AddIf(!places.Contains(place), $"stands.{place}", Unknown(places));
            errors.AddIf(
                count is < 1 or > MostStands,
                $"stands.{place}",
                $"A place holds 1 to {MostStands} things at once."
            );
        }

        var hands = details.HandsOnACar ?? HandsOnACar;
        errors.AddIf(
            hands is < 1 or > MostHands,
            "handsOnACar",
            $"From 1 to {MostHands} people work on one car at once."
        );
        var cars = details.CarsAtOnce ?? CarsAtOnce;
        errors.AddIf(
            cars is < 0 or > MostCars,
            "carsAtOnce",
            $"A shop holds 1 to {MostCars} cars; 0 says that they are not counted."
        );
        errors.AddIf(
            hours.IsSuccess && hours.Value.IsEmpty,
            "hours",
            "The shop works on at least one day of the week."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        (Hours, Closed, Rooms, HandsOnACar, CarsAtOnce) = (hours.Value, closed.Value, rooms, hands, cars);
        Stands = new Dictionary<string, int>(stands, StringComparer.Ordinal);
        return Outcome.Ok;
    }

    private static string Unknown(IEnumerable<string> places) =>
        $"The shop has no such place; it has {string.Join(", ", places)}. The owner lists places in the settings.";
}

/// <summary>What one person can do, and when they are there.</summary>
public sealed class PersonHours : IVersioned
{
    public const int MostSkills = 20;

    private PersonHours() { }

    public PersonId Id { get; private set; }
    public long Version { get; private set; }

    /// <summary>Skill codes, as the price book and routes name them; null: what people of their role usually do.</summary>
    public IReadOnlyList<string>? Skills { get; private set; }

    /// <summary>Null: the shop's.</summary>
    public WeekHours? Hours { get; private set; }

    public IReadOnlyList<DaysOff> Away { get; private set; } = [];

    public static PersonHours Of(PersonId person) => new() { Id = person };

    public bool IsAway(DateOnly day) => Away.Any(a => a.Covers(day));

    /// <summary>What the owner fills in.</summary>
    /// <param name="Skills">Null: those of the role.</param>
    /// <param name="Hours">Null: the shop's; else seven texts from Monday.</param>
    public sealed record Details(
        IReadOnlyList<string>? Skills,
        IReadOnlyList<string?>? Hours,
        IReadOnlyList<DaysOff>? Away
    );

    /// <param name="known">Skill codes that the shop has.</param>
    public Outcome<Done> Change(Details details, IReadOnlyCollection<string> known)
    {
        ArgumentNullException.ThrowIfNull(details);
        ArgumentNullException.ThrowIfNull(known);
        var errors = new FieldErrors();
        errors.AddIf(details.Skills?.Count > MostSkills, "skills", $"A person has at most {MostSkills} skills.");
        foreach (var (skill, i) in (details.Skills ?? []).Take(MostSkills).Select((s, i) => (s, i)))
        {
            errors.AddIf(
                !known.Contains(skill),
                $"skills[{i}]",
                $"The shop has no skill called '{skill}'; it has {string.Join(", ", known)}. Skills come from the price book."
            );
        }

        var hours = WeekHours.Read(details.Hours ?? new string?[7], "hours");
        var away = DaysOff.ReadList(details.Away, "away");
        if (errors.Take(hours).Take(away).Any)
        {
            return errors.ToFailure();
        }

        Skills = details.Skills is null ? null : [.. details.Skills.Distinct(StringComparer.Ordinal)];
        Hours = details.Hours is null ? null : hours.Value;
        Away = [.. away.Value.Select(a => a with { Note = null })];
        return Outcome.Ok;
    }

    /// <summary>What people of a role usually do: a fabricator all of the trade's work, an inspector looks. Common practice, no source.</summary>
    public static IReadOnlyList<string> UsualSkills(IEnumerable<Role> roles, IReadOnlyCollection<string> known)
    {
        ArgumentNullException.ThrowIfNull(roles);
        var held = roles.ToList();
        return
        [
            .. known.Where(s =>
                s == Routing.Operation.InspectorSkill ? held.Contains(Role.Inspector) : held.Contains(Role.Fabricator)
            ),
        ];
    }
}
