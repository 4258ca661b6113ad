using System.Buffers.Text;
using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Identity;
using ShopFloor.Application.Common;
using ShopFloor.Application.SignIns;
using ShopFloor.Data.Identity;
using ShopFloor.Documents.Qr;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.SignIns;
using ShopFloor.Web.Layout;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.SignIn;

/// <summary>Everything with which a person signs in, and where they are signed in. Served without a circuit: it writes cookies.</summary>
public partial class MySignInPage(
    SignInManager<User> signIn,
    ChangeOwnPassword changePassword,
    KeepSecondFactor keepFactor,
    KeepPasskeys keepPasskeys,
    ReadSessions readSessions,
    EndSessions endSessions,
    IQrCodes qr,
    ShopHead head,
    IServiceScopeFactory scopes
)
{
    private string? problem;
    private string? done;
    private string? email;
    private SecondFactorView? factor;
    private KeepSecondFactor.Begun? begun;
    private IReadOnlyList<string> codes = [];
    private IReadOnlyList<PasskeyView> passkeys = [];
    private IReadOnlyList<SessionView> sessions = [];
    private SessionId? here;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    [CascadingParameter]
    public HttpContext Http { get; set; } = default!;

    [SupplyParameterFromForm(FormName = "password")]
    public string? Current { get; set; }

    [SupplyParameterFromForm(FormName = "password")]
    public string? New { get; set; }

    [SupplyParameterFromForm(FormName = "app")]
    public string? Password { get; set; }

    /// <summary><c>begin</c>, <c>renew</c> or <c>remove</c>: which button was pressed.</summary>
    [SupplyParameterFromForm(FormName = "app")]
    public string? Does { get; set; }

    [SupplyParameterFromForm(FormName = "confirm")]
    public string? Code { get; set; }

    [SupplyParameterFromForm(FormName = "add-passkey")]
    public string? Passkey { get; set; }

    [SupplyParameterFromForm(FormName = "add-passkey")]
    public string? PasskeyName { get; set; }

    [SupplyParameterFromForm(FormName = "add-passkey")]
    public string? PasskeyPassword { get; set; }

    private Actor Actor => Actors.Of(Http);

    private CancellationToken Ct => Http.RequestAborted;

    protected override async Task OnInitializedAsync()
    {
        here = Sessions.Of(Http.User);
        if (await head.ReadAsync(Ct) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        email = (await signIn.UserManager.GetUserAsync(Http.User))?.Email;
        await ShowAsync();
    }

    private async Task ShowAsync()
    {
        var found = await keepFactor.ReadAsync(Actor, Ct);
        factor = found.IsSuccess ? found.Value : null;
        var keys = await keepPasskeys.ListAsync(Actor, Ct);
        passkeys = keys.IsSuccess ? keys.Value : [];
        var open = await readSessions.RunAsync(Actor, Ct);
        sessions = open.IsSuccess ? open.Value : [];
    }

    private async Task ChangePasswordAsync()
    {
        var request = new ChangeOwnPassword.Request(Current, New, here);
        if (!await KnowsAsync(Current))
        {
            return;
        }

        if (await TakeAsync(changePassword.RunAsync(request, Envelope.Of(Actor), Ct), "Your password is changed."))
        {
            await RenewCookieAsync();
        }
    }

    private async Task ChangeAppAsync()
    {
        var envelope = Envelope.Of(Actor);
        if (!await KnowsAsync(Password))
        {
            return;
        }

        switch (Does)
        {
            case "begin":
                var started = await keepFactor.BeginAsync(Password, envelope, Ct);
                begun = started.IsSuccess ? started.Value : null;
                problem = started.Failure?.Sentence;
                break;
            case "renew":
                TakeCodes(await keepFactor.RenewCodesAsync(Password, envelope, Ct), "The older codes count no more.");
                break;
            default:
                await TakeAsync(keepFactor.RemoveAsync(Password, envelope, Ct), "The app is asked for no more.");
                break;
        }

        await ShowAsync();
    }

    private async Task ConfirmAsync()
    {
        TakeCodes(
            await keepFactor.ConfirmAsync(Code, Envelope.Of(Actor), Ct),
            "From now on your password alone opens nothing: the app is asked for."
        );
        await ShowAsync();
    }

    private async Task AddPasskeyAsync()
    {
        if (
            Passkey is not { Length: > 0 and <= PasskeyEndpoints.LongestAnswer } answer
            || await signIn.UserManager.GetUserAsync(Http.User) is not { } user
        )
        {
            problem = "This browser did not hand over a passkey. Try again.";
            return;
        }

        var made = await signIn.PerformPasskeyAttestationAsync(answer);
        if (!made.Succeeded)
        {
            problem = "This passkey could not be taken, or it took too long. Try again.";
            return;
        }

        made.Passkey.Name = PasskeyName;
        await TakeAsync(
            keepPasskeys.AddAsync(made.Passkey, PasskeyPassword, Envelope.Of(Actor), Ct),
            "The passkey is added."
        );
        await ShowAsync();
    }

    private async Task RemovePasskeyAsync(string id)
    {
        await TakeAsync(
            keepPasskeys.RemoveAsync(Base64Url.DecodeFromChars(id), Envelope.Of(Actor), Ct),
            "The passkey is gone."
        );
        await ShowAsync();
    }

    private async Task EndAsync(SessionId id)
    {
        await TakeAsync(endSessions.OneAsync(id, Envelope.Of(Actor), Ct), "Signed out there.");
        await ShowAsync();
    }

    private async Task EndOthersAsync()
    {
        await TakeAsync(endSessions.OthersAsync(here, Envelope.Of(Actor), Ct), "Signed out everywhere else.");
        await ShowAsync();
    }

    /// <summary>Wrong tries count as at signing in: an open page is no place to guess a password.</summary>
    private async Task<bool> KnowsAsync(string? password)
    {
        await using var scope = scopes.CreateAsyncScope();
        var manager = scope.ServiceProvider.GetRequiredService<SignInManager<User>>();
        var user = await manager.UserManager.GetUserAsync(Http.User);
        var result = user is null
            ? SignInResult.Failed
            : await manager.CheckPasswordSignInAsync(user, password ?? "", lockoutOnFailure: true);
        problem = result switch
        {
            { Succeeded: true } => null,
            { IsLockedOut: true } => "Too many wrong tries. Wait ten minutes.",
            _ => "This is not your password.",
        };
        return result.Succeeded;
    }

    private void TakeCodes(Outcome<IReadOnlyList<string>> made, string said)
    {
        codes = made.IsSuccess ? made.Value : [];
        Say(made.Failure, said);
    }

    private async Task<bool> TakeAsync<T>(Task<Outcome<T>> act, string said)
    {
        var outcome = await act;
        Say(outcome.Failure, said);
        return outcome.IsSuccess;
    }

    private void Say(Failure? failure, string said)
    {
        done = failure is null ? said : null;
        problem = failure?.Sentence;
    }

    /// <summary>The cookie names the state of the account as it was: this browser stays signed in with a new one.</summary>
    private async Task RenewCookieAsync()
    {
        // Read anew: this request has seen the person as they were.
        await using var scope = scopes.CreateAsyncScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<User>>();
        if (await users.GetUserAsync(Http.User) is { } user)
        {
            await signIn.RefreshSignInAsync(user);
        }

        await ShowAsync();
    }

    private static string WordOf(SignInWay way) =>
        way switch
        {
            SignInWay.Password => "by password",
            SignInWay.PasswordAndCode => "by password and app",
            SignInWay.PasswordAndRecoveryCode => "by password and a code on paper",
            SignInWay.Passkey => "by passkey",
            _ => "by PIN",
        };

    private string Local(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture);
}
