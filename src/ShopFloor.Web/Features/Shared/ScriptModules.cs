using Microsoft.JSInterop;

namespace ShopFloor.Web.Features.Shared;

public static class ScriptModules
{
    /// <summary>Gives a page's script up when the page is closed. Where the browser is gone already, the script went with it.</summary>
    public static async ValueTask CloseAsync(this IJSObjectReference? module)
    {
        if (module is null)
        {
            return;
        }

        try
        {
            await module.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // The connection was cut before.
        }
        catch (OperationCanceledException)
        {
            // The connection was cut while the browser was being told.
        }
    }
}
