using ShopFloor.Application.Planning;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Planning;

/// <summary>The owner's hours, closed days, rooms, and everybody's skills and days off.</summary>
public partial class HoursPage(KeepShopHours keepShop, KeepPersonHours keepPeople)
{
    private ShopRows? shop;
    private List<PersonRows> people = [];
    private IReadOnlyList<FieldError> errors = [];
    private TypedFields? typed;
    private bool isBusy;

    protected override async Task<Failure?> LoadAsync()
    {
        var hours = await keepShop.ReadAsync(Actor, Closing);
        var all = await keepPeople.ReadAsync(Actor, Closing);
        if (hours.IsSuccess && all.IsSuccess)
        {
            shop = new ShopRows(hours.Value);
            people = [.. all.Value.Select(p => new PersonRows(p))];
        }

        return hours.Failure ?? all.Failure;
    }

    private async Task SaveShopAsync()
    {
        if (typed?.Refuse() == true)
        {
            return;
        }

        isBusy = true;
        var outcome = await keepShop.ChangeAsync(shop!.ToDetails(), Envelope(NewKey(), shop.Version), Closing);
        isBusy = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (
            outcome.Failure is not Failure.Invalid
            && Accepted(outcome, out var saved, "Saved. The next plan goes by it.")
        )
        {
            shop = new ShopRows(saved);
        }
    }

    private async Task SavePersonAsync(PersonRows person)
    {
        isBusy = true;
        var outcome = await keepPeople.ChangeAsync(
            new PersonId(person.Id),
            person.ToDetails(),
            Envelope(NewKey(), person.Version == 0 ? null : person.Version),
            Closing
        );
        isBusy = false;
        person.Errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out var saved, $"Saved for {person.Name}."))
        {
            people = [.. people.Select(p => p == person ? new PersonRows(saved) : p)];
        }
    }

    /// <summary>One place and the word for its room.</summary>
    public sealed class RoomRow(PlaceRoom room)
    {
        public string Place { get; } = room.Place;
        public string Title { get; } = room.Title;
        public string Room { get; set; } = room.Room == room.Place ? "" : room.Room;
        public int Stands { get; set; } = room.Stands;
    }

    /// <summary>The shop's hours as they are typed.</summary>
    public sealed class ShopRows(ShopHoursView view)
    {
        public long? Version { get; } = view.Version == 0 ? null : view.Version;
        public string?[] Hours { get; } = [.. view.Hours];
        public List<DaysOffRow> Closed { get; } = [.. view.Closed.Select(c => new DaysOffRow(c))];
        public List<RoomRow> Rooms { get; } = [.. view.Rooms.Select(r => new RoomRow(r))];
        public int Hands { get; set; } = view.HandsOnACar;
        public int? Cars { get; set; } = view.CarsAtOnce;

        public ShopHours.Details ToDetails() =>
            new(
                Hours,
                [.. Closed.Select(c => c.ToDaysOff())],
                Rooms.ToDictionary(r => r.Place, r => r.Room, StringComparer.Ordinal),
                Hands,
                Rooms.ToDictionary(r => r.Place, r => r.Stands, StringComparer.Ordinal),
                Cars ?? 0
            );
    }

    /// <summary>One person's hours as they are typed.</summary>
    public sealed class PersonRows(PersonHoursView view)
    {
        public Guid Id { get; } = view.Person.Value;
        public long Version { get; } = view.Version;
        public string Name { get; } = view.Name;
        public IReadOnlyList<string> Known { get; } = view.KnownSkills;
        public HashSet<string> Skills { get; } = [.. view.Skills];
        public string?[]? OwnHours { get; private set; } = view.HasOwnHours ? [.. view.Hours] : null;
        public List<DaysOffRow> Away { get; } = [.. view.Away.Select(a => new DaysOffRow(a))];
        public IReadOnlyList<FieldError> Errors { get; set; } = [];

        private bool hasOwnSkills = view.HasOwnSkills;

        public void Toggle(string skill, bool isOn)
        {
            hasOwnSkills = true;
            _ = isOn ? Skills.Add(skill) : Skills.Remove(skill);
        }

        public void Own(bool isOn, IReadOnlyList<string?> usual) => OwnHours = isOn ? [.. usual] : null;

        public PersonHours.Details ToDetails() =>
            new(hasOwnSkills ? [.. Skills] : null, OwnHours, [.. Away.Select(a => a.ToDaysOff())]);
    }
}
