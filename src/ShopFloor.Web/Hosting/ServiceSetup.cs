using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Identity;
using MudBlazor.Services;
using ShopFloor.Application.Backups;
using ShopFloor.Application.Common;
using ShopFloor.Application.Messages;
using ShopFloor.Application.Planning;
using ShopFloor.Application.SignIns;
using ShopFloor.Data;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Integrations;
using ShopFloor.Domain.Nesting;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Planning.JobShop;
using ShopFloor.Solvers.JobShop;
using ShopFloor.Solvers.Nesting;
using ShopFloor.Solvers.ShopPlan;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Devices;
using ShopFloor.Web.Features.Progress;
using ShopFloor.Web.Layout;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Hosting;

public static class ServiceSetup
{
    /// <summary>The API knows keys only, pages know cookies only.</summary>
    private const string ByPath = "ByPath";

    /// <summary>Everything the program needs, pages or not (admin commands use it too).</summary>
    public static void AddShopFloorServices(this WebApplicationBuilder builder, Settings settings)
    {
        var services = builder.Services;
        services.AddSingleton(settings);
        services.AddShopFloor(settings.Database);
        services.AddSingleton(settings.Backups);
        services.AddSingleton<BackupWriter>();
        services.AddSingleton<INestSolver, CuttingStockSolver>();
        services.AddSingleton<IJobShopSolver, CpSatJobShopSolver>();
        services.AddSingleton(new PublicAddress(settings.PublicUrl));
        services.AddSingleton(new ReachableNetworks(settings.WebhookNetworks));
        services
            .AddIdentityCore<User>(o =>
            {
                ConfigureStores(o);
                o.User.RequireUniqueEmail = true;
                o.Password.RequireDigit =
                    o.Password.RequireLowercase =
                    o.Password.RequireUppercase =
                    o.Password.RequireNonAlphanumeric =
                        false;
                o.Password.RequiredLength = PasswordRule.Shortest;
                o.Lockout.MaxFailedAccessAttempts = 8;
                o.Lockout.DefaultLockoutTimeSpan = TimeSpan.FromMinutes(10);
            })
            .AddRoles<ShopRole>()
            .AddEntityFrameworkStores<ShopDbContext>()
            .AddSignInManager<ShopSignInManager>()
            .AddClaimsPrincipalFactory<PersonClaims>()
            .AddDefaultTokenProviders();
        // What OWASP's sheet on storing passwords asks for with HMAC-SHA-512, as quoted by others; older hashes are made anew at the next sign-in.
        services.Configure<PasswordHasherOptions>(o => o.IterationCount = 210_000);
        services.AddSingleton(new BreachedPasswords(settings.BreachedPasswords));
        services.Configure<IdentityPasskeyOptions>(o =>
        {
            // Never from the Host header.
            o.ServerDomain = new Uri(settings.PublicUrl).Host;
            o.UserVerificationRequirement = "required";
            o.ResidentKeyRequirement = "required";
        });
        services.AddDataProtection().SetApplicationName("ShopFloor").PersistKeysToDbContext<ShopDbContext>();
    }

    /// <summary>Identity's newest table layout, passkeys included; the model depends on it, so design-time tools ask here too.</summary>
    internal static void ConfigureStores(IdentityOptions options) =>
        options.Stores.SchemaVersion = IdentitySchemaVersions.Version3;

    /// <summary>What serving pages and the API needs on top.</summary>
    public static void AddShopFloorWeb(this WebApplicationBuilder builder)
    {
        var services = builder.Services;
        builder.AddWatching();
        builder.WebHost.UseStaticWebAssets();
        builder.WebHost.ConfigureKestrel(o =>
        {
            o.AddServerHeader = false;
            o.Limits.MaxRequestBodySize = 20 * 1024 * 1024;
        });
        services.AddRazorComponents().AddInteractiveServerComponents();
        services.AddCascadingAuthenticationState();
        // Not at the top right, where many pages have the button that is pressed next.
        services.AddMudServices(c =>
            c.SnackbarConfiguration.PositionClass = MudBlazor.Defaults.Classes.Position.BottomLeft
        );
        services.AddHttpContextAccessor();
        services.AddSingleton<SetupGate>();
        services.AddSingleton<ShopHead>();
        services.AddSingleton<Features.Inspection.SpokenMessages>();
        services.AddScoped<AuthenticationStateProvider, SignInState>();
        services
            .AddAuthentication(ByPath)
            .AddPolicyScheme(
                ByPath,
                null,
                o =>
                    o.ForwardDefaultSelector = c =>
                        c.Request.Path.StartsWithSegments("/api")
                            ? ApiKeyAuthentication.SchemeName
                            : IdentityConstants.ApplicationScheme
            )
            .AddScheme<Microsoft.AspNetCore.Authentication.AuthenticationSchemeOptions, ApiKeyAuthentication>(
                ApiKeyAuthentication.SchemeName,
                null
            )
            .AddIdentityCookies();
        services.Configure<SecurityStampValidatorOptions>(o =>
        {
            o.ValidationInterval = TimeSpan.FromMinutes(1);
            o.OnRefreshingPrincipal = DeviceSessions.KeepClaimsAsync;
        });
        services.ConfigureApplicationCookie(o =>
        {
            o.LoginPath = "/sign-in";
            o.AccessDeniedPath = "/no-access";
            o.Cookie.SameSite = SameSiteMode.Lax;
            o.ExpireTimeSpan = TimeSpan.FromDays(14);
            o.Events.OnValidatePrincipal = async context =>
            {
                if (context.HttpContext.Features.Get<IExceptionHandlerFeature>() is not null)
                {
                    // The page that says what went wrong asks nobody: the database may be what is away.
                    context.RejectPrincipal();
                    return;
                }

                await SecurityStampValidator.ValidatePrincipalAsync(context);
                await DeviceSessions.CheckAsync(context);
            };
            o.Events.OnRedirectToLogin = context =>
            {
                context.Response.Redirect(DeviceCookie.SignInFor(context.HttpContext) ?? context.RedirectUri);
                return Task.CompletedTask;
            };
        });
        services.AddCookieRules();
        services.AddTrustedProxies();
        services.AddSingleton<IAuthorizationPolicyProvider, PermissionPolicies>();
        services.AddSingleton<IAuthorizationHandler, PermissionHandler>();
        services.AddSingleton<IAuthorizationMiddlewareResultHandler, ToldRefusals>();
        // Deny by default: what declares nothing needs a signed-in person.
        services
            .AddAuthorizationBuilder()
            .SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build());
        services.ConfigureHttpJsonOptions(o => ApiJson.Configure(o.SerializerOptions));
        services.AddProblemDetails(o => o.CustomizeProblemDetails = Troubles.Describe);
        services.AddOpenApi(
            "v1",
            o =>
            {
                o.ShouldInclude = d => d.RelativePath?.StartsWith("api/v1", StringComparison.Ordinal) == true;
                o.CreateSchemaReferenceId = ApiSchemas.NameOf;
                o.AddSchemaTransformer(ApiSchemas.Describe);
            }
        );
        services.AddAntiforgery(o => o.HeaderName = "X-CSRF-TOKEN");
        services
            .AddHealthChecks()
            .AddCheck<DatabaseHealth>("database", tags: ["ready"])
            .AddCheck<BackupHealth>("backup", tags: ["ready"])
            .AddCheck<DiskHealth>("disk", tags: ["ready"])
            .AddCheck<OutboxHealth>("outbox", tags: ["ready"]);
        services.AddChangeNotices();
        services.AddSingleton<IHttpContextFactory, SecretPaths>();
        services.AddProgressPage();
        services.AddSingleton<IdempotencyCleanup>();
        services.AddHostedService(s => s.GetRequiredService<IdempotencyCleanup>());
        services.AddHostedService<MailWorker>();
        services.AddHostedService<WebhookWorker>();
        services.AddSingleton<PlanQueue>();
        services.AddSingleton<IPlanSolver, CpSatPlanSolver>();
        services.AddHostedService<PlanWorker>();
        services.AddHostedService<ForecastWorker>();
        services.AddHostedService<MissedParts>();
        services.AddHostedService<WeekMailWorker>();
        services.AddHostedService<BackupWorker>();
    }
}
