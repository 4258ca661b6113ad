using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Times;

namespace ShopFloor.Benchmarks;

/// <summary>
/// Years of history made from one finished job of the demo: its rows copied by the database itself with other ids, numbers and earlier days. The newest thousand are whole, ten a week;
/// older ones have four steps each and no price document, which the figures of a recent week must not read (it would not even be understood).
/// </summary>
internal static class HistoryCopies
{
    /// <summary>Copies that are whole, and the same in every shop that is compared.</summary>
    public const int Recent = 1000;

    private const int PerWeek = 10;
    private const int StepsOfOld = 4;

    /// <summary>Old jobs lie within so many years before the recent ones.</summary>
    private const int OldYears = 22;

    private static readonly HashSet<string> Copied = ["Id", "JobId", "QuoteId", "OperationId", "Paper", "Reverses"];

    public static async Task AddAsync(ShopDbContext db, int jobs)
    {
        db.Database.SetCommandTimeout(TimeSpan.FromMinutes(20));
        var template = await TemplateAsync(db);
        var isSqlite = db.Database.IsSqlite();
        await RunAsync(db, """CREATE TABLE "History" ("N" integer PRIMARY KEY, "Days" integer NOT NULL)""");
        await RunAsync(
            db,
            isSqlite
                ? $"""WITH RECURSIVE c(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM c WHERE n < {jobs}) INSERT INTO "History" SELECT n, {Days} FROM c"""
                : $"""INSERT INTO "History" SELECT n, {Days} FROM generate_series(1, {jobs}) n"""
        );
        var job = Literal(template.Id.Value, isSqlite);
        var quote = Literal(template.QuoteId.Value, isSqlite);
        var steps = $"""t."JobId" = {job} AND (h."N" <= {Recent} OR t."Position" < {StepsOfOld})""";
        await CopyAsync<Quote>(db, $"""t."Id" = {quote}""");
        await CopyAsync<Job>(db, $"""t."Id" = {job}""");
        await CopyAsync<Operation>(db, steps);
        await CopyAsync<TimeEntry>(
            db,
            $"""
            t."OperationId" IN (SELECT "Id" FROM "Operations" WHERE "JobId" = {job})
            AND (h."N" <= {Recent} OR t."OperationId" IN (SELECT "Id" FROM "Operations" WHERE "JobId" = {job} AND "Position" < {StepsOfOld}))
            """
        );
        var ofJob = $"""t."JobId" = {job}""";
        await CopyAsync<DropOff>(db, ofJob);
        await CopyAsync<JobInspection>(db, ofJob);
        await CopyAsync<SignOff>(db, ofJob);
        await CopyAsync<CustomerPart>(db, ofJob);
        await CopyAsync<JobCost>(db, ofJob);
        await CopyAsync<JobAccount>(db, $"""t."Id" = {job}""");
        await CopyAsync<LedgerEntry>(db, ofJob);
        await CopyAsync<ShopTime>(
            db,
            """t."Id" = (SELECT MIN(CAST("Id" AS text)) FROM "ShopTimes" WHERE "EndedAt" IS NOT NULL)""".Replace(
                "t.\"Id\" =",
                isSqlite ? "t.\"Id\" =" : "CAST(t.\"Id\" AS text) =",
                StringComparison.Ordinal
            )
        );
        await RunAsync(db, """DROP TABLE "History" """);
        if (!isSqlite)
        {
            // PostgreSQL does so by itself after a while; SQLite never does.
            await RunAsync(db, "ANALYZE");
        }
    }

    /// <summary>Days before the template's own: ten jobs a week, then the old ones evenly.</summary>
    private static string Days =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"CASE WHEN n <= {Recent} THEN n * 7 / {PerWeek} ELSE {Recent * 7 / PerWeek} + (n - {Recent}) * {OldYears * 365} / 99000 END"
        );

    private static async Task<Job> TemplateAsync(ShopDbContext db)
    {
        var signed = db.Set<SignOff>().Where(s => s.WithdrawnAt == null).Select(s => s.JobId);
        var came = db.Set<DropOff>().Select(d => d.JobId);
        var booked = db.Set<LedgerEntry>().Where(e => e.Paper != null).Select(e => e.JobId);
        return await db.Set<Job>()
            .AsNoTracking()
            .Where(j =>
                j.State == JobState.Closed && signed.Contains(j.Id) && came.Contains(j.Id) && booked.Contains(j.Id)
            )
            .OrderBy(j => j.Number)
            .FirstAsync();
    }

    private static Task<int> CopyAsync<T>(ShopDbContext db, string filter)
    {
        var entity = db.Model.FindEntityType(typeof(T))!;
        var isSqlite = db.Database.IsSqlite();
        var columns = entity.GetProperties().ToList();
        var names = string.Join(", ", columns.Select(c => $"\"{c.GetColumnName()}\""));
        var values = string.Join(", ", columns.Select(c => Value(c, isSqlite)));
        var table = entity.GetTableName();
        return RunAsync(
            db,
            $"""INSERT INTO "{table}" ({names}) SELECT {values} FROM "{table}" t CROSS JOIN "History" h WHERE {filter}"""
        );
    }

    private static string Value(IProperty property, bool isSqlite)
    {
        var column = $"t.\"{property.GetColumnName()}\"";
        var type = Nullable.GetUnderlyingType(property.ClrType) ?? property.ClrType;
        var ofQuote = property.DeclaringType.ClrType == typeof(Quote);
        return property.Name switch
        {
            _ when Copied.Contains(property.Name) => NewId(column, isSqlite),
            "Number" or "Receipt" => $"{column} || '-' || h.\"N\"",
            "Priced" when ofQuote => $"CASE WHEN h.\"N\" <= {Recent} THEN {column} ELSE '{{}}' END",
            "Snapshot" when ofQuote => "NULL",
            _ when type == typeof(DateTimeOffset) => isSqlite
                ? $"{column} - h.\"Days\" * {TimeSpan.TicksPerDay}"
                : $"{column} - h.\"Days\" * interval '1 day'",
            _ when type == typeof(DateOnly) => isSqlite
                ? $"date({column}, '-' || h.\"Days\" || ' days')"
                : $"{column} - h.\"Days\"",
            _ => column,
        };
    }

    /// <summary>The same id for the same row and copy, wherever it is referred to.</summary>
    private static string NewId(string column, bool isSqlite) =>
        isSqlite
            ? $"substr({column}, 1, 24) || printf('%012X', h.\"N\")"
            : $"CAST(substr(CAST({column} AS text), 1, 24) || lpad(to_hex(h.\"N\"), 12, '0') AS uuid)";

    private static string Literal(Guid id, bool isSqlite) =>
        isSqlite ? $"'{id.ToString().ToUpperInvariant()}'" : $"'{id}'";

    /// <summary>Nothing in it comes from outside this file.</summary>
#pragma warning disable EF1002
    private static Task<int> RunAsync(ShopDbContext db, string sql) =>
        db.Database.ExecuteSqlRawAsync(
            sql.Replace("{", "{{", StringComparison.Ordinal).Replace("}", "}}", StringComparison.Ordinal)
        );
#pragma warning restore EF1002
}
