using MudBlazor;

namespace ShopFloor.Web.Layout;

/// <summary>One neutral palette with the shop's accent; light and dark.</summary>
public static class ShopTheme
{
    private static readonly string[] Fonts = ["system-ui", "Segoe UI", "Roboto", "DejaVu Sans", "sans-serif"];

    public static MudTheme Of(string accent) =>
        new()
        {
            PaletteLight = new PaletteLight
            {
                Primary = accent,
                Background = "#f6f5f2",
                Surface = "#ffffff",
                AppbarBackground = "#2b2f33",
                AppbarText = "#ffffff",
                DrawerBackground = "#efede8",
                TextPrimary = "#1f2326",
                TextSecondary = "#4c5358",
                Error = "#a3261b",
                Warning = "#8a5300",
                Success = "#226b35",
                Info = "#245b8a",
            },
            PaletteDark = new PaletteDark
            {
                Primary = "#8fcdb8",
                PrimaryContrastText = "#10201b",
                Background = "#17191b",
                Surface = "#202427",
                AppbarBackground = "#101214",
                DrawerBackground = "#1b1e20",
                TextPrimary = "#f0efec",
                TextSecondary = "#bfc4c8",
                Error = "#ff9d92",
                ErrorContrastText = "#2a0a06",
                Warning = "#f0b65e",
                WarningContrastText = "#241500",
                Success = "#8fd6a0",
                SuccessContrastText = "#0c2113",
                Info = "#93c4ef",
                InfoContrastText = "#081a2b",
            },
            Typography = new Typography
            {
                Default = new DefaultTypography { FontFamily = Fonts },
                H1 = new H1Typography
                {
                    FontSize = "1.6rem",
                    FontWeight = "650",
                    LineHeight = "1.25",
                },
                H2 = new H2Typography
                {
                    FontSize = "1.2rem",
                    FontWeight = "650",
                    LineHeight = "1.3",
                },
                Button = new ButtonTypography { TextTransform = "none" },
            },
            LayoutProperties = new LayoutProperties { DefaultBorderRadius = "6px" },
        };
}
