using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Layout;

/// <summary>After going to another page, readers of screens begin at its heading. The framework's own <c>FocusOnNavigate</c> takes the focus also from a field in which somebody types already, and with it their strokes; this one leaves them alone.</summary>
public sealed class HeadingFocus(IJSRuntime script) : ComponentBase, IAsyncDisposable
{
    private IJSObjectReference? module;
    private Type? shown;
    private bool isDue;

    [Parameter, EditorRequired]
    public Microsoft.AspNetCore.Components.RouteData RouteData { get; set; } = default!;

    protected override void OnParametersSet()
    {
        isDue |= shown != RouteData.PageType;
        shown = RouteData.PageType;
    }

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (!isDue)
        {
            return;
        }

        isDue = false;
        try
        {
            module ??= await script.InvokeAsync<IJSObjectReference>("import", "./js/heading-focus.js");
            await module.InvokeVoidAsync("focusHeading");
        }
        catch (Exception exception) when (exception is JSException or JSDisconnectedException or TaskCanceledException)
        {
            // The page is gone, or the script did not come: no reason to end what somebody does on it.
        }
    }

    public ValueTask DisposeAsync() => module.CloseAsync();
}
