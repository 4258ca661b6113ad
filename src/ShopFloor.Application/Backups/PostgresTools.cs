using System.Diagnostics;
using System.Globalization;
using Npgsql;

namespace ShopFloor.Application.Backups;

/// <summary>PostgreSQL's own <c>pg_dump</c>, <c>pg_restore</c> and <c>psql</c>, the newest that are installed: one must not be older than the server.</summary>
internal static class PostgresTools
{
    private const string DebianFolder = "/usr/lib/postgresql";

    /// <summary>Runs one to its end. The password goes by the environment, never by the command line, which others on the machine can see.</summary>
    /// <exception cref="BackupException">It is not there, or it says no.</exception>
    public static async Task RunAsync(
        string tool,
        string connectionString,
        IEnumerable<string> arguments,
        CancellationToken ct
    )
    {
        var start = new ProcessStartInfo(PathOf(tool))
        {
            RedirectStandardError = true,
            RedirectStandardInput = true,
            UseShellExecute = false,
        };
        foreach (var argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }

        var to = new NpgsqlConnectionStringBuilder(connectionString);
        start.Environment["PGHOST"] = to.Host;
        start.Environment["PGPORT"] = to.Port.ToString(CultureInfo.InvariantCulture);
        start.Environment["PGDATABASE"] = to.Database;
        start.Environment["PGUSER"] = to.Username;
        start.Environment["PGPASSWORD"] = to.Password;
        start.Environment["PGSSLMODE"] = SslMode(to.SslMode);
        if (to.RootCertificate is { Length: > 0 } root)
        {
            start.Environment["PGSSLROOTCERT"] = root;
        }

        using var process = Process.Start(start) ?? throw new BackupException($"{tool} could not be started.");
        process.StandardInput.Close();
        try
        {
            var said = await process.StandardError.ReadToEndAsync(ct);
            await process.WaitForExitAsync(ct);
            if (process.ExitCode != 0)
            {
                throw new BackupException($"{tool} says: {FirstLines(said)}");
            }
        }
        catch (OperationCanceledException)
        {
            process.Kill(entireProcessTree: true);
            throw;
        }
    }

    /// <summary>libpq's word for how the connection is protected.</summary>
    private static string SslMode(SslMode mode) =>
        mode switch
        {
            Npgsql.SslMode.VerifyCA => "verify-ca",
            Npgsql.SslMode.VerifyFull => "verify-full",
            _ => mode.ToString().ToLowerInvariant(),
        };

    private static string FirstLines(string text) =>
        string.Join(
            ' ',
            text.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Take(3)
        );

    private static string PathOf(string tool)
    {
        var installed = Directory.Exists(DebianFolder)
            ? Directory
                .EnumerateDirectories(DebianFolder)
                .OrderByDescending(d =>
                    int.TryParse(Path.GetFileName(d), NumberStyles.None, CultureInfo.InvariantCulture, out var major)
                        ? major
                        : 0
                )
                .Select(d => Path.Combine(d, "bin"))
            : [];
        var onPath = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(
            Path.PathSeparator,
            StringSplitOptions.RemoveEmptyEntries
        );
        return installed.Concat(onPath).Select(d => Path.Combine(d, tool)).FirstOrDefault(File.Exists)
            ?? throw new BackupException(
                $"{tool} is not installed: a PostgreSQL shop is backed up and restored by PostgreSQL's own tools (on Debian the package postgresql-client)."
            );
    }
}
