using System.Collections.Concurrent;
using Microsoft.Data.Sqlite;
using ShopFloor.Data;

namespace ShopFloor.EndToEnd.Tests.Fixtures;

/// <summary>What shops begin with: filled by the first of its kind in a test run, copied by the others before they start.</summary>
internal static class Beginnings
{
    private const string Database = "shopfloor.db";
    private static readonly ConcurrentDictionary<string, Kind> Kinds = new(StringComparer.Ordinal);

    /// <summary>Starts a server in this folder, with the data of this name.</summary>
    public static async Task TakeAsync(string name, string folder, Action start, Func<Task> fill)
    {
        var kind = Kinds.GetOrAdd(name, _ => new Kind());
        await kind.Gate.WaitAsync();
        try
        {
            if (kind.Folder is null)
            {
                start();
                await fill();
                var kept = Directory.CreateTempSubdirectory("shopfloor-beginning").FullName;
                await CopyOpenAsync(folder, kept);
                kind.Folder = kept;
                AppDomain.CurrentDomain.ProcessExit += (_, _) => Directory.Delete(kept, recursive: true);
                return;
            }
        }
        finally
        {
            kind.Gate.Release();
        }

        Copy(kind.Folder, folder);
        start();
    }

    /// <summary>One beginning. Only the first of its shops fills it, and the others wait for that one.</summary>
    private sealed class Kind
    {
        public SemaphoreSlim Gate { get; } = new(1, 1);

        public string? Folder { get; set; }
    }

    /// <summary>Lets go of a stopped shop's database and removes its folder.</summary>
    public static void Forget(string folder)
    {
        using (var own = new SqliteConnection(ShopDatabase.SqliteIn(folder).ConnectionString))
        {
            SqliteConnection.ClearPool(own);
        }

        Directory.Delete(folder, recursive: true);
    }

    /// <summary>Copies the data of a running shop: its database by its own means, files as they are.</summary>
    private static async Task CopyOpenAsync(string from, string to)
    {
        await using (var connection = new SqliteConnection(ShopDatabase.SqliteIn(from).ConnectionString))
        {
            await connection.OpenAsync();
            await using var copy = connection.CreateCommand();
            copy.CommandText = "VACUUM INTO $to";
            copy.Parameters.AddWithValue("$to", Path.Combine(to, Database));
            await copy.ExecuteNonQueryAsync();
        }

        foreach (var part in new DirectoryInfo(from).GetDirectories())
        {
            Copy(part.FullName, Path.Combine(to, part.Name));
        }
    }

    private static void Copy(string from, string to)
    {
        Directory.CreateDirectory(to);
        foreach (var file in Directory.GetFiles(from))
        {
            File.Copy(file, Path.Combine(to, Path.GetFileName(file)));
        }

        foreach (var part in Directory.GetDirectories(from))
        {
            Copy(part, Path.Combine(to, Path.GetFileName(part)));
        }
    }
}
