using System.Globalization;
using System.IO.Compression;
using System.Text;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Backups;
using ShopFloor.Application.History;
using ShopFloor.Data;
using ShopFloor.Data.Backups;
using ShopFloor.Domain.Backups;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Jobs;

namespace ShopFloor.Web.Tests.Backups;

/// <summary>From a shop at work to the same shop elsewhere, and everything that is refused on the way, on both databases.</summary>
public abstract class BackupTests(ShopHost shop)
{
    private const string NewerTable = "OfANewerProgram";
    private const string Passphrase = "twelve welders in a row";

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    private IDbContextFactory<ShopDbContext> Contexts =>
        shop.Services.GetRequiredService<IDbContextFactory<ShopDbContext>>();

    private ShopDatabase Database => shop.Services.GetRequiredService<ShopDatabase>();

    [Theory]
    [InlineData(null)]
    [InlineData(Passphrase)]
    public async Task A_backup_gives_the_same_shop_back_row_by_row_and_file_by_file(string? passphrase)
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        await desk.UploadAsync($"/api/v1/jobs/{job}/photos", IntakeStory.Jpeg);
        var rows = await RowsAsync(Contexts);

        var made = await BackUpAsync(passphrase);
        // What came after it is not in it.
        await shop.SignedJobAsync();

        await using var restored = new RestoredShop(shop, new(made.Path, passphrase, false), Contexts);
        await restored.InitializeAsync();
        Assert.True(restored.Restored.IsSuccess, restored.Restored.Failure?.Sentence);
        Assert.Null(restored.Restored.Value.PutAside);
        Assert.Empty(made.Manifest.Lost);
        Assert.Equal(rows, await RowsAsync(restored.Services.GetRequiredService<IDbContextFactory<ShopDbContext>>()));
        Assert.Empty(await restored.WithAsync<VerifyHistory, IReadOnlyList<string>>(v => v.RunAsync(Ct)));
        Assert.Equal(passphrase is not null, ArchiveIsLocked(made.Path));
        Assert.Empty(Directory.GetDirectories(Path.GetDirectoryName(made.Path)!, ".making-*"));
    }

    [Fact]
    public async Task Nothing_is_touched_by_an_archive_that_is_damaged_foreign_or_not_one_at_all()
    {
        var good = await BackUpAsync(null);
        var manifest = good.Manifest;
        var locked = (await BackUpAsync(Passphrase)).Path;
        var bytes = await File.ReadAllBytesAsync(good.Path, Ct);
        var other = Database.Kind == DatabaseKind.Sqlite ? DatabaseKind.Postgres : DatabaseKind.Sqlite;

        await RefusedAsync(bytes[..(bytes.Length / 2)], "damaged or cut off");
        await RefusedAsync([], "damaged or cut off");
        await RefusedAsync("This is a letter."u8.ToArray(), "damaged or cut off");
        await RefusedAsync(await File.ReadAllBytesAsync(locked, Ct), "locked");
        await RefusedAsync(await File.ReadAllBytesAsync(locked, Ct), "does not fit", "another long passphrase");
        await RefusedAsync(Changed(bytes, z => z.GetEntry(BackupManifest.EntryName)!.Delete()), "no archive");
        await RefusedAsync(Changed(bytes, z => z.CreateEntry("extra.txt")), "does not name: extra.txt");
        await RefusedAsync(Changed(bytes, z => Rewrite(z, BackupManifest.DatabaseEntry(Database.Kind))), "cut off");
        await RefusedAsync(
            Changed(bytes, z => Flip(z, BackupManifest.DatabaseEntry(Database.Kind))),
            "not what was written"
        );
        await RefusedAsync(With(bytes, manifest with { Format = 99 }), "layout 99");
        await RefusedAsync(With(bytes, manifest with { Database = other }), "of a shop on");
        await RefusedAsync(
            With(bytes, manifest with { Migrations = [.. manifest.Migrations, "29990101000000_Future"] }),
            "newer program"
        );
        await RefusedAsync(With(bytes, manifest with { Entries = [] }), "holds no database");
        await RefusedAsync(
            With(bytes, manifest with { Entries = [.. manifest.Entries, new("../escaped", 1, new string('0', 64))] }),
            "no part of a shop"
        );
        await RefusedAsync(
            With(
                bytes,
                manifest with
                {
                    Entries = [.. manifest.Entries, new($"files/../{new string('a', 64)}", 1, "")],
                }
            ),
            "no part of a shop"
        );
    }

    [Fact]
    public async Task A_shop_at_work_is_not_restored_over_and_another_shop_only_when_it_is_said()
    {
        var made = await BackUpAsync(null);
        await shop.SignedJobAsync();
        var running = await new RestoreBackup(Database, Contexts, shop.Clock).RunAsync(new(made.Path, null, false), Ct);
        Assert.Contains("first", running.Failure!.Sentence, StringComparison.Ordinal);

        // The same shop, restored twice: what was there before is put aside.
        await using var first = new RestoredShop(shop, new(made.Path, null, false), Contexts);
        await first.InitializeAsync();
        var (database, second) = await StoppedCopyAsync(first, made.Path);
        Assert.True(second.IsSuccess, second.Failure?.Sentence);
        Assert.True(Directory.Exists(second.Value.PutAside));
        Assert.NotEmpty(Directory.GetFiles(second.Value.PutAside!));
        // A table of a newer program, put there between the two restores, is gone: its upgrade will make it again.
        Assert.DoesNotContain(NewerTable, await TablesAsync(database));

        var archive = await BackUpAsync(null);
        var foreign = archive.Path;
        await File.WriteAllBytesAsync(
            foreign,
            With(await File.ReadAllBytesAsync(foreign, Ct), archive.Manifest with { Shop = Guid.CreateVersion7() }),
            Ct
        );
        var refused = await new RestoreBackup(database, Contexts, shop.Clock).RunAsync(new(foreign, null, false), Ct);
        Assert.Contains("another shop", refused.Failure!.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public async Task One_backup_a_day_is_made_by_one_of_two_servers_and_a_failure_is_tried_again_after_an_hour()
    {
        var folder = Directory.CreateDirectory(Path.Combine(shop.Folder, "of-two-servers")).FullName;
        var (one, two) = (Making(folder), Making(folder));
        shop.Clock.Advance(BackupRules.Interval);
        var turns = await Task.WhenAll(one.RunIfDueAsync(Ct), two.RunIfDueAsync(Ct));
        Assert.Single(turns, made => made);
        Assert.Single(Directory.GetFiles(folder));
        Assert.False(await one.RunIfDueAsync(Ct));

        shop.Clock.Advance(BackupRules.Interval);
        var blocked = Path.Combine(folder, "a-file");
        await File.WriteAllTextAsync(blocked, "", Ct);
        Assert.False(await Making(Path.Combine(blocked, "below")).RunIfDueAsync(Ct));
        Assert.False(await one.RunIfDueAsync(Ct));
        var standing = (await shop.WithAsync<ReadBackups, Outcome<BackupStanding>>(r => r.RunAsync(Owner, Ct))).Value;
        Assert.NotNull(standing.Latest[0].Failure);
        Assert.False(standing.IsOld);

        shop.Clock.Advance(TimeSpan.FromHours(1.1));
        Assert.True(await one.RunIfDueAsync(Ct));
        Assert.False(await Making(folder, isDaily: false).RunIfDueAsync(Ct));

        shop.Clock.Advance(TimeSpan.FromHours(49));
        standing = (await shop.WithAsync<ReadBackups, Outcome<BackupStanding>>(r => r.RunAsync(Owner, Ct))).Value;
        Assert.True(standing.IsOld);
        using var anybody = shop.CreateClient();
        await using (var db = await Contexts.CreateDbContextAsync(Ct))
        {
            // Who says that the shop is backed up by other means is not warned.
            var other = new BackupSettings(folder, IsDaily: false);
            Assert.False((await ReadBackups.AgeAsync(db, other, shop.Clock.GetUtcNow(), Ct)).IsOld);
        }

        Assert.Equal("Degraded", await anybody.GetStringAsync(new Uri("/health/ready", UriKind.Relative), Ct));
        // An attempt that was cut off with its program does not stand in the way for ever.
        await using (var db = await Contexts.CreateDbContextAsync(Ct))
        {
            var last = await db.Set<BackupRow>()
                .Where(b => b.FileName != null)
                .OrderByDescending(b => b.EndedAt)
                .FirstAsync(Ct);
            db.Add(
                new BackupRow
                {
                    Id = Guid.CreateVersion7(),
                    StartedAt = shop.Clock.GetUtcNow(),
                    Slot = last.Id.ToString("N"),
                    Machine = "gone",
                }
            );
            await db.SaveChangesAsync(Ct);
        }

        Assert.False(await one.RunIfDueAsync(Ct));
        shop.Clock.Advance(TimeSpan.FromHours(7));
        Assert.False(await one.RunIfDueAsync(Ct));
        shop.Clock.Advance(TimeSpan.FromHours(1.1));
        Assert.True(await one.RunIfDueAsync(Ct));
    }

    [Fact]
    public async Task Old_backups_go_and_files_of_others_stay()
    {
        var folder = Directory.CreateDirectory(Path.Combine(shop.Folder, "old-ones")).FullName;
        var now = shop.Clock.GetUtcNow();
        var (old, monthly) = (
            BackupWriter.NameFor(now.AddYears(-2), false),
            BackupWriter.NameFor(now.AddDays(-60), true)
        );
        string[] others =
        [
            BackupWriter.NameFor(now.AddYears(-2), false, "before-upgrade-"),
            "shopfloor-notes.zip",
            "photo.jpg",
        ];
        foreach (var name in others.Append(old).Append(monthly))
        {
            await File.WriteAllTextAsync(Path.Combine(folder, name), "", Ct);
        }

        var made = await Making(folder).RunAsync(Owner, Ct);
        Assert.True(made.IsSuccess, made.Failure?.Sentence);
        Assert.Equal(
            others.Append(monthly).Append(Path.GetFileName(made.Value.Path)).Order(StringComparer.Ordinal),
            Directory.GetFiles(folder).Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal)
        );
    }

    [Fact]
    public async Task Asked_for_while_one_is_being_made_it_is_made_once_locked_by_the_passphrase_of_the_file()
    {
        var folder = Directory.CreateDirectory(Path.Combine(shop.Folder, "asked-twice")).FullName;
        var file = Path.Combine(shop.Folder, "passphrase.txt");
        var making = new MakeBackup(
            new BackupWriter(Database, shop.Clock),
            new BackupSettings(folder, PassphraseFile: file),
            Contexts,
            shop.Clock
        );
        var without = await making.RunAsync(Owner, Ct);
        Assert.Contains("passphrase file", without.Failure!.Sentence, StringComparison.Ordinal);
        await File.WriteAllTextAsync(file, "short\n", Ct);
        var tooShort = await making.RunAsync(Owner, Ct);
        Assert.Contains("fewer than 12", tooShort.Failure!.Sentence, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFileSystemEntries(folder));

        await File.WriteAllTextAsync(file, Passphrase + "\nnot this\n", Ct);
        var half = new BackupRow
        {
            Id = Guid.CreateVersion7(),
            StartedAt = shop.Clock.GetUtcNow(),
            Slot = "asked",
            Machine = "another",
        };
        await using (var db = await Contexts.CreateDbContextAsync(Ct))
        {
            db.Add(half);
            await db.SaveChangesAsync(Ct);
            var second = await making.RunAsync(Owner, Ct);
            Assert.Contains("already", second.Failure!.Sentence, StringComparison.Ordinal);
            Assert.Empty(Directory.GetFileSystemEntries(folder));
            db.Remove(half);
            await db.SaveChangesAsync(Ct);
        }

        var made = (await making.RunAsync(Owner, Ct)).Value;
        Assert.True(ArchiveIsLocked(made.Path));
        Assert.Equal(made.Path, Assert.Single(Directory.GetFileSystemEntries(folder)));
        // And once more when it is done.
        shop.Clock.Advance(TimeSpan.FromSeconds(1));
        Assert.True((await making.RunAsync(Owner, Ct)).IsSuccess);
    }

    [Fact]
    public async Task What_a_killed_backup_left_behind_does_not_stay()
    {
        var folder = Directory.CreateDirectory(Path.Combine(shop.Folder, "left-behind")).FullName;
        var (old, young) = (Path.Combine(folder, ".making-old"), Path.Combine(folder, ".making-young"));
        foreach (var (left, age) in new[] { (old, 7), (young, 5) })
        {
            Directory.CreateDirectory(left);
            await File.WriteAllTextAsync(Path.Combine(left, "database"), "", Ct);
            Directory.SetLastWriteTimeUtc(left, (shop.Clock.GetUtcNow() - TimeSpan.FromHours(age)).UtcDateTime);
        }

        Assert.True((await Making(folder).RunAsync(Owner, Ct)).IsSuccess);
        Assert.Equal([young], Directory.GetDirectories(folder));
    }

    [Fact]
    public async Task Only_the_owner_makes_one_and_sees_where_they_lie()
    {
        foreach (var role in Enum.GetValues<Role>().Where(r => r != Role.Owner))
        {
            var actor = Actor.OfPerson(shop.People[Role.Owner], [role]);
            var made = await shop.WithAsync<MakeBackup, Outcome<BackupWriter.Made>>(m => m.RunAsync(actor, Ct));
            Assert.IsType<Failure.Forbidden>(made.Failure);
            var read = await shop.WithAsync<ReadBackups, Outcome<BackupStanding>>(r => r.RunAsync(actor, Ct));
            Assert.IsType<Failure.Forbidden>(read.Failure);
        }
    }

    private Actor Owner => Actor.OfPerson(shop.People[Role.Owner], [Role.Owner]);

    private MakeBackup Making(string folder, bool isDaily = true) =>
        new(new BackupWriter(Database, shop.Clock), new BackupSettings(folder, isDaily), Contexts, shop.Clock);

    private string NewFile() =>
        Path.Combine(
            Directory.CreateDirectory(Path.Combine(shop.Folder, "made")).FullName,
            $"{Guid.CreateVersion7():N}.zip"
        );

    private async Task<BackupWriter.Made> BackUpAsync(string? passphrase) =>
        await new BackupWriter(Database, shop.Clock).WriteAsync(NewFile(), passphrase, Ct);

    /// <summary>Restores into a place of its own, over a copy of what a shop there had.</summary>
    private async Task<(ShopDatabase Database, Outcome<RestoreBackup.Restored> Second)> StoppedCopyAsync(
        RestoredShop like,
        string archive
    )
    {
        var folder = Directory
            .CreateDirectory(Path.Combine(shop.Folder, $"stopped-{Guid.CreateVersion7():N}"))
            .FullName;
        var database =
            like.Kind == "postgres"
                ? new ShopDatabase(DatabaseKind.Postgres, await PostgresServer.NewDatabaseAsync(), folder)
                : ShopDatabase.SqliteIn(folder);
        var restore = new RestoreBackup(database, Contexts, shop.Clock);
        var first = await restore.RunAsync(new(archive, null, false), Ct);
        Assert.True(first.IsSuccess, first.Failure?.Sentence);
        await using (var db = Open(database))
        {
            await db.Database.ExecuteSqlRawAsync($"CREATE TABLE \"{NewerTable}\" (\"Id\" integer)", Ct);
        }

        Assert.Contains(NewerTable, await TablesAsync(database));
        LetGo(database);
        return (database, await restore.RunAsync(new(archive, null, false), Ct));
    }

    private static ShopDbContext Open(ShopDatabase database)
    {
        var options = new DbContextOptionsBuilder<ShopDbContext>();
        database.Configure(options);
        return new ShopDbContext(options.Options);
    }

    private static async Task<List<string>> TablesAsync(ShopDatabase database)
    {
        await using var db = Open(database);
        var tables =
            database.Kind == DatabaseKind.Sqlite
                ? await db
                    .Database.SqlQuery<string>($"SELECT name FROM sqlite_master WHERE type = 'table'")
                    .ToListAsync(Ct)
                : await db
                    .Database.SqlQuery<string>($"SELECT tablename FROM pg_tables WHERE schemaname = 'public'")
                    .ToListAsync(Ct);
        LetGo(database);
        return tables;
    }

    /// <summary>A connection kept open would count as somebody at work, or go on reading a file that was put aside.</summary>
    private static void LetGo(ShopDatabase database)
    {
        if (database.Kind == DatabaseKind.Sqlite)
        {
            using var own = new Microsoft.Data.Sqlite.SqliteConnection(database.ConnectionString);
            Microsoft.Data.Sqlite.SqliteConnection.ClearPool(own);
        }
        else
        {
            using var own = new Npgsql.NpgsqlConnection(database.ConnectionString);
            Npgsql.NpgsqlConnection.ClearPool(own);
        }
    }

    private async Task RefusedAsync(byte[] archive, string sentence, string? passphrase = null)
    {
        var file = NewFile();
        await File.WriteAllBytesAsync(file, archive, Ct);
        var folder = Directory.CreateDirectory(Path.Combine(shop.Folder, $"empty-{Guid.CreateVersion7():N}")).FullName;
        var database =
            Database.Kind == DatabaseKind.Sqlite
                ? ShopDatabase.SqliteIn(folder)
                : new ShopDatabase(DatabaseKind.Postgres, await EmptyAsync(), folder);
        var outcome = await new RestoreBackup(database, Contexts, shop.Clock).RunAsync(new(file, passphrase, true), Ct);
        Assert.Contains(sentence, outcome.Failure?.Sentence ?? "restored", StringComparison.Ordinal);
        Assert.Empty(Directory.GetFileSystemEntries(folder).Select(Path.GetFileName).Except([".running"]));
        if (Database.Kind == DatabaseKind.Postgres)
        {
            Assert.Null(await DatabaseDumps.Of(database).LookAsync(Ct));
        }
    }

    private string? empty;

    private async Task<string> EmptyAsync() => empty ??= await PostgresServer.NewDatabaseAsync();

    private static bool ArchiveIsLocked(string path)
    {
        using var file = File.OpenRead(path);
        return ArchiveLock.IsLocked(file);
    }

    private static byte[] Changed(byte[] archive, Action<ZipArchive> change)
    {
        using var copy = new MemoryStream();
        copy.Write(archive);
        using (var zip = new ZipArchive(copy, ZipArchiveMode.Update, leaveOpen: true))
        {
            change(zip);
        }

        return copy.ToArray();
    }

    private static byte[] With(byte[] archive, BackupManifest manifest) =>
        Changed(
            archive,
            zip =>
            {
                zip.GetEntry(BackupManifest.EntryName)!.Delete();
                using var to = zip.CreateEntry(BackupManifest.EntryName).Open();
                to.Write(manifest.Write());
            }
        );

    private static void Rewrite(ZipArchive zip, string name)
    {
        zip.GetEntry(name)!.Delete();
        using var to = zip.CreateEntry(name).Open();
        to.Write("short"u8);
    }

    private static void Flip(ZipArchive zip, string name)
    {
        using var content = new MemoryStream();
        using (var from = zip.GetEntry(name)!.Open())
        {
            from.CopyTo(content);
        }

        zip.GetEntry(name)!.Delete();
        var bytes = content.ToArray();
        bytes[^1] ^= 1;
        using var to = zip.CreateEntry(name).Open();
        to.Write(bytes);
    }

    /// <summary>All rows of all tables but that of the backups themselves, as text, in order.</summary>
    private static async Task<SortedDictionary<string, string>> RowsAsync(IDbContextFactory<ShopDbContext> contexts)
    {
        await using var db = await contexts.CreateDbContextAsync(Ct);
        await db.Database.OpenConnectionAsync(Ct);
        SortedDictionary<string, string> tables = new(StringComparer.Ordinal);
        foreach (
            var table in db
                .Model.GetEntityTypes()
                .Where(e => e.ClrType != typeof(BackupRow))
                .Select(e => e.GetTableName())
                .OfType<string>()
                .Distinct(StringComparer.Ordinal)
        )
        {
            await using var command = db.Database.GetDbConnection().CreateCommand();
#pragma warning disable CA2100 // A table's name from the model.
            command.CommandText = $"SELECT * FROM \"{table}\"";
#pragma warning restore CA2100
            await using var reader = await command.ExecuteReaderAsync(Ct);
            List<string> rows = [];
            while (await reader.ReadAsync(Ct))
            {
                var row = new StringBuilder();
                for (var column = 0; column < reader.FieldCount; column++)
                {
                    row.Append(
                            reader.GetValue(column) switch
                            {
                                byte[] bytes => Convert.ToHexStringLower(bytes),
                                var value => Convert.ToString(value, CultureInfo.InvariantCulture),
                            }
                        )
                        .Append('|');
                }

                rows.Add(row.ToString());
            }

            rows.Sort(StringComparer.Ordinal);
            tables[table] = string.Join('\n', rows);
        }

        return tables;
    }
}

public sealed class BackupOnSqlite(SqliteShop shop) : BackupTests(shop), IClassFixture<SqliteShop>;

public sealed class BackupOnPostgres(PostgresShop shop) : BackupTests(shop), IClassFixture<PostgresShop>;
