using System.Globalization;
using ShopFloor.Application.Backups;
using ShopFloor.Application.Common;
using ShopFloor.Application.History;
using ShopFloor.Application.People;
using ShopFloor.Application.Setup;
using ShopFloor.Application.SignIns;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Hosting;

/// <summary>The command line: results on standard output, all else on standard error. Works while the server runs.</summary>
public static class AdminCommands
{
    private const string Usage = """
        Usage: ./run.sh admin COMMAND
          shop create --name NAME --currency EUR --time-zone Europe/Berlin --length-unit mm|inch
          owner create --email EMAIL --name NAME          (password on standard input)
          owner recover --email EMAIL                     a link for one hour with which an owner chooses a new password
          api-key create --name NAME --role owner|front-desk|fabricator|inspector [--user EMAIL]
                         [--scopes PERMISSION,PERMISSION] [--read-only yes] [--days DAYS]
          migrate                                         bring the database up to date
          verify                                          check the history's chain and what it adds up to
          backup --to FOLDER-OR-FILE [--passphrase-file FILE]
          restore --from FILE [--passphrase-file FILE] [--replace-another-shop yes]     (stop the program first)
        """;

    /// <summary>A limit that was mistyped must not be taken for none.</summary>
    private static readonly string[] KeyOptions = ["name", "role", "user", "scopes", "read-only", "days"];

    public static async Task<int> RunAsync(string[] args)
    {
        if (args.Length == 0 || !TryReadOptions(args, out var words, out var options))
        {
            await Console.Error.WriteLineAsync(Usage);
            return 2;
        }

        var builder = WebApplication.CreateBuilder();
        builder
            .Logging.ClearProviders()
            .AddConsole(o => o.LogToStandardErrorThreshold = LogLevel.Trace)
            .SetMinimumLevel(LogLevel.Warning);
        builder.AddShopFloorServices(Settings.Read(builder.Configuration));
        await using var app = builder.Build();
        if (words is ["restore"])
        {
            return await RestoreAsync(app.Services, options);
        }

        await Server.MigrateAsync(app.Services);
        await using var scope = app.Services.CreateAsyncScope();
        return string.Join(' ', words) switch
        {
            "shop create" => await SayAsync(
                await scope
                    .ServiceProvider.GetRequiredService<SetUpShop>()
                    .CreateShopAsync(
                        new Shop.Details(
                            options.GetValueOrDefault("name"),
                            null,
                            null,
                            null,
                            null,
                            null,
                            null,
                            options.GetValueOrDefault("time-zone"),
                            options.GetValueOrDefault("length-unit"),
                            null,
                            false
                        ),
                        options.GetValueOrDefault("currency"),
                        CancellationToken.None
                    ),
                id => id.ToString()
            ),
            "owner create" => await SayAsync(
                await scope
                    .ServiceProvider.GetRequiredService<SetUpShop>()
                    .CreateOwnerAsync(
                        options.GetValueOrDefault("name"),
                        options.GetValueOrDefault("email"),
                        await Console.In.ReadLineAsync(),
                        CancellationToken.None
                    ),
                id => id.ToString()
            ),
            "owner recover" => await SayAsync(
                await scope
                    .ServiceProvider.GetRequiredService<MakePasswordLink>()
                    .RecoverOwnerAsync(options.GetValueOrDefault("email"), CancellationToken.None),
                made => $"{scope.ServiceProvider.GetRequiredService<Settings>().PublicUrl}/j/{made.Token}"
            ),
            "api-key create" when options.Keys.FirstOrDefault(o => !KeyOptions.Contains(o)) is { } unknown =>
                await RefuseAsync($"There is no option --{unknown} here."),
            "api-key create" when options.GetValueOrDefault("read-only", "no") is not ("yes" or "no") =>
                await RefuseAsync("--read-only is yes or no."),
            "api-key create" => await SayAsync(
                await scope
                    .ServiceProvider.GetRequiredService<CreateApiKey>()
                    .RunAsync(
                        new CreateApiKey.Request(
                            options.GetValueOrDefault("name"),
                            options.GetValueOrDefault("role"),
                            options.GetValueOrDefault("user"),
                            options.GetValueOrDefault("scopes")?.Split(',', StringSplitOptions.TrimEntries),
                            options.GetValueOrDefault("read-only") == "yes",
                            options.TryGetValue("days", out var days)
                                ? int.TryParse(days, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
                                    ? number
                                    : 0
                                : null
                        ),
                        Envelope.Of(Actor.System),
                        CancellationToken.None
                    ),
                created => created.Key
            ),
            "migrate" => 0,
            "backup" => await BackUpAsync(scope.ServiceProvider, options),
            "verify" => await VerifyAsync(scope.ServiceProvider),
            _ => await RefuseAsync(Usage),
        };
    }

    private static async Task<int> BackUpAsync(IServiceProvider services, Dictionary<string, string> options)
    {
        if (!options.TryGetValue("to", out var to))
        {
            return await RefuseAsync("Name where the backup goes: --to FOLDER-OR-FILE.");
        }

        return await PassphraseAsync(options) switch
        {
            { Failure: { } failure } => await RefuseAsync(failure.Sentence),
            var passphrase => await SayAsync(
                await services
                    .GetRequiredService<MakeBackup>()
                    .ToAsync(Path.GetFullPath(to), passphrase.Value, CancellationToken.None),
                made =>
                {
                    made.Manifest.Lost.ToList()
                        .ForEach(l => Console.Error.WriteLine($"Not there or damaged, and so not in it: {l}"));
                    return made.Path;
                }
            ),
        };
    }

    private static async Task<int> RestoreAsync(IServiceProvider services, Dictionary<string, string> options)
    {
        if (!options.TryGetValue("from", out var from))
        {
            return await RefuseAsync("Name the backup: --from FILE.");
        }

        return await PassphraseAsync(options) switch
        {
            { Failure: { } failure } => await RefuseAsync(failure.Sentence),
            var passphrase => await SayAsync(
                await services
                    .GetRequiredService<RestoreBackup>()
                    .RunAsync(
                        new(from, passphrase.Value, options.GetValueOrDefault("replace-another-shop") == "yes"),
                        CancellationToken.None
                    ),
                restored =>
                    $"The shop is as it was at {restored.Manifest.MadeAt.UtcDateTime.ToString("yyyy-MM-dd HH:mm", System.Globalization.CultureInfo.InvariantCulture)} UTC, history up to line {restored.Manifest.Events}."
                    + (
                        restored.PutAside is { } aside
                            ? $" What was here before lies in {aside}; delete it when all is well."
                            : ""
                    )
                    + " Start the program, and run: admin verify"
            ),
        };
    }

    private static async Task<Outcome<string?>> PassphraseAsync(Dictionary<string, string> options)
    {
        try
        {
            return options.TryGetValue("passphrase-file", out var file)
                ? await BackupSettings.ReadPassphraseAsync(file, CancellationToken.None)
                : Outcome<string?>.Success(null);
        }
        catch (BackupException trouble)
        {
            return Failure.Field("passphraseFile", trouble.Message);
        }
    }

    private static async Task<int> VerifyAsync(IServiceProvider services)
    {
        var differences = await services.GetRequiredService<VerifyHistory>().RunAsync(CancellationToken.None);
        foreach (var difference in differences)
        {
            Console.WriteLine(difference);
        }

        if (differences.Count == 0)
        {
            await Console.Error.WriteLineAsync("Nothing differs.");
        }

        return differences.Count == 0 ? 0 : 1;
    }

    private static async Task<int> SayAsync<T>(Outcome<T> outcome, Func<T, string> result)
    {
        if (outcome.TryGet(out var value, out var failure))
        {
            Console.WriteLine(result(value));
            return 0;
        }

        return await RefuseAsync(failure.Sentence);
    }

    private static async Task<int> RefuseAsync(string sentence)
    {
        await Console.Error.WriteLineAsync(sentence);
        return 2;
    }

    private static bool TryReadOptions(string[] args, out List<string> words, out Dictionary<string, string> options)
    {
        words = [];
        options = new(StringComparer.Ordinal);
        for (var i = 0; i < args.Length; i++)
        {
            if (!args[i].StartsWith("--", StringComparison.Ordinal))
            {
                words.Add(args[i]);
            }
            else if (i + 1 < args.Length && options.TryAdd(args[i][2..], args[i + 1]))
            {
                i++;
            }
            else
            {
                return false;
            }
        }

        return true;
    }
}
