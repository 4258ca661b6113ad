using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using ShopFloor.Application.Files;
using ShopFloor.Application.History;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Application.RuleSets;
using ShopFloor.Application.Setup;
using ShopFloor.Data;
using ShopFloor.Documents.Papers;

namespace ShopFloor.Application.Common;

public static class Registration
{
    /// <summary>Registers the database, the runners and every use case of this assembly.</summary>
    public static IServiceCollection AddShopFloor(this IServiceCollection services, ShopDatabase database)
    {
        services.TryAddSingleton(TimeProvider.System);
        services.AddSingleton(database);
        services.AddDbContextFactory<ShopDbContext>(database.Configure);
        services.TryAddSingleton<ChangeHub>();
        services.TryAddSingleton<IChangeNotices>(s => s.GetRequiredService<ChangeHub>());
        services.AddSingleton<CommandRunner>();
        services.AddSingleton<QueryRunner>();
        services.AddSingleton<RuleSetLibrary>();
        services.AddSingleton<InspectionLibrary>();
        services.AddSingleton<RouteLibrary>();
        services.AddSingleton<IWorkContentSource>(s => s.GetRequiredService<RouteLibrary>());
        services.AddEach<IJobOpening>();
        services.AddFiles(database);
        foreach (
            var useCase in typeof(IUseCase)
                .Assembly.GetTypes()
                .Where(t => t is { IsClass: true, IsAbstract: false } && t.IsAssignableTo(typeof(IUseCase)))
        )
        {
            services.AddTransient(useCase);
        }

        services.AddEach<IShopStarter>();
        services.AddEach<IVerifier>();
        services.TryAddSingleton<IPapers, PdfPapers>();
        return services;
    }

    /// <summary>Registers every class of this assembly that implements a hook.</summary>
    public static void AddEach<THook>(this IServiceCollection services)
    {
        foreach (
            var type in typeof(THook)
                .Assembly.GetTypes()
                .Where(t => t is { IsClass: true, IsAbstract: false } && t.IsAssignableTo(typeof(THook)))
        )
        {
            services.AddTransient(typeof(THook), type);
        }
    }
}
