using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Common;
using ShopFloor.Application.History;
using ShopFloor.Application.People;
using ShopFloor.Data;
using ShopFloor.Data.History;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;

namespace ShopFloor.Drills;

/// <summary>
/// Many clients tap on the same few operations at once. Afterwards log and state agree, nothing was lost, nothing was finished twice, and whoever was refused knows why.
/// A small round runs with all tests; <c>SHOPFLOOR_DRILL_COMMANDS=10000</c> makes it the whole drill.
/// </summary>
public abstract partial class RaceDrill(ShopHost shop, ITestOutputHelper output)
{
    private const int Clients = 16;
    private const int Cars = 3;
    private const int SmallRound = 160;
    private const int LargestRound = 1_000_000;

    /// <summary>Operations at the beginning of the route, none of them hot work.</summary>
    private static readonly string[] Codes = ["10", "20", "30", "40"];
    private static readonly string[] Taps =
    [
        "start",
        "stop",
        "finish",
        "undo-finish",
        "hold",
        "resume",
        "start",
        "finish",
    ];

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    private static int Commands =>
        Environment.GetEnvironmentVariable("SHOPFLOOR_DRILL_COMMANDS") is { } text
            ? Math.Clamp(int.Parse(text, CultureInfo.InvariantCulture), Clients, LargestRound)
            : SmallRound;

    private sealed record Answer(int Status, string Body);

    [Fact]
    public async Task Conflicting_taps_of_sixteen_clients_leave_log_and_state_in_agreement()
    {
        var jobs = new List<JobId>();
        for (var n = 0; n < Cars; n++)
        {
            jobs.Add(await shop.SignedJobAsync());
        }

        var clients = await ClientsAsync();
        var watch = Stopwatch.StartNew();
        var answers = (await Task.WhenAll(clients.Select((client, n) => Task.Run(() => TapAsync(client, n, jobs), Ct))))
            .SelectMany(a => a)
            .ToList();
        watch.Stop();

        // Every answer is a yes or a reasoned no.
        Assert.All(answers, a => Assert.True(a.Status is 200 or 409, $"{a.Status}: {a.Body}"));
        Assert.All(answers.Where(a => a.Status == 409), a => Assert.True(IsReasoned(a.Body), a.Body));
        var changes = 0;
        foreach (var job in jobs)
        {
            changes += await CheckAsync(job);
        }

        await using var scope = shop.Services.CreateAsyncScope();
        Assert.Empty(await scope.ServiceProvider.GetRequiredService<VerifyHistory>().RunAsync(Ct));
        Assert.True(changes > 0 && answers.Exists(a => a.Status == 409), "Nobody met anybody.");
        output.WriteLine(
            $"{shop.Kind}: {answers.Count} commands of {Clients} clients in {watch.Elapsed.TotalSeconds:0.0} s; "
                + $"{answers.Count(a => a.Status == 200)} accepted ({changes} changes), {answers.Count(a => a.Status == 409)} refused with reasons."
        );
    }

    /// <summary>One client's taps, every tenth of them sent twice with one key.</summary>
    private async Task<List<Answer>> TapAsync(HttpClient client, int seed, List<JobId> jobs)
    {
        var random = new Random(seed);
        var answers = new List<Answer>();
        for (var n = 0; n < Commands / Clients; n++)
        {
            var path =
                $"/api/v1/jobs/{jobs[random.Next(jobs.Count)]}/operations/{Codes[random.Next(Codes.Length)]}/{Taps[random.Next(Taps.Length)]}";
            var key = $"drill-{seed}-{n}";
            var first = await SendAsync(client, path, key);
            answers.Add(first);
            if (n % 10 == 0 && !IsBusy(first))
            {
                var again = await SendAsync(client, path, key);
                Assert.Equal(first, again);
            }

            if (seed == 0)
            {
                shop.Clock.Advance(TimeSpan.FromMilliseconds(7));
            }
        }

        return answers;
    }

    private static async Task<Answer> SendAsync(HttpClient client, string path, string key)
    {
        using var response = await client.SendAsync(HttpMethod.Post, path, new { }, key);
        var body = await response.Content.ReadAsStringAsync(Ct);
        return new Answer((int)response.StatusCode, TraceId().Replace(body, ""));
    }

    /// <summary>Nothing was tried: the only refusal that a repeat may answer otherwise.</summary>
    private static bool IsBusy(Answer answer) => answer.Body.Contains("\"code\":\"busy\"", StringComparison.Ordinal);

    private static bool IsReasoned(string body)
    {
        using var problem = JsonDocument.Parse(body);
        return problem.RootElement.TryGetProperty("reasons", out var reasons)
            && reasons.GetArrayLength() > 0
            && reasons.EnumerateArray().All(r => r.GetProperty("text").GetString() is { Length: > 10 });
    }

    /// <summary>Reads the log of one car from its beginning and compares it with what is stored; how many changes there were.</summary>
    private async Task<int> CheckAsync(JobId id)
    {
        await using var db = await shop
            .Services.GetRequiredService<IDbContextFactory<ShopDbContext>>()
            .CreateDbContextAsync(Ct);
        var job = await db.Set<Job>()
            .Include(j => j.Operations)
                .ThenInclude(o => o.Times)
            .SingleAsync(j => j.Id == id, Ct);
        var log = await db
            .Events.AsNoTracking()
            .Where(e => e.Job == id && e.Subject == "operation")
            .OrderBy(e => e.Sequence)
            .ToListAsync(Ct);
        foreach (var operation in job.Operations)
        {
            var mine = log.FindAll(e => e.SubjectId == operation.Id.Value);
            CheckChain(operation, mine);
            var finished = 0;
            foreach (var type in mine.Select(e => e.Type))
            {
                finished += type switch
                {
                    "operation.finished" => 1,
                    "operation.finishUndone" => -1,
                    _ => 0,
                };
                Assert.InRange(finished, 0, 1);
            }

            Assert.Equal(operation.Progress == OperationProgress.Done ? 1 : 0, finished);
            // Nobody is on one operation twice at a time.
            Assert.Equal(operation.Running.Count(), operation.Running.Select(t => t.Worker).Distinct().Count());
        }

        return log.Count;
    }

    /// <summary>Each change began where the one before it had ended, and the last one ended with what is stored: no update was lost.</summary>
    private static void CheckChain(Operation operation, List<EventRow> log)
    {
        string? before = null;
        foreach (var row in log)
        {
            using var data = JsonDocument.Parse(row.Data);
            var was = data.RootElement.GetProperty("before").GetRawText();
            Assert.True(
                before is null || before == was,
                $"{operation.Code}, event {row.Sequence}: began at {was}, but the one before left {before}."
            );
            before = data.RootElement.GetProperty("after").GetProperty("state").GetRawText();
        }

        if (before is not null)
        {
            using var last = JsonDocument.Parse(before);
            var state = last.RootElement;
            Assert.Equal(operation.Progress.ToString(), state.GetProperty("progress").GetString(), ignoreCase: true);
            Assert.Equal(operation.Running.Count(), state.GetProperty("running").GetInt32());
            Assert.Equal(operation.Times.Count, state.GetProperty("entries").GetInt32());
        }
    }

    private async Task<List<HttpClient>> ClientsAsync()
    {
        var clients = new List<HttpClient>();
        for (var n = 0; n < Clients; n++)
        {
            // Two clients of one person: a tablet in each hand.
            clients.Add(await shop.ApiAsync(Role.Fabricator, n % 2 == 0 ? await PersonAsync(n) : last));
        }

        return clients;
    }

    [GeneratedRegex(",?\"traceId\":\"[^\"]*\"")]
    private static partial Regex TraceId();

    private PersonId last;

    private async Task<PersonId> PersonAsync(int n)
    {
        var added = await shop.WithAsync<AddPerson, Outcome<PersonId>>(people =>
            people.RunAsync(
                new AddPerson.Request($"Fabricator {n}", $"f{n}@shop.example", ShopHost.Password, [Role.Fabricator]),
                Envelope.Of(Actor.System),
                Ct
            )
        );
        last = added.Value;
        return last;
    }
}

public sealed class RaceDrillOnSqlite(SqliteShop shop, ITestOutputHelper output)
    : RaceDrill(shop, output),
        IClassFixture<SqliteShop>;

public sealed class RaceDrillOnPostgres(PostgresShop shop, ITestOutputHelper output)
    : RaceDrill(shop, output),
        IClassFixture<PostgresShop>;
