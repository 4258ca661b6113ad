using Microsoft.AspNetCore.Diagnostics.HealthChecks;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Backups;
using ShopFloor.Application.RuleSets;
using ShopFloor.Application.Setup;
using ShopFloor.Data;
using ShopFloor.Web.Api;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Hosting;

/// <summary>Serves the shop: pages, API, customer links.</summary>
public static class Server
{
    public static async Task<int> RunAsync(string[] args)
    {
        var builder = WebApplication.CreateBuilder(args);
        var settings = Settings.Read(builder.Configuration);
        if (
            string.IsNullOrEmpty(builder.Configuration["ASPNETCORE_URLS"])
            && string.IsNullOrEmpty(builder.Configuration["urls"])
        )
        {
            builder.WebHost.UseUrls(Settings.DefaultUrl);
        }

        builder.AddShopFloorServices(settings);
        builder.AddShopFloorWeb();
        var app = builder.Build();
        app.UseShopFloor();
        using var running = Running(settings.Database);
        await MigrateAsync(app.Services);
        await LoadRuleSetsAsync(app.Services);
        if (args.Contains("--demo"))
        {
            await LoadDemoAsync(app.Services);
        }

        await AnnounceAsync(app, settings);
        await app.RunAsync();
        return 0;
    }

    /// <summary>Brings the database up to date. Safe with several servers: the migration takes a lock.</summary>
    /// <exception cref="ConfigurationException">The database cannot be reached.</exception>
    public static async Task MigrateAsync(IServiceProvider services)
    {
        await using var db = await services
            .GetRequiredService<IDbContextFactory<ShopDbContext>>()
            .CreateDbContextAsync();
        try
        {
            await BackUpBeforeUpgradeAsync(services, db);
            await db.Database.MigrateAsync();
        }
        catch (Exception exception)
            when (exception
                    is System.Data.Common.DbException
                        or InvalidOperationException { InnerException: System.Data.Common.DbException }
            )
        {
            throw new ConfigurationException(
                $"The database cannot be opened: {exception.GetBaseException().Message}",
                exception
            );
        }
    }

    /// <summary>A database that a newer program is about to change is backed up first; a new one has nothing to lose.</summary>
    private static async Task BackUpBeforeUpgradeAsync(IServiceProvider services, ShopDbContext db)
    {
        var settings = services.GetRequiredService<Settings>();
        if (
            settings.UpgradesWithoutBackup
            || !(await db.Database.GetAppliedMigrationsAsync()).Any()
            || !(await db.Database.GetPendingMigrationsAsync()).Any()
        )
        {
            return;
        }

        try
        {
            var passphrase = await settings.Backups.PassphraseAsync(CancellationToken.None);
            var name = BackupWriter.NameFor(
                services.GetRequiredService<TimeProvider>().GetUtcNow(),
                passphrase is not null,
                "before-upgrade-"
            );
            var made = await services
                .GetRequiredService<BackupWriter>()
                .WriteAsync(Path.Combine(settings.Backups.Folder, name), passphrase, CancellationToken.None);
            Console.Error.WriteLine($"The database is brought up to date. As it was before, it lies in {made.Path}.");
        }
        catch (BackupException trouble)
        {
            throw new ConfigurationException(
                $"The database was not brought up to date, because it could not be backed up before: {trouble.Message} "
                    + "Mend that, or set SHOPFLOOR_UPGRADE_WITHOUT_BACKUP=yes once you have a copy of your own.",
                trouble
            );
        }
    }

    /// <summary>While the program serves from a folder, nothing is restored into it. On PostgreSQL its connections show that.</summary>
    private static IDisposable? Running(ShopDatabase database)
    {
        try
        {
            return database.Kind == DatabaseKind.Sqlite ? RunningLock.Share(database.DataFolder) : null;
        }
        catch (BackupException trouble)
        {
            throw new ConfigurationException(trouble.Message, trouble);
        }
    }

    /// <summary>Stores the rule sets that a newer program brought. Safe with several servers; a start without news writes nothing.</summary>
    /// <exception cref="ConfigurationException">They could not be stored.</exception>
    public static async Task LoadRuleSetsAsync(IServiceProvider services)
    {
        await using var scope = services.CreateAsyncScope();
        var outcome = await scope
            .ServiceProvider.GetRequiredService<LoadShippedRuleSets>()
            .RunAsync(CancellationToken.None);
        if (outcome.Failure is { } failure)
        {
            throw new ConfigurationException($"The rule sets could not be stored: {failure.Sentence}");
        }
    }

    private static async Task LoadDemoAsync(IServiceProvider services)
    {
        await using var scope = services.CreateAsyncScope();
        foreach (
            var line in await scope.ServiceProvider.GetRequiredService<IDemoData>().LoadAsync(CancellationToken.None)
        )
        {
            Console.WriteLine(line);
        }
    }

    private static async Task AnnounceAsync(WebApplication app, Settings settings)
    {
        var gate = app.Services.GetRequiredService<SetupGate>();
        if (!await gate.IsCompleteAsync(CancellationToken.None))
        {
            Console.WriteLine();
            Console.WriteLine(
                $"  This shop is not set up yet. Open {settings.PublicUrl}{SetupRedirect.Page} and enter the code  {gate.Code}"
            );
            Console.WriteLine();
        }
    }

    private static void UseShopFloor(this WebApplication app)
    {
        app.UseForwardedHeaders();
        app.UseMiddleware<PageHeaders>();
        app.UseWhen(
            IsApi,
            api =>
                api.UseExceptionHandler(new ExceptionHandlerOptions { StatusCodeSelector = Troubles.StatusOf })
                    .UseStatusCodePages()
        );
        app.UseWhen(
            c => !IsApi(c),
            pages =>
                pages
                    .UseExceptionHandler(
                        new ExceptionHandlerOptions
                        {
                            ExceptionHandlingPath = "/error",
                            CreateScopeForErrors = true,
                            StatusCodeSelector = Troubles.StatusOf,
                        }
                    )
                    .UseStatusCodePagesWithReExecute("/not-found", createScopeForStatusCodePages: true)
        );
        // After the pages for errors, so that they are routed anew.
        app.UseRouting();
        app.Use(SecretPaths.Restore);
        app.UseMiddleware<SetupRedirect>();
        app.UseAuthentication();
        app.UseAuthorization();
        app.UseAntiforgery();
        app.UseMiddleware<OldPageAnswer>();
        app.MapStaticAssets().AllowAnonymous();
        app.MapHealthChecks("/health/live", new HealthCheckOptions { Predicate = _ => false }).AllowAnonymous();
        app.MapHealthChecks("/health/ready", new HealthCheckOptions { Predicate = c => c.Tags.Contains("ready") })
            .AllowAnonymous();
        app.MapOpenApi("/openapi/{documentName}.json").AllowAnonymous();
        app.MapAllEndpoints();
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode();
    }

    private static bool IsApi(HttpContext context) => context.Request.Path.StartsWithSegments("/api");
}
