using System.Diagnostics;
using Npgsql;

namespace ShopFloor.Web.Tests.Fixtures;

/// <summary>A throw-away PostgreSQL server: the one named by SHOPFLOOR_TEST_PG, or one started from Debian's package for this test run.</summary>
public static class PostgresServer
{
    private static readonly SemaphoreSlim Gate = new(1, 1);
    private static string? connection;

    /// <summary>Connection string of a new database: an empty one, or a copy of another whose server has stopped.</summary>
    public static async Task<string> NewDatabaseAsync(string? copyOf = null)
    {
        await Gate.WaitAsync();
        try
        {
            connection ??= Environment.GetEnvironmentVariable("SHOPFLOOR_TEST_PG") ?? await StartAsync();
        }
        finally
        {
            Gate.Release();
        }

        var name = "t" + Guid.CreateVersion7().ToString("N");
        await using var source = NpgsqlDataSource.Create(connection);
        if (copyOf is null)
        {
            await using var empty = source.CreateCommand($"CREATE DATABASE {name}");
            await empty.ExecuteNonQueryAsync();
        }
        else
        {
            await CopyAsync(source, new NpgsqlConnectionStringBuilder(copyOf).Database!, name);
        }

        return new NpgsqlConnectionStringBuilder(connection) { Database = name, MaxPoolSize = 20 }.ToString();
    }

    /// <summary>A database is copied only while nobody is connected with it: what the stopped server's pool still holds is closed.</summary>
    private static async Task CopyAsync(NpgsqlDataSource source, string from, string to)
    {
        await Gate.WaitAsync();
        try
        {
            await using var close = source.CreateCommand(
                "SELECT pg_terminate_backend(pid, 10000) FROM pg_stat_activity WHERE datname = $1"
            );
            close.Parameters.Add(new() { Value = from });
            await close.ExecuteNonQueryAsync();
            await using var copy = source.CreateCommand($"CREATE DATABASE {to} TEMPLATE {from}");
            await copy.ExecuteNonQueryAsync();
        }
        finally
        {
            Gate.Release();
        }
    }

    private static async Task<string> StartAsync()
    {
        var bin = Directory.Exists("/usr/lib/postgresql")
            ? Directory.GetDirectories("/usr/lib/postgresql").Order(StringComparer.Ordinal).Last() + "/bin"
            : throw new InvalidOperationException("PostgreSQL is not installed: run ./test.sh, which installs it.");
        var folder = Directory.CreateTempSubdirectory("shopfloor-pg").FullName;
        var port = Ports.Free();
        var isRoot = Environment.UserName == "root";
        if (isRoot)
        {
            await RunAsync("chown", "postgres", folder);
        }

        await AsPostgresAsync(
            isRoot,
            folder,
            $"{bin}/initdb",
            "-D",
            $"{folder}/data",
            "-U",
            "postgres",
            "-A",
            "trust",
            "-E",
            "UTF8",
            "--locale=C.UTF-8",
            "--no-sync"
        );
        await AsPostgresAsync(
            isRoot,
            folder,
            $"{bin}/pg_ctl",
            "-D",
            $"{folder}/data",
            "-l",
            $"{folder}/log",
            "-w",
            "-t",
            "60",
            "-o",
            $"-p {port} -c listen_addresses=127.0.0.1 -c unix_socket_directories={folder} -c fsync=off -c full_page_writes=off -c synchronous_commit=off -c max_connections=300",
            "start"
        );
        AppDomain.CurrentDomain.ProcessExit += (_, _) =>
        {
            AsPostgresAsync(isRoot, folder, $"{bin}/pg_ctl", "-D", $"{folder}/data", "-m", "immediate", "-w", "stop")
                .GetAwaiter()
                .GetResult();
            Directory.Delete(folder, recursive: true);
        };
        return $"Host=127.0.0.1;Port={port};Username=postgres;Database=postgres";
    }

    private static Task AsPostgresAsync(bool isRoot, string folder, params string[] command) =>
        isRoot
            ? RunInAsync(folder, "runuser", ["-u", "postgres", "--", .. command])
            : RunInAsync(folder, command[0], command[1..]);

    private static Task RunAsync(string file, params string[] arguments) => RunInAsync("/", file, arguments);

    private static async Task RunInAsync(string folder, string file, string[] arguments)
    {
        // Output goes nowhere: a server that inherits a pipe would keep it open.
        var start = new ProcessStartInfo(
            "/bin/sh",
            ["-c", "exec \"$@\" >/dev/null 2>&1 </dev/null", "sh", file, .. arguments]
        )
        {
            WorkingDirectory = folder,
        };
        using var process = Process.Start(start)!;
        await process.WaitForExitAsync();
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException($"{file} {string.Join(' ', arguments)} ended with {process.ExitCode}.");
        }
    }
}
