using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Solving;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Workbench;

/// <summary>The two calculators with a solver behind them. They store nothing, so one database is enough; how good the answers are is shown in the solvers' tests.</summary>
public sealed class SolverApiTests(SqliteShop shop) : IClassFixture<SqliteShop>
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Plan_answers_with_every_operation_and_a_bound()
    {
        var plan = await AskAsync(
            "plan",
            """
            {"jobs": [{"id": "a", "operations": [{"resource": "saw", "durationMinutes": 3}, {"resource": "weld", "durationMinutes": 4}]},
                      {"id": "b", "operations": [{"resource": "weld", "durationMinutes": 2}, {"resource": "saw", "durationMinutes": 5}]},
                      {"id": "none", "operations": []}], "timeLimitSeconds": 5}
            """
        );
        Assert.Equal(8, plan.GetProperty("makespanMinutes").GetInt64());
        Assert.Equal(8, plan.GetProperty("lowerBoundMinutes").GetInt64());
        Assert.True(plan.GetProperty("isProvenOptimal").GetBoolean());
        Assert.Equal(
            ["a 0 saw 3", "a 1 weld 4", "b 0 weld 2", "b 1 saw 5"],
            plan.GetProperty("operations")
                .EnumerateArray()
                .Select(o =>
                    $"{o.GetProperty("job").GetString()} {o.GetProperty("index").GetInt32()} {o.GetProperty("resource").GetString()} {o.GetProperty("endMinute").GetInt64() - o.GetProperty("startMinute").GetInt64()}"
                )
        );
        Assert.Equal(0, (await AskAsync("plan", """{"jobs": []}""")).GetProperty("makespanMinutes").GetInt64());
    }

    [Fact]
    public async Task Nest_answers_with_bars_remnants_and_bounds()
    {
        var nest = await AskAsync(
            "nest",
            """
            {"stock": [{"lengthMm": 6096}], "kerfMm": 3, "pieces": [
              {"label": "leg", "lengthMm": 2438, "quantity": 2}, {"label": "door", "lengthMm": 1829, "quantity": 3},
              {"label": "cross", "lengthMm": 1524, "quantity": 1}, {"label": "stay", "lengthMm": 1219, "quantity": 2},
              {"label": "sill", "lengthMm": 914, "quantity": 2}, {"label": "gusset", "lengthMm": 610, "quantity": 3}]}
            """
        );
        Assert.Equal(4, nest.GetProperty("barsUsed").GetInt32());
        Assert.Equal(24384, nest.GetProperty("stockUsedMm").GetDouble());
        Assert.Equal(4, nest.GetProperty("lowerBoundBars").GetInt32());
        Assert.Equal(24384, nest.GetProperty("lowerBoundStockMm").GetDouble());
        Assert.True(nest.GetProperty("isProvenOptimal").GetBoolean());
        var bars = nest.GetProperty("bars").EnumerateArray().ToList();
        Assert.Equal(13, bars.Sum(b => b.GetProperty("cuts").GetArrayLength()));
        Assert.All(
            bars,
            b =>
            {
                var cuts = b.GetProperty("cuts").EnumerateArray().Select(c => c.GetProperty("lengthMm").GetDouble());
                Assert.Equal(6096 - cuts.Sum(c => c + 3), b.GetProperty("remnantMm").GetDouble(), 1e-9);
            }
        );
    }

    [Theory]
    [InlineData("plan", "{}", "jobs")]
    [InlineData("plan", """{"jobs": [null]}""", "jobs[0].id")]
    [InlineData("plan", """{"jobs": [], "timeLimitSeconds": 0}""", "timeLimitSeconds")]
    [InlineData("plan", """{"jobs": [], "timeLimitSeconds": 121}""", "timeLimitSeconds")]
    [InlineData(
        "plan",
        """{"jobs": [{"id": "a", "operations": [{"resource": "r"}]}]}""",
        "jobs[0].operations[0].durationMinutes"
    )]
    [InlineData("nest", """{"pieces": []}""", "stock")]
    [InlineData("nest", """{"stock": [{"lengthMm": 6000}]}""", "pieces")]
    [InlineData(
        "nest",
        """{"stock": [{"lengthMm": 100}], "pieces": [{"label": "p", "lengthMm": 101, "quantity": 1}]}""",
        "pieces[0].lengthMm"
    )]
    [InlineData("nest", """{"stock": [{"lengthMm": 100.00001}], "pieces": []}""", "stock[0].lengthMm")]
    // Room enough by sum, but no two of the three go into one bar.
    [InlineData(
        "nest",
        """{"stock": [{"lengthMm": 100, "quantity": 2}], "pieces": [{"label": "p", "lengthMm": 60, "quantity": 3}]}""",
        "stock"
    )]
    public async Task Wrong_input_is_said_at_its_field(string call, string body, string path)
    {
        var problem = await AskAsync(call, body, 400);
        Assert.True(problem.GetProperty("errors").TryGetProperty(path, out var texts), problem.ToString());
        Assert.NotEmpty(texts[0].GetString()!);
    }

    [Fact]
    public async Task While_two_runs_are_under_way_a_third_is_told_when_to_come_again()
    {
        var runs = shop.Services.GetRequiredService<SolverRuns>();
        using var end = new ManualResetEventSlim();
        var both = Enumerable
            .Range(0, SolverRuns.AtOnce)
            .Select(_ =>
                runs.RunAsync(
                    () =>
                    {
                        end.Wait(Ct);
                        return true;
                    },
                    Ct
                )
            )
            .ToList();
        using (var api = await shop.ApiAsync(Role.Fabricator))
        {
            using var answer = await api.PostAsJsonAsync(
                "/api/v1/calculators/plan",
                new { jobs = Array.Empty<object>() },
                Ct
            );
            Assert.Equal(429, (int)answer.StatusCode);
            Assert.NotNull(answer.Headers.RetryAfter?.Delta);
        }

        end.Set();
        await Task.WhenAll(both);
        await AskAsync("plan", """{"jobs": []}""");
    }

    private async Task<JsonElement> AskAsync(string call, string body, int status = 200)
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        using var content = new StringContent(body, Encoding.UTF8, "application/json");
        using var answer = await api.PostAsync(new Uri("/api/v1/calculators/" + call, UriKind.Relative), content, Ct);
        return await answer.JsonAsync(status);
    }
}
