using ShopFloor.Application.Common;
using ShopFloor.Application.Setup;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>A new shop that takes the starter data gets the shipped route templates as its own.</summary>
public sealed class RouteStarter(RouteLibrary library) : IShopStarter
{
    public Task AddAsync(Shop shop, CommandScope scope)
    {
        ArgumentNullException.ThrowIfNull(scope);
        foreach (var template in library.Shipped)
        {
            var edition = RouteEdition.Shipped(scope.NewId<RouteEditionId>(), template, scope.Now);
            scope.Db.Add(edition);
            scope.Record(RouteTemplateStore.Event("routeTemplate.shipped", edition));
        }

        return Task.CompletedTask;
    }
}
