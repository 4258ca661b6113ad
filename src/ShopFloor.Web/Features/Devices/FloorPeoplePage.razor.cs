using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Identity;
using ShopFloor.Application.Devices;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Devices;

/// <summary>Changing the person at one of the shop's tablets: a name, then the PIN.</summary>
public partial class FloorPeoplePage(
    ReadDevices devices,
    CheckPin check,
    SignInManager<User> signIn,
    NavigationManager navigation,
    TimeProvider clock
)
{
    private KnownDevice? device;
    private IReadOnlyList<PinPerson> people = [];
    private PinPerson? chosen;
    private string? problem;

    [CascadingParameter]
    public HttpContext Http { get; set; } = default!;

    [SupplyParameterFromQuery(Name = "who")]
    public Guid? Asked { get; set; }

    [SupplyParameterFromQuery]
    public string? ReturnUrl { get; set; }

    [SupplyParameterFromForm(FormName = "pin")]
    public Guid? Who { get; set; }

    [SupplyParameterFromForm(FormName = "pin")]
    public string? Pin { get; set; }

    private string LinkOf(PinPerson person) =>
        $"floor/people?who={person.Id}" + (ReturnUrl is null ? "" : $"&returnUrl={Uri.EscapeDataString(ReturnUrl)}");

    protected override async Task OnInitializedAsync()
    {
        device = await devices.KnownAsync(DeviceCookie.Read(Http), Http.RequestAborted);
        if (device is not null)
        {
            people = await devices.PeopleAsync(device, Http.RequestAborted);
            var wanted = Who ?? Asked;
            chosen = people.FirstOrDefault(p => p.Id.Value == wanted);
        }
    }

    private async Task CheckAsync()
    {
        if (device is null || chosen is null)
        {
            return;
        }

        var outcome = await check.RunAsync(device, chosen.Id, Pin, Http.RequestAborted);
        if (outcome.TryGet(out var answer, out var failure) && answer.PinSetAt is { } setAt)
        {
            await DeviceSessions.SignInAsync(signIn, device, chosen.Id, setAt, clock.GetUtcNow());
            navigation.NavigateTo(IsOfFloor(ReturnUrl) ? ReturnUrl! : "/floor", forceLoad: true);
            return;
        }

        problem = failure?.Sentence ?? answer?.Problem;
    }

    /// <summary>Only back to pages that a PIN opens.</summary>
    private static bool IsOfFloor(string? url) =>
        url is not null
        && (
            url is "/floor" or "/inspection"
            || url.StartsWith("/floor/", StringComparison.Ordinal)
            || url.StartsWith("/inspection/", StringComparison.Ordinal)
        )
        && !url.Contains('\\', StringComparison.Ordinal);
}
