using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Accounts;

/// <summary>Work that waits for its deposit, on both databases.</summary>
public abstract class DepositsApiTests(ShopHost shop)
{
    [Fact]
    public async Task Work_waits_in_words_until_the_deposit_is_paid()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, quote) = await JobStory.OpenJobAsync(shop, desk, "Dina Deposit", "SF-DE 1");
        var account = $"/api/v1/jobs/{job}/account";
        Assert.DoesNotContain("deposit", await FirstGatesAsync(desk, job));

        var waiting = await desk.PostAsync(account + "/deposit-first", new { first = true }, 200);

        Assert.True(waiting.GetProperty("waitsForDeposit").GetBoolean());
        Assert.Contains("deposit", await FirstGatesAsync(desk, job));
        using var floor = await shop.ApiAsync(Role.Fabricator);
        var refused = await floor.PostAsync($"/api/v1/jobs/{job}/operations/10/start", new { }, 409);
        Assert.Contains("Waiting for the deposit", refused.ToString(), StringComparison.Ordinal);

        await desk.PostAsync(
            account + "/deposits",
            new { amountMinor = quote.Number("depositMinor"), method = "bankTransfer" },
            200
        );
        Assert.DoesNotContain("deposit", await FirstGatesAsync(desk, job));
    }

    [Fact]
    public async Task Owner_alone_lets_work_start_without_the_deposit_and_says_why()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var owner = await shop.ApiAsync(Role.Owner);
        var (job, _) = await JobStory.OpenJobAsync(shop, desk, "Wanda Waive", "SF-DE 2");
        var account = $"/api/v1/jobs/{job}/account";
        await desk.PostAsync(account + "/deposit-first", new { first = true }, 200);

        await desk.PostAsync(account + "/start-without-deposit", new { reason = "Known for years" }, 403);
        await owner.PostAsync(account + "/start-without-deposit", new { }, 400);
        var decided = await owner.PostAsync(
            account + "/start-without-deposit",
            new { reason = "Known for years" },
            200
        );

        Assert.False(decided.GetProperty("waitsForDeposit").GetBoolean());
        var decision = Assert.Single(decided.GetProperty("decisions").EnumerateArray());
        Assert.Equal(("Known for years", "Olga Owner"), (decision.Text("reason"), decision.Text("by")));
        Assert.DoesNotContain("deposit", await FirstGatesAsync(desk, job));
        await owner.PostAsync(account + "/start-without-deposit", new { reason = "Twice" }, 409);
    }

    private static async Task<IEnumerable<string>> FirstGatesAsync(HttpClient api, string job) =>
        (await api.GetJsonAsync($"/api/v1/jobs/{job}"))
            .GetProperty("operations")[0]
            .GetProperty("gates")
            .EnumerateArray()
            .Where(g => !g.TryGetProperty("isMet", out var met) || !met.GetBoolean())
            .Select(g => g.Text("kind"));
}

public sealed class DepositsApiOnSqlite(SqliteShop shop) : DepositsApiTests(shop), IClassFixture<SqliteShop>;

public sealed class DepositsApiOnPostgres(PostgresShop shop) : DepositsApiTests(shop), IClassFixture<PostgresShop>;
