using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using ShopFloor.EndToEnd.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.Story;

/// <summary>A staffed shop whose server clock can be moved forward.</summary>
public sealed class StoryShop : StaffedShop
{
    public MovableClock Clock { get; } = new();

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        base.ConfigureWebHost(builder);
        builder.ConfigureTestServices(services => services.Replace(ServiceDescriptor.Singleton<TimeProvider>(Clock)));
    }
}
