using ShopFloor.Application.Backups;
using ShopFloor.Data;

namespace ShopFloor.Web.Hosting;

/// <summary>What the surroundings decide: where data lies, which database, under which address customers reach the shop.</summary>
/// <param name="Database">Kind, connection and data folder.</param>
/// <param name="PublicUrl">Address that links are built from, without a slash at its end; never taken from the Host header.</param>
/// <param name="Backups">Where backups go and how.</param>
/// <param name="BreachedPasswords">A file of passwords that have leaked elsewhere, as sorted SHA-1 hashes; null: none.</param>
/// <param name="UpgradesWithoutBackup">Whether a newer program may change the database although it could not be backed up before.</param>
public sealed record Settings(
    ShopDatabase Database,
    string PublicUrl,
    BackupSettings Backups,
    bool UpgradesWithoutBackup = false,
    string? BreachedPasswords = null
)
{
    /// <summary>Networks of the proxies whose word on the caller's address and on https is taken; the machine itself always is.</summary>
    public IReadOnlyList<System.Net.IPNetwork> Proxies { get; init; } = [];

    /// <summary>Networks that webhooks may be sent into although they are not the public internet.</summary>
    public IReadOnlyList<System.Net.IPNetwork> WebhookNetworks { get; init; } = [];

    /// <summary>Whether the shop is reached by https.</summary>
    public bool IsSecure => PublicUrl.StartsWith("https://", StringComparison.Ordinal);

    public const string DefaultUrl = "http://localhost:5080";

    /// <summary>Reads and checks the configuration.</summary>
    /// <exception cref="ConfigurationException">Something is wrong; the message is one sentence for the person who started the program.</exception>
    public static Settings Read(IConfiguration configuration)
    {
        var folder = Path.GetFullPath(configuration["SHOPFLOOR_DATA"] ?? "data");
        var kind = configuration["SHOPFLOOR_DATABASE"] ?? "sqlite";
        var connection = configuration.GetConnectionString("ShopFloor");
        var database = kind switch
        {
            "sqlite" when string.IsNullOrWhiteSpace(connection) => ShopDatabase.SqliteIn(folder),
            "sqlite" => new ShopDatabase(DatabaseKind.Sqlite, connection, folder),
            "postgres" when string.IsNullOrWhiteSpace(connection) => throw new ConfigurationException(
                "SHOPFLOOR_DATABASE is postgres, but ConnectionStrings__ShopFloor is empty: give the connection string."
            ),
            "postgres" => new ShopDatabase(DatabaseKind.Postgres, connection, folder),
            _ => throw new ConfigurationException($"SHOPFLOOR_DATABASE is '{kind}', but must be sqlite or postgres."),
        };
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            throw new ConfigurationException(
                $"The data folder '{folder}' cannot be made or written: {exception.Message}",
                exception
            );
        }

        var address =
            configuration["SHOPFLOOR_PUBLIC_URL"] ?? configuration["ASPNETCORE_URLS"]?.Split(';')[0] ?? DefaultUrl;
        return
            Uri.TryCreate(
                address
                    .Replace("://*", "://localhost", StringComparison.Ordinal)
                    .Replace("://+", "://localhost", StringComparison.Ordinal),
                UriKind.Absolute,
                out var url
            ) && (url.Scheme is "http" or "https")
            ? new Settings(
                database,
                url.GetLeftPart(UriPartial.Path).TrimEnd('/'),
                new BackupSettings(
                    Path.GetFullPath(configuration["SHOPFLOOR_BACKUPS"] ?? Path.Combine(folder, "backups")),
                    IsOn(configuration, "SHOPFLOOR_DAILY_BACKUP", unsaid: true),
                    configuration["SHOPFLOOR_BACKUP_PASSPHRASE_FILE"]
                ),
                IsOn(configuration, "SHOPFLOOR_UPGRADE_WITHOUT_BACKUP", unsaid: false),
                BreachedListOf(configuration)
            )
            {
                Proxies = NetworksOf(configuration, "SHOPFLOOR_TRUSTED_PROXIES"),
                WebhookNetworks = NetworksOf(configuration, "SHOPFLOOR_WEBHOOK_NETWORKS"),
            }
            : throw new ConfigurationException(
                $"SHOPFLOOR_PUBLIC_URL is '{address}', but must be an address such as https://shop.example."
            );
    }

    private static List<System.Net.IPNetwork> NetworksOf(IConfiguration configuration, string name)
    {
        List<System.Net.IPNetwork> networks = [];
        foreach (
            var text in (configuration[name] ?? "").Split(
                ',',
                StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries
            )
        )
        {
            if (System.Net.IPNetwork.TryParse(text, out var network))
            {
                networks.Add(network);
            }
            else if (System.Net.IPAddress.TryParse(text, out var address))
            {
                networks.Add(new System.Net.IPNetwork(address, address.GetAddressBytes().Length * 8));
            }
            else
            {
                throw new ConfigurationException(
                    $"{name} holds '{text}', but must be addresses or networks such as 192.0.2.7 or 192.0.2.0/24, with commas between."
                );
            }
        }

        return networks;
    }

    private static string? BreachedListOf(IConfiguration configuration) =>
        configuration["SHOPFLOOR_BREACHED_PASSWORDS"] switch
        {
            null or "" => null,
            var file when File.Exists(file) => Path.GetFullPath(file),
            var file => throw new ConfigurationException(
                $"SHOPFLOOR_BREACHED_PASSWORDS names '{file}', but there is no such file."
            ),
        };

    private static bool IsOn(IConfiguration configuration, string name, bool unsaid) =>
        configuration[name] switch
        {
            null or "" => unsaid,
            "yes" => true,
            "no" => false,
            var other => throw new ConfigurationException($"{name} is '{other}', but must be yes or no."),
        };
}

/// <summary>Wrong configuration: the program says the sentence and ends with an exit code other than 0.</summary>
public sealed class ConfigurationException : Exception
{
    public ConfigurationException() { }

    public ConfigurationException(string message)
        : base(message) { }

    public ConfigurationException(string message, Exception inner)
        : base(message, inner) { }
}
