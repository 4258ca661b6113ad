using MudBlazor;

namespace ShopFloor.Web.Layout;

/// <summary>Frame of the office pages: the shop's name leads, then the menu, then the page.</summary>
public partial class OfficeLayout
{
    private MudTheme theme = ShopTheme.Of(Domain.Common.Shop.DefaultAccent);
    private MudThemeProvider? provider;
    private bool isDark;
    private bool isOpen = true;
    private string shopName = "";

    protected override async Task OnInitializedAsync()
    {
        var head = await Head.ReadAsync();
        shopName = head?.Name ?? "ShopFloor";
        theme = ShopTheme.Of(head?.Accent ?? Domain.Common.Shop.DefaultAccent);
    }

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (firstRender && provider is not null && await provider.GetSystemDarkModeAsync() && !isDark)
        {
            isDark = true;
            StateHasChanged();
        }
    }
}
