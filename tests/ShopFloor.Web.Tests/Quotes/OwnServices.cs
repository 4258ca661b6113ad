namespace ShopFloor.Web.Tests.Quotes;

/// <summary>The program's own classes; the framework's come from the test context.</summary>
internal sealed class OwnServices(IServiceProvider services) : IServiceProvider
{
    public object? GetService(Type serviceType) =>
        serviceType.Namespace?.StartsWith("ShopFloor.", StringComparison.Ordinal) == true
            ? services.GetService(serviceType)
            : null;
}
