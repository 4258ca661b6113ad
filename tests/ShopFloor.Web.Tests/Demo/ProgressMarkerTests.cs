using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using ShopFloor.Application.Progress;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Progress;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Features.Progress.Words;
using ShopFloor.Web.Tests.Features.Progress;

namespace ShopFloor.Web.Tests.Demo;

/// <summary>Every page of the demo's jobs, with a marker in every text that is not for the customer: in whatever table and column it stands.</summary>
[Collection(DemoCollection.Name)]
public sealed partial class ProgressMarkerTests(LoadedDemo demo)
{
    private const string Marker = "MARKER";

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    /// <summary>What the customer may read, and what the program itself reads. Everything else is marked.</summary>
    private static readonly string[] Spared =
    [
        "Shop.Name",
        "Shop.Phone",
        "Shop.Email",
        "Shop.OpeningHours",
        "Shop.TimeZone",
        "Car.Make",
        "Car.Model",
        "Job.Number",
        "ChangeOrder.Number",
        "Invoice.Number",
        "CustomerPart.What",
        "CustomerNote.Text",
        "ProgressSharing.Reason",
    ];

    [Fact]
    public async Task Nothing_internal_is_on_the_page_of_any_job_and_no_amount_where_prices_are_off()
    {
        var folder = Directory.CreateTempSubdirectory("shopfloor-marked").FullName;
        try
        {
            var marked = ShopDatabase.SqliteIn(folder);
            var copy = Path.Combine(folder, "shopfloor.db");
            await demo.ReadAsync(db => db.Database.ExecuteSqlAsync($"VACUUM INTO {copy}", Ct));
            IDbContextFactory<ShopDbContext> contexts = new Contexts(marked, demo.Shop.Services);
            var count = await MarkAsync(contexts);
            Assert.True(count > 2_000, $"Only {count} texts were marked.");
            await SeePagesAsync(contexts);
            using var own = new SqliteConnection(marked.ConnectionString);
            SqliteConnection.ClearPool(own);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private async Task SeePagesAsync(IDbContextFactory<ShopDbContext> contexts)
    {
        List<JobId> jobs;
        await using (var db = await contexts.CreateDbContextAsync(Ct))
        {
            jobs = await db.Set<Job>().Select(j => j.Id).ToListAsync(Ct);
        }

        var seen = new List<(SaleKind Kind, ProgressStand Stand)>();
        var see = new SeeProgress(contexts, [], demo.Shop.Clock);
        foreach (var isPriced in new[] { false, true })
        {
            await ShareAsync(contexts, jobs, isPriced);
            foreach (var job in jobs)
            {
                var view = await see.TellAsync(job, Ct);
                seen.Add((view.Kind, view.Stand));
                foreach (var words in ProgressWords.All)
                {
                    var html = WithoutStyle().Replace(await ProgressWordsTests.RenderAsync(view, words), "");
                    Assert.DoesNotContain(Marker, html, StringComparison.OrdinalIgnoreCase);
                    Assert.DoesNotMatch("[0-9] ?(h|min|hours|Std)\\b", html);
                    Assert.Equal(isPriced, html.Contains("class=\"prices\"", StringComparison.Ordinal));
                    if (!isPriced)
                    {
                        Assert.DoesNotMatch("\\b(EUR|USD|GBP)\\b", html);
                        Assert.DoesNotMatch("[0-9][.,][0-9]{2}\\b", html);
                    }
                }
            }
        }

        // The demo has most of everything, or this shows little.
        Assert.Superset(
            new HashSet<SaleKind> { SaleKind.Fitted, SaleKind.Shipped, SaleKind.ReturnVisit },
            seen.Select(s => s.Kind).ToHashSet()
        );
        Assert.Superset(
            new HashSet<ProgressStand> { ProgressStand.InTheShop, ProgressStand.HandedOver },
            seen.Select(s => s.Stand).ToHashSet()
        );
    }

    /// <summary>All papers, and prices or not, for every job.</summary>
    private static async Task ShareAsync(IDbContextFactory<ShopDbContext> contexts, List<JobId> jobs, bool isPriced)
    {
        await using var db = await contexts.CreateDbContextAsync(Ct);
        var known = await db.Set<ProgressSharing>().ToListAsync(Ct);
        foreach (var job in jobs)
        {
            var sharing = known.Find(s => s.JobId == job);
            if (sharing is null)
            {
                db.Add(sharing = new ProgressSharing(job));
            }

            sharing.Choose(isPriced, Enum.GetValues<ProgressPaper>(), showsForecast: true);
        }

        await db.SaveChangesAsync(Ct);
    }

    /// <summary>Puts markers into every free text of every table, and into every sentence inside stored JSON; how many.</summary>
    private static async Task<int> MarkAsync(IDbContextFactory<ShopDbContext> contexts)
    {
        var count = 0;
        await using var db = await contexts.CreateDbContextAsync(Ct);
        await db.Database.OpenConnectionAsync(Ct);
        await db.Database.ExecuteSqlRawAsync("PRAGMA foreign_keys = OFF", Ct);
        foreach (
            var entity in db.Model.GetEntityTypes().Where(e => e.GetTableName() is not null && !e.IsMappedToJson())
        )
        {
            foreach (var property in entity.GetProperties().Where(p => !IsSpared(entity, p)))
            {
                var (table, column) = (entity.GetTableName()!, property.GetColumnName());
                if (property.ClrType == typeof(string))
                {
                    count += await MarkTextAsync((SqliteConnection)db.Database.GetDbConnection(), table, column);
                }
                else
                {
                    count += await MarkJsonAsync((SqliteConnection)db.Database.GetDbConnection(), table, column);
                }
            }
        }

        return count;
    }

    private static bool IsSpared(IEntityType entity, IProperty property) =>
        property.IsPrimaryKey()
        || property.IsForeignKey()
        || property.GetContainingIndexes().Any(i => i.IsUnique)
        || Spared.Contains($"{entity.ClrType.Name}.{property.Name}")
        || property.Name.EndsWith("Hash", StringComparison.Ordinal)
        || property.GetProviderClrType() is { } stored && stored != typeof(string);

    private static async Task<int> MarkTextAsync(SqliteConnection connection, string table, string column)
    {
        await using var write = connection.CreateCommand();
        write.CommandText = $"UPDATE \"{table}\" SET \"{column}\" = '{Marker}' WHERE \"{column}\" IS NOT NULL";
        return await write.ExecuteNonQueryAsync(Ct);
    }

    private static async Task<int> MarkJsonAsync(SqliteConnection connection, string table, string column)
    {
        var changed = new List<(long Row, string Text)>();
        var count = 0;
        await using (var read = connection.CreateCommand())
        {
            read.CommandText =
                $"SELECT rowid, \"{column}\" FROM \"{table}\" WHERE typeof(\"{column}\") = 'text' AND substr(\"{column}\", 1, 1) IN ('{{', '[')";
            await using var rows = await read.ExecuteReaderAsync(Ct);
            while (await rows.ReadAsync(Ct))
            {
                var json = JsonNode.Parse(rows.GetString(1))!;
                count += MarkSentences(json);
                changed.Add((rows.GetInt64(0), json.ToJsonString()));
            }
        }

        foreach (var (row, text) in changed)
        {
            await using var write = connection.CreateCommand();
            write.CommandText = $"UPDATE \"{table}\" SET \"{column}\" = $text WHERE rowid = $row";
            write.Parameters.AddWithValue("$text", text);
            write.Parameters.AddWithValue("$row", row);
            await write.ExecuteNonQueryAsync(Ct);
        }

        return count;
    }

    /// <summary>What has a space in it was written by or for people.</summary>
    private static int MarkSentences(JsonNode node)
    {
        var count = 0;
        switch (node)
        {
            case JsonObject named:
                foreach (var (name, value) in named.ToList())
                {
                    if (IsSentence(value))
                    {
                        named[name] = Marker;
                        count++;
                    }
                    else if (value is not null)
                    {
                        count += MarkSentences(value);
                    }
                }

                break;
            case JsonArray list:
                for (var i = 0; i < list.Count; i++)
                {
                    if (IsSentence(list[i]))
                    {
                        list[i] = Marker;
                        count++;
                    }
                    else if (list[i] is { } value)
                    {
                        count += MarkSentences(value);
                    }
                }

                break;
        }

        return count;
    }

    private static bool IsSentence(JsonNode? node) =>
        node?.GetValueKind() == JsonValueKind.String && node.GetValue<string>().Contains(' ', StringComparison.Ordinal);

    private sealed class Contexts(ShopDatabase database, IServiceProvider services) : IDbContextFactory<ShopDbContext>
    {
        public ShopDbContext CreateDbContext()
        {
            var options = new DbContextOptionsBuilder<ShopDbContext>();
            database.Configure(options);
            // The model depends on the program's options for its users.
            options.UseApplicationServiceProvider(services);
            return new ShopDbContext(options.Options);
        }
    }

    /// <summary>The look and the script are the program's own and full of figures.</summary>
    [GeneratedRegex("<(style|script)>.*?</\\1>", RegexOptions.Singleline)]
    private static partial Regex WithoutStyle();
}
