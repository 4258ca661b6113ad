using System.Diagnostics;
using ShopFloor.Data;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Drills;

/// <summary>The built program as a process of its own, to be killed and started again.</summary>
internal sealed class RealServer : IAsyncDisposable
{
    private readonly Dictionary<string, string> environment;
    private readonly string folder = Directory.CreateTempSubdirectory("shopfloor-drill").FullName;
    private Process? process;

    public RealServer(string? postgres)
    {
        Url = $"http://127.0.0.1:{Ports.Free()}";
        environment = new()
        {
            ["SHOPFLOOR_DATA"] = folder,
            ["ASPNETCORE_URLS"] = Url,
            ["ASPNETCORE_ENVIRONMENT"] = "Production",
            ["Logging__LogLevel__Default"] = "Warning",
        };
        Database = postgres is null
            ? ShopDatabase.SqliteIn(folder)
            : new ShopDatabase(DatabaseKind.Postgres, postgres, folder);
        if (postgres is not null)
        {
            environment["SHOPFLOOR_DATABASE"] = "postgres";
            environment["ConnectionStrings__ShopFloor"] = postgres;
        }
    }

    public string Url { get; }

    public ShopDatabase Database { get; private set; }

    /// <summary>Where its data lies.</summary>
    public string Folder => folder;

    /// <summary>Starts it and waits until it is ready.</summary>
    public async Task StartAsync()
    {
        process = Process.Start(InfoOf([]))!;
        _ = process.StandardOutput.ReadToEndAsync();
        _ = process.StandardError.ReadToEndAsync();
        using var client = new HttpClient();
        for (var attempt = 0; attempt < 900; attempt++)
        {
            try
            {
                using var response = await client.GetAsync(new Uri(Url + "/health/ready"));
                if (response.IsSuccessStatusCode)
                {
                    return;
                }
            }
            catch (HttpRequestException)
            {
                // Not listening yet.
            }

            Assert.False(process.HasExited, "The server ended by itself.");
            await Task.Delay(TimeSpan.FromMilliseconds(200), TestContext.Current.CancellationToken);
        }

        Assert.Fail("The server was not ready within three minutes.");
    }

    /// <summary>SIGKILL: nothing is said goodbye to.</summary>
    public async Task KillAsync()
    {
        process!.Kill();
        await process.WaitForExitAsync();
        process.Dispose();
        process = null;
    }

    /// <summary>Runs an admin command beside the server.</summary>
    public async Task<(int Code, string Out, string Error)> AdminAsync(string[] command, string? input = null)
    {
        using var admin = Process.Start(InfoOf(["admin", .. command]))!;
        if (input is not null)
        {
            await admin.StandardInput.WriteLineAsync(input);
        }

        admin.StandardInput.Close();
        var output = admin.StandardOutput.ReadToEndAsync();
        var error = admin.StandardError.ReadToEndAsync();
        await admin.WaitForExitAsync();
        return (admin.ExitCode, await output, await error);
    }

    private ProcessStartInfo InfoOf(string[] arguments)
    {
        var info = new ProcessStartInfo("dotnet", [typeof(Program).Assembly.Location, .. arguments])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = folder,
        };
        foreach (var (name, value) in environment)
        {
            info.Environment[name] = value;
        }

        return info;
    }

    /// <summary>From its next start on it uses another PostgreSQL database.</summary>
    public void MoveTo(string postgres)
    {
        environment["ConnectionStrings__ShopFloor"] = postgres;
        Database = Database with { ConnectionString = postgres };
    }

    public void Set(string name, string value) => environment[name] = value;

    public async ValueTask DisposeAsync()
    {
        if (process is not null)
        {
            await KillAsync();
        }

        Directory.Delete(folder, recursive: true);
    }
}
