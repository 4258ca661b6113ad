using ShopFloor.Application.Common;
using ShopFloor.Application.People;
using ShopFloor.Application.SignIns;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.People;

/// <summary>Who works here and with which roles; which programs hold a key is on the panel below.</summary>
public partial class PeoplePage(
    ReadPeople read,
    AddPerson add,
    ChangePerson change,
    MakePasswordLink makeLink,
    KeepSecondFactor factors,
    Hosting.Settings settings,
    Layout.ShopHead head
)
{
    private IReadOnlyList<PersonView> people = [];
    private IReadOnlyList<FieldError> errors = [];
    private NewPerson form = new();
    private MakePasswordLink.Made? link;
    private string? linkFor;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    protected override async Task<Failure?> LoadAsync()
    {
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        var list = await read.ListAsync(Actor, Closing);
        people = list.IsSuccess ? list.Value : [];
        return list.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject is "person";

    private async Task AddAsync()
    {
        var request = new AddPerson.Request(form.Name, form.Email, form.Password, [.. form.Roles]);
        if (string.IsNullOrEmpty(form.Password))
        {
            var invited = await add.InviteAsync(request, Envelope(), Closing);
            if (IsTaken(invited))
            {
                (link, linkFor) = (invited.Value, form.Name);
                form = new NewPerson();
            }
        }
        else if (IsTaken(await add.RunAsync(request, Envelope(), Closing)))
        {
            form = new NewPerson();
        }
    }

    private bool IsTaken<T>(Outcome<T> outcome)
    {
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        return outcome.Failure is not Failure.Invalid && Accepted(outcome, out _, "Added.");
    }

    private async Task MakeLinkAsync(PersonView person)
    {
        if (Accepted(await makeLink.RunAsync(person.Id, Envelope(), Closing), out var made))
        {
            (link, linkFor) = (made, person.Name);
        }
    }

    private async Task TakeAppAwayAsync(PersonView person)
    {
        Accepted(
            await factors.TakeAwayAsync(person.Id, Envelope(), Closing),
            out _,
            "Their password alone opens the shop again. They are signed out, and can set up another app."
        );
        await ReloadAsync();
    }

    private async Task SetRoleAsync(PersonView person, Role role, bool on) =>
        await ChangeAsync(
            person,
            new ChangePerson.Request(Roles: [.. on ? person.Roles.Append(role) : person.Roles.Where(r => r != role)])
        );

    private Task SetActiveAsync(PersonView person, bool isActive) =>
        ChangeAsync(person, new ChangePerson.Request(IsActive: isActive));

    private async Task ChangeAsync(PersonView person, ChangePerson.Request request)
    {
        Accepted(await change.RunAsync(person.Id, request, Envelope(), Closing), out _, "Saved.");
        await ReloadAsync();
    }

    private string AddressOf(MakePasswordLink.Made made) => $"{settings.PublicUrl}/j/{made.Token}";

    private string Local(DateTimeOffset at) =>
        TimeZoneInfo
            .ConvertTime(at, zone)
            .ToString("d MMM yyyy HH:mm", System.Globalization.CultureInfo.InvariantCulture);

    private bool Has(string path) => errors.Any(e => e.Path == path);

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;

    private sealed class NewPerson
    {
        public string? Name { get; set; }
        public string? Email { get; set; }
        public string? Password { get; set; }
        public HashSet<Role> Roles { get; } = [];

        public void Choose(Role role, bool on)
        {
            if (on)
            {
                Roles.Add(role);
            }
            else
            {
                Roles.Remove(role);
            }
        }
    }
}
