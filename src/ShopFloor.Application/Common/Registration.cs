using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using ShopFloor.Application.Files;
using ShopFloor.Application.Inspection;
using ShopFloor.Application.Integrations;
using ShopFloor.Application.Materials;
using ShopFloor.Application.Messages;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Application.RuleSets;
using ShopFloor.Application.SignIns;
using ShopFloor.Data;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Integrations;

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
        services.AddSingleton<Solving.SolverRuns>();
        services.AddSingleton<Progress.LinkPauses>();
        services.AddSingleton<QueryRunner>();
        services.AddSingleton<RuleSetLibrary>();
        services.AddSingleton<InspectionLibrary>();
        services.AddSingleton<JointLibrary>();
        services.AddSingleton<RouteLibrary>();
        services.AddSingleton<IWorkContentSource>(s => s.GetRequiredService<RouteLibrary>());
        services.AddSingleton<MessageSeal>();
        services.AddSingleton<SignInSecrets>();
        services.TryAddSingleton(new BreachedPasswords(null));
        services.AddSingleton<PasswordRule>();
        services.AddSingleton<WebhookSecrets>();
        services.TryAddSingleton(new ReachableNetworks([]));
        services.TryAddSingleton<IWebhookTransport, HttpWebhookTransport>();
        services.AddSingleton<SendingGate>();
        services.TryAddSingleton<IMailTransport, SmtpTransport>();
        services.AddFiles(database);
        services.AddHooks();
        foreach (
            var useCase in typeof(IUseCase)
                .Assembly.GetTypes()
                .Where(t => t is { IsClass: true, IsAbstract: false } && t.IsAssignableTo(typeof(IUseCase)))
        )
        {
            services.AddTransient(useCase);
        }

        services.TryAddSingleton<IPapers, PdfPapers>();
        services.TryAddSingleton<IWorkbenchPapers, WorkbenchPapers>();
        return services;
    }

    /// <summary>Registers every class of this assembly under each hook that it implements.</summary>
    private static void AddHooks(this IServiceCollection services)
    {
        foreach (var type in typeof(IHook).Assembly.GetTypes().Where(t => t is { IsClass: true, IsAbstract: false }))
        {
            foreach (var hook in type.GetInterfaces().Where(i => i != typeof(IHook) && i.IsAssignableTo(typeof(IHook))))
            {
                services.AddTransient(hook, type);
            }
        }
    }
}
