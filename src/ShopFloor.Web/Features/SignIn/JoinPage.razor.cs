using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Progress;
using ShopFloor.Application.SignIns;

namespace ShopFloor.Web.Features.SignIn;

/// <summary>Somebody chooses their first or a new password by the link they were given. Wrong links are counted with those of customers.</summary>
public partial class JoinPage(UsePasswordLink use, LinkDoor door, NavigationManager navigation)
{
    private UsePasswordLink.Welcome? welcome;
    private string? problem;
    private bool isPaused;

    [CascadingParameter]
    public HttpContext Http { get; set; } = default!;

    [Parameter]
    public string Token { get; set; } = "";

    [SupplyParameterFromForm(FormName = "join")]
    public string? Password { get; set; }

    protected override async Task OnInitializedAsync()
    {
        var opening = await door.TryAsync(
            Http.Connection.RemoteIpAddress,
            () => use.FindAsync(Token, Http.RequestAborted),
            Http.RequestAborted
        );
        welcome = opening.Found;
        isPaused = opening.IsPaused;
        if (welcome is null)
        {
            Http.Response.StatusCode = StatusCodes.Status404NotFound;
        }
    }

    private async Task JoinAsync()
    {
        if (welcome is null)
        {
            return;
        }

        var outcome = await use.RunAsync(Token, Password, Http.RequestAborted);
        if (outcome.IsSuccess)
        {
            navigation.NavigateTo("/sign-in?said=password-set", forceLoad: true);
            return;
        }

        problem = outcome.Failure!.Sentence;
    }
}
