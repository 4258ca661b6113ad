using System.Diagnostics;
using System.Globalization;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Benchmarks;

/// <summary>The program as a process of its own with the demo shop on SQLite, so that its memory can be told from the measurement's.</summary>
internal sealed class DemoProcess : IAsyncDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("shopfloor-load").FullName;
    private readonly Process process;

    private DemoProcess()
    {
        Url = $"http://127.0.0.1:{Ports.Free()}";
        process = Start("--demo");
    }

    public string Url { get; }

    /// <summary>Memory that it holds in the machine, in MiB.</summary>
    public double ResidentMiB
    {
        get
        {
            var line = File.ReadLines($"/proc/{process.Id}/status")
                .First(l => l.StartsWith("VmRSS:", StringComparison.Ordinal));
            return double.Parse(line.Split(' ', StringSplitOptions.RemoveEmptyEntries)[1], CultureInfo.InvariantCulture)
                / 1024;
        }
    }

    /// <summary>Processor time that it has used so far.</summary>
    public TimeSpan Processor => process.TotalProcessorTime;

    public static async Task<DemoProcess> StartAsync()
    {
        var server = new DemoProcess();
        using var client = new HttpClient();
        while (true)
        {
            try
            {
                using var ready = await client.GetAsync(new Uri(server.Url + "/health/ready"));
                if (ready.IsSuccessStatusCode)
                {
                    return server;
                }
            }
            catch (HttpRequestException) when (!server.process.HasExited)
            {
                // Not listening yet.
            }

            await Task.Delay(200);
        }
    }

    /// <summary>A key of its owner.</summary>
    public async Task<string> KeyAsync()
    {
        using var admin = Start("admin", "api-key", "create", "--name", "load", "--role", "owner");
        var key = await admin.StandardOutput.ReadToEndAsync();
        await admin.WaitForExitAsync();
        return key.Trim();
    }

    private Process Start(params string[] arguments)
    {
        var info = new ProcessStartInfo(
            "dotnet",
            [typeof(Web.Features.Workbench.TubeEndpoints).Assembly.Location, .. arguments]
        )
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = folder,
        };
        info.Environment["SHOPFLOOR_DATA"] = folder;
        info.Environment["SHOPFLOOR_DEMO_PASSWORD"] = LiveServer.Password;
        info.Environment["ASPNETCORE_URLS"] = Url;
        info.Environment["ASPNETCORE_CONTENTROOT"] = AppContext.BaseDirectory;
        info.Environment["Logging__LogLevel__Default"] = "Error";
        var started = Process.Start(info)!;
        started.ErrorDataReceived += (_, _) => { };
        started.BeginErrorReadLine();
        if (arguments is ["--demo"])
        {
            started.OutputDataReceived += (_, _) => { };
            started.BeginOutputReadLine();
        }

        return started;
    }

    public async ValueTask DisposeAsync()
    {
        process.Kill();
        await process.WaitForExitAsync();
        process.Dispose();
        Directory.Delete(folder, recursive: true);
    }
}
