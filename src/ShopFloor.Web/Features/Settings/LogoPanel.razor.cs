using Microsoft.AspNetCore.Components.Forms;
using ShopFloor.Application.Setup;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Settings;

/// <summary>Putting the shop's logo on its papers.</summary>
public partial class LogoPanel(ShopLogo logo)
{
    private bool hasLogo;
    private bool isAsking;
    private bool isSaving;
    private long version;
    private string? problem;

    protected override async Task<Failure?> LoadAsync()
    {
        hasLogo = (await logo.ReadAsync(Actor, Closing)).IsSuccess;
        return null;
    }

    private async Task SetAsync(InputFileChangeEventArgs change)
    {
        if (change.File.Size > ShopLogo.MostBytes)
        {
            problem = $"{change.File.Name} has more than {ShopLogo.MostBytes / 1024 / 1024} MB. Save it smaller.";
            return;
        }

        var bytes = new byte[change.File.Size];
        await using var stream = change.File.OpenReadStream(ShopLogo.MostBytes, Closing);
        await stream.ReadExactlyAsync(bytes, Closing);
        await TakeAsync(() => logo.SetAsync(bytes, Envelope(NewKey()), Closing), "The logo is on the papers.");
    }

    private Task RemoveAsync() =>
        TakeAsync(() => logo.RemoveAsync(Envelope(NewKey()), Closing), "The logo is off the papers.");

    private async Task TakeAsync(Func<Task<Outcome<LogoView>>> act, string done)
    {
        isSaving = true;
        var outcome = await act();
        (isSaving, isAsking) = (false, false);
        problem = outcome.Failure?.Sentence;
        if (problem is null && Accepted(outcome, out var view, done))
        {
            (hasLogo, version) = (view.HasLogo, view.Version);
        }
    }
}
