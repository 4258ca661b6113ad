using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Setup;

namespace ShopFloor.EndToEnd.Tests.Fixtures;

/// <summary>The invented demo shop, loaded as <c>./run.sh --demo</c> loads it.</summary>
public sealed class DemoShop : BrowserShop
{
    public const string Owner = "rosa@hollowlane.example.com";
    public const string FrontDesk = "ines@hollowlane.example.com";
    public const string Fabricator = "jonas@hollowlane.example.com";
    public const string Inspector = "tove@hollowlane.example.com";

    protected override string Beginning => "demo";

    protected override async Task FillAsync(IServiceProvider services)
    {
        var lines = await services.GetRequiredService<IDemoData>().LoadAsync(CancellationToken.None);
        Assert.Contains(lines, line => line.Contains(Owner, StringComparison.Ordinal));
    }
}
