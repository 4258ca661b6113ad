using ShopFloor.Application.Common;
using ShopFloor.Application.History;
using ShopFloor.Application.People;
using ShopFloor.Application.Setup;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Hosting;

/// <summary>The command line: results on standard output, all else on standard error. Works while the server runs.</summary>
public static class AdminCommands
{
    private const string Usage = """
        Usage: ./run.sh admin COMMAND
          shop create --name NAME --currency EUR --time-zone Europe/Berlin --length-unit mm|inch
          owner create --email EMAIL --name NAME          (password on standard input)
          api-key create --name NAME --role owner|front-desk|fabricator|inspector [--user EMAIL]
          migrate                                         bring the database up to date
          verify                                          check the history's chain and what it adds up to
        """;

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
            "api-key create" => await SayAsync(
                await scope
                    .ServiceProvider.GetRequiredService<CreateApiKey>()
                    .RunAsync(
                        new CreateApiKey.Request(
                            options.GetValueOrDefault("name"),
                            options.GetValueOrDefault("role"),
                            options.GetValueOrDefault("user")
                        ),
                        Envelope.Of(Actor.System),
                        CancellationToken.None
                    ),
                created => created.Key
            ),
            "migrate" => 0,
            "verify" => await VerifyAsync(scope.ServiceProvider),
            _ => await RefuseAsync(Usage),
        };
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
