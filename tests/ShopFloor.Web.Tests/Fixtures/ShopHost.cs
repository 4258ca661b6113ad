using System.Collections.Concurrent;
using System.Net.Http.Headers;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using Microsoft.Extensions.Time.Testing;
using ShopFloor.Application.Common;
using ShopFloor.Application.People;
using ShopFloor.Application.Setup;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Tests.Fixtures;

/// <summary>The whole program on a database of its own, with a clock that only tests move, a shop that is set up, and one person for each role. Shops are set up once in a test run, and copied.</summary>
public abstract class ShopHost : WebApplicationFactory<Program>, IAsyncLifetime
{
    public const string Password = "correct horse battery";
    private const string OtherEmail = "other@shop.example";
    private readonly string folder = Directory.CreateTempSubdirectory("shopfloor-test").FullName;
    private static readonly ConcurrentDictionary<string, Lazy<Task<ShopBeginning>>> Beginnings = new();
    private string? connection;

    /// <summary>Starts on a Wednesday noon, UTC.</summary>
    public FakeTimeProvider Clock { get; } = new(new DateTimeOffset(2026, 5, 6, 12, 0, 0, TimeSpan.Zero));

    public abstract string Kind { get; }

    /// <summary>Where the shop's data lie.</summary>
    public string Folder => folder;

    /// <summary>Ids of the people, by role.</summary>
    public Dictionary<Role, PersonId> People { get; } = [];

    /// <summary>A second fabricator, for tests in which two people meet.</summary>
    public PersonId OtherFabricator { get; private set; }

    protected abstract Task<string?> NewConnectionAsync();

    /// <summary>False in tests of the set-up itself.</summary>
    protected virtual bool IsSetUp => true;

    public virtual async ValueTask InitializeAsync()
    {
        if (!IsSetUp)
        {
            connection = await NewConnectionAsync();
            StartServer();
            return;
        }

        var beginning = Beginnings.GetOrAdd(Kind, _ => new(() => ShopBeginning.MakeAsync(Kind)));
        connection = await (await beginning.Value).CopyToAsync(folder);
        StartServer();
        await ReadPeopleAsync();
    }

    /// <summary>A client that calls the API as the person with this role.</summary>
    public Task<HttpClient> ApiAsync(Role role) => ApiAsync(role, People[role]);

    /// <summary>A client that calls the API as a person (or, with null, as an integration) with this role.</summary>
    public async Task<HttpClient> ApiAsync(Role role, PersonId? person)
    {
        await using var scope = Services.CreateAsyncScope();
        var name = CreateApiKey.RoleNames.Single(r => r.Value == role).Key;
        var email = person is { } id
            ? (
                await scope
                    .ServiceProvider.GetRequiredService<Microsoft.AspNetCore.Identity.UserManager<Data.Identity.User>>()
                    .FindByIdAsync(id.ToString())
            )!.Email
            : null;
        var key = await scope
            .ServiceProvider.GetRequiredService<CreateApiKey>()
            .RunAsync(new CreateApiKey.Request("test", name, email), Envelope.Of(Actor.System), CancellationToken.None);
        var client = CreateClient(new WebApplicationFactoryClientOptions { AllowAutoRedirect = false });
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key.Value.Key);
        return client;
    }

    /// <summary>Runs something with the program's own services.</summary>
    public async Task<T> WithAsync<TService, T>(Func<TService, Task<T>> act)
        where TService : notnull
    {
        await using var scope = Services.CreateAsyncScope();
        return await act(scope.ServiceProvider.GetRequiredService<TService>());
    }

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        builder.UseEnvironment("Development");
        builder.UseSetting("SHOPFLOOR_DATA", folder);
        builder.UseSetting("SHOPFLOOR_PUBLIC_URL", "https://shop.example");
        builder.UseSetting("SHOPFLOOR_WEBHOOK_NETWORKS", "127.0.0.1");
        builder.UseSetting("Logging:LogLevel:Default", "Warning");
        builder.LogToFile(GetType().Name);
        if (connection is not null)
        {
            builder.UseSetting("SHOPFLOOR_DATABASE", "postgres");
            builder.UseSetting("ConnectionStrings:ShopFloor", connection);
        }

        builder.ConfigureTestServices(services =>
        {
            services.Replace(ServiceDescriptor.Singleton<TimeProvider>(Clock));
            // Hundreds of people sign in here, and nobody attacks their hashes.
            services.Configure<PasswordHasherOptions>(o => o.IterationCount = 5_000);
            // Tests say when messages are sent, weeks noted for mail, parts missed, plans and backups made; that the server does so by itself is seen in the browser and where it is killed.
            services.Remove(services.Single(d => d.ImplementationType == typeof(MailWorker)));
            services.Remove(services.Single(d => d.ImplementationType == typeof(WebhookWorker)));
            services.Remove(services.Single(d => d.ImplementationType == typeof(PlanWorker)));
            services.Remove(services.Single(d => d.ImplementationType == typeof(ForecastWorker)));
            services.Remove(services.Single(d => d.ImplementationType == typeof(MissedParts)));
            services.Remove(services.Single(d => d.ImplementationType == typeof(WeekMailWorker)));
            services.Remove(services.Single(d => d.ImplementationType == typeof(BackupWorker)));
        });
    }

    /// <summary>Sets the shop up, with its people; keeps its data.</summary>
    internal async Task<ShopBeginning> BeginAsync()
    {
        await SetUpAsync();
        return await ShopBeginning.OfAsync(folder, connection);
    }

    private async Task SetUpAsync()
    {
        await using var scope = Services.CreateAsyncScope();
        var setUp = scope.ServiceProvider.GetRequiredService<SetUpShop>();
        var details = new Shop.Details(
            "Test Works",
            "Test Works Ltd",
            "1 Test Lane",
            "T-1",
            null,
            null,
            null,
            "Europe/Berlin",
            "mm",
            null,
            false
        );
        var shop = await setUp.RunAsync(
            new SetUpShop.Request(details, "EUR", true, "Olga Owner", EmailOf(Role.Owner), Password),
            CancellationToken.None
        );
        Assert.True(shop.IsSuccess, shop.Failure?.Sentence);
        var people = scope.ServiceProvider.GetRequiredService<AddPerson>();
        foreach (var role in Enum.GetValues<Role>().Where(r => r != Role.Owner))
        {
            await AddAsync(people, $"{role} Person", EmailOf(role), role);
        }

        await AddAsync(people, "Other Fabricator", OtherEmail, Role.Fabricator);
    }

    private static async Task AddAsync(AddPerson people, string name, string email, Role role)
    {
        var added = await people.RunAsync(
            new AddPerson.Request(name, email, Password, [role]),
            Envelope.Of(Actor.System),
            CancellationToken.None
        );
        Assert.True(added.IsSuccess, added.Failure?.Sentence);
    }

    private async Task ReadPeopleAsync()
    {
        foreach (var role in Enum.GetValues<Role>())
        {
            People[role] = await IdOfAsync(EmailOf(role));
        }

        OtherFabricator = await IdOfAsync(OtherEmail);
    }

    private Task<PersonId> IdOfAsync(string email) =>
        WithAsync<Microsoft.AspNetCore.Identity.UserManager<Data.Identity.User>, PersonId>(async users =>
            new((await users.FindByEmailAsync(email))!.Id)
        );

    private static string EmailOf(Role role) => $"{role}@shop.example".ToLowerInvariant();

    /// <summary>Another shop of the same kind, for a test that spoils its own; begin it, and dispose of it.</summary>
    public ShopHost Another() => Kind == "postgres" ? new PostgresShop() : new SqliteShop();

    public override async ValueTask DisposeAsync()
    {
        await base.DisposeAsync();
        // Only its own: other shops of this run are at work.
        using (var own = new Microsoft.Data.Sqlite.SqliteConnection(ShopDatabase.SqliteIn(folder).ConnectionString))
        {
            Microsoft.Data.Sqlite.SqliteConnection.ClearPool(own);
        }

        // Out of the way first: a connection that closes late can then write no file into what is being emptied.
        var gone = folder + "-gone";
        Directory.Move(folder, gone);
        Directory.Delete(gone, recursive: true);
        GC.SuppressFinalize(this);
    }
}

/// <summary>The program on SQLite.</summary>
public sealed class SqliteShop : ShopHost
{
    public override string Kind => "sqlite";

    protected override Task<string?> NewConnectionAsync() => Task.FromResult<string?>(null);
}

/// <summary>The program on PostgreSQL.</summary>
public sealed class PostgresShop : ShopHost
{
    public override string Kind => "postgres";

    protected override async Task<string?> NewConnectionAsync() => await PostgresServer.NewDatabaseAsync();
}
