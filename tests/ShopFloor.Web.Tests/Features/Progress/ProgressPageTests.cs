using System.Net;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Progress;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Features.Progress;

/// <summary>The customer's page, on both databases.</summary>
public abstract partial class ProgressPageTests(ShopHost shop)
{
    protected ShopHost Shop => shop;

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_link_is_built_from_the_public_address_and_only_its_hash_is_stored()
    {
        var car = await CarStory.BeginAsync(shop);
        var link = await car.Desk.PostAsync($"{car.JobPath}/progress-links", new { });
        var url = link.GetProperty("url").GetString()!;
        Assert.Matches("^https://shop\\.example/p/[A-Za-z0-9_-]{43}$", url);
        Assert.Equal(
            shop.Clock.GetUtcNow().AddDays(90),
            link.GetProperty("expiresAt").GetDateTimeOffset(),
            TimeSpan.FromSeconds(1)
        );
        var token = url[^43..];
        await shop.WithAsync<IDbContextFactory<ShopDbContext>, int>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync(Ct);
            Assert.True(await db.Set<ProgressLink>().AnyAsync(l => l.TokenHash == ProgressToken.Hash(token), Ct));
            Assert.False(await db.Set<ProgressLink>().AnyAsync(l => l.TokenHash.Contains(token), Ct));
            Assert.False(await db.Events.AnyAsync(e => e.Data.Contains(token), Ct));
            Assert.False(await db.IdempotencyRecords.AnyAsync(r => r.Result != null && r.Result.Contains(token), Ct));
            return 0;
        });
    }

    [Fact]
    public async Task A_repeat_with_the_same_key_makes_another_link_and_no_record_is_kept_of_either()
    {
        var car = await CarStory.BeginAsync(shop);
        var before = await RecordsAsync();
        var first = await car.Desk.PostAsync($"{car.JobPath}/progress-links", new { }, key: "link-1");
        var again = await car.Desk.PostAsync($"{car.JobPath}/progress-links", new { }, key: "link-1");
        Assert.NotEqual(first.GetProperty("url").GetString(), again.GetProperty("url").GetString());
        Assert.NotEqual(first.GetProperty("id").GetString(), again.GetProperty("id").GetString());
        Assert.Equal(before, await RecordsAsync());
    }

    [Fact]
    public async Task No_answer_with_a_secret_is_kept_under_its_key()
    {
        var car = await CarStory.BeginAsync(shop);
        using var owner = await shop.ApiAsync(Role.Owner);
        var before = await RecordsAsync();
        await car.Desk.PostAsync($"{car.JobPath}/progress-links", new { }, key: "secret-1");
        await car.Desk.PostAsync($"{car.JobPath}/upload-links", new { }, key: "secret-2");
        await owner.PostAsync("/api/v1/api-keys", new { name = "Till", role = "front-desk" }, key: "secret-4");
        Assert.Equal(before, await RecordsAsync());
        await car.Desk.PostAsync("/api/v1/customers", new { name = "Keyed Kim" }, key: "secret-3");
        Assert.Equal(before + 1, await RecordsAsync());
    }

    [Fact]
    public async Task The_page_shows_shop_car_phase_promise_and_what_is_awaited_and_is_small()
    {
        var car = await CarStory.BeginAsync(shop, isSigned: false);
        await AddPartAsync(car, "Door panels", null);
        using var page = await OpenAsync(await LinkAsync(car));
        var html = await page.Content.ReadAsStringAsync(Ct);
        Assert.Equal(HttpStatusCode.OK, page.StatusCode);
        Assert.Contains("Test Works", html, StringComparison.Ordinal);
        Assert.Contains("2005 Ferrow Lynx", html, StringComparison.Ordinal);
        Assert.Contains("Now: Intake", html, StringComparison.Ordinal);
        Assert.Contains("Next comes: Trim-out.", html, StringComparison.Ordinal);
        Assert.Contains("Your signature that we may cut and weld", html, StringComparison.Ordinal);
        Assert.Contains("Door panels: due on", html, StringComparison.Ordinal);
        Assert.Contains("Tell your insurer", html, StringComparison.Ordinal);
        Assert.True(Encoding.UTF8.GetByteCount(html) < 60 * 1024, $"{html.Length} characters");
    }

    [Fact]
    public async Task The_answer_carries_its_own_strict_headers_and_no_cookie()
    {
        var car = await CarStory.BeginAsync(shop);
        using var page = await OpenAsync(await LinkAsync(car));
        Assert.False(page.Headers.Contains("Set-Cookie"));
        Assert.Equal("no-referrer", page.Headers.GetValues("Referrer-Policy").Single());
        Assert.Contains("noindex", page.Headers.GetValues("X-Robots-Tag").Single(), StringComparison.Ordinal);
        var policy = page.Headers.GetValues("Content-Security-Policy").Single();
        Assert.StartsWith("default-src 'none'; style-src 'sha256-", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
        Assert.Contains("script-src 'sha256-", policy, StringComparison.Ordinal);
        var html = await page.Content.ReadAsStringAsync(Ct);
        var script = html[
            (html.IndexOf("<script>", StringComparison.Ordinal) + 8)..html.IndexOf(
                "</script>",
                StringComparison.Ordinal
            )
        ];
        var hash = Convert.ToBase64String(System.Security.Cryptography.SHA256.HashData(Encoding.UTF8.GetBytes(script)));
        Assert.Contains($"'sha256-{hash}'", policy, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Stream_of_changes_is_open_to_the_link_and_to_nobody_else()
    {
        var car = await CarStory.BeginAsync(shop);
        var link = await LinkAsync(car);
        using var client = shop.CreateClient();
        using var wrong = await client.GetAsync(new Uri("/p/wrong/changes", UriKind.Relative), Ct);
        Assert.Equal(HttpStatusCode.NotFound, wrong.StatusCode);

        using var open = await client.GetAsync(
            new Uri($"{link}/changes", UriKind.Relative),
            HttpCompletionOption.ResponseHeadersRead,
            Ct
        );
        Assert.Equal("text/event-stream", open.Content.Headers.ContentType?.MediaType);
        using var lines = new StreamReader(await open.Content.ReadAsStreamAsync(Ct));
        Assert.Equal("retry: 2000", await lines.ReadLineAsync(Ct));
        await car.Fabricator.PostAsync($"{car.JobPath}/operations/10/start", new { }, 200);
        string? said;
        do
        {
            said = await lines.ReadLineAsync(Ct);
        } while (said is "" or "event: beat");

        // Nothing but that something changed.
        Assert.Equal("data: -", said);

        // What changed between the page and its stream is told at once.
        using var late = await client.GetAsync(
            new Uri($"{link}/changes?after=0", UriKind.Relative),
            HttpCompletionOption.ResponseHeadersRead,
            Ct
        );
        using var first = new StreamReader(await late.Content.ReadAsStreamAsync(Ct));
        Assert.Equal(
            ["retry: 2000", "", "data: -"],
            [await first.ReadLineAsync(Ct), await first.ReadLineAsync(Ct), await first.ReadLineAsync(Ct)]
        );
    }

    [Fact]
    public async Task Wrong_revoked_and_expired_tokens_get_the_same_bytes()
    {
        var car = await CarStory.BeginAsync(shop);
        var created = await car.Desk.PostAsync($"{car.JobPath}/progress-links", new { validDays = 1 });
        var expired = new Uri(created.GetProperty("url").GetString()!).AbsolutePath;
        var second = await car.Desk.PostAsync($"{car.JobPath}/progress-links", new { });
        var revoked = new Uri(second.GetProperty("url").GetString()!).AbsolutePath;
        using var gone = await car.Desk.SendAsync(
            HttpMethod.Delete,
            $"/api/v1/progress-links/{second.GetProperty("id").GetString()}"
        );
        Assert.Equal(HttpStatusCode.NoContent, gone.StatusCode);
        shop.Clock.Advance(TimeSpan.FromDays(1));

        var answers = new List<(HttpStatusCode Status, string Body, string Headers)>();
        foreach (var path in new[] { "/p/" + new string('A', 43), "/p/x", revoked, expired })
        {
            using var answer = await OpenAsync(path);
            answers.Add((answer.StatusCode, await answer.Content.ReadAsStringAsync(Ct), HeadersOf(answer)));
        }

        Assert.All(answers, a => Assert.Equal(HttpStatusCode.NotFound, a.Status));
        Assert.Single(answers.Select(a => a.Body).Distinct());
        Assert.Single(answers.Select(a => a.Headers).Distinct());
    }

    [Fact]
    public async Task Nothing_internal_is_on_the_page_of_a_job_filled_with_marker_strings()
    {
        var car = await CarStory.BeginAsync(shop, customer: "MARKER-CUSTOMER");
        await AddPartAsync(car, "Door panels", "MARKER-PART-NOTE");
        await car.WorkUntilAsync("20");
        await car.Fabricator.PostAsync(
            $"{car.JobPath}/operations/30/hold",
            new { reason = "partMissing", note = "MARKER-HOLD" },
            200
        );
        await car.Inspector.PostAsync(
            $"{car.JobPath}/readings",
            new
            {
                line = "plate-tacks",
                result = "failed",
                note = "MARKER-READING",
            }
        );
        using var moved = await car.Desk.SendAsync(
            HttpMethod.Post,
            $"{car.JobPath}/promise",
            new { promisedOn = "2026-08-20", reason = "MARKER-PROMISE" }
        );
        Assert.True(moved.IsSuccessStatusCode, await moved.Content.ReadAsStringAsync(Ct));
        using var page = await OpenAsync(await LinkAsync(car));
        var html = await page.Content.ReadAsStringAsync(Ct);
        Assert.Contains("20 August 2026", html, StringComparison.Ordinal);
        Assert.DoesNotContain("MARKER", html, StringComparison.Ordinal);
        foreach (var name in new[] { "Olga Owner", "Fabricator Person", "Inspector Person", "FrontDesk Person" })
        {
            Assert.DoesNotContain(name, html, StringComparison.Ordinal);
        }

        Assert.DoesNotContain("EUR", html, StringComparison.Ordinal);
        Assert.DoesNotMatch("[0-9] ?h\\b", html);
    }

    [Fact]
    public async Task A_finished_car_is_ready_for_collection()
    {
        var car = await CarStory.BeginAsync(shop);
        var path = await LinkAsync(car);
        await car.WorkUntilAsync();
        await car.SignOffAsync();
        using var page = await OpenAsync(path);
        Assert.Contains("Your car is ready", await page.Content.ReadAsStringAsync(Ct), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_link_for_no_job_or_for_too_long_is_refused()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.Desk.PostAsync($"/api/v1/jobs/{Guid.Empty}/progress-links", new { }, 404);
        var problem = await car.Desk.PostAsync($"{car.JobPath}/progress-links", new { validDays = 366 }, 400);
        Assert.True(problem.GetProperty("errors").TryGetProperty("validDays", out _));
        await car.Fabricator.PostAsync($"{car.JobPath}/progress-links", new { }, 403);
    }

    private protected static async Task<string> LinkAsync(CarStory car)
    {
        var link = await car.Desk.PostAsync($"{car.JobPath}/progress-links", new { });
        return new Uri(link.GetProperty("url").GetString()!).AbsolutePath;
    }

    private async Task<HttpResponseMessage> OpenAsync(string path)
    {
        using var client = shop.CreateClient();
        return await client.GetAsync(new Uri(path, UriKind.Relative), Ct);
    }

    private static string HeadersOf(HttpResponseMessage answer) =>
        string.Join(
            '\n',
            answer
                .Headers.Concat(answer.Content.Headers)
                .Where(h => h.Key != "Date")
                .Select(h => $"{h.Key}: {string.Join(',', h.Value)}")
                .Order(StringComparer.Ordinal)
        );

    private Task<int> RecordsAsync() =>
        shop.WithAsync<IDbContextFactory<ShopDbContext>, int>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync(Ct);
            return await db.IdempotencyRecords.CountAsync(Ct);
        });

    private Task<int> AddPartAsync(CarStory car, string what, string? note) =>
        shop.WithAsync<IDbContextFactory<ShopDbContext>, int>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync(Ct);
            var now = shop.Clock.GetUtcNow();
            var due = DateOnly.FromDateTime(now.Date).AddDays(7);
            var part = CustomerPart.Promise(
                Ids.New<CustomerPartId>(now),
                JobId.From(Guid.Parse(car.JobId)),
                new CustomerPartDetails(what, "door-panels", due, note),
                DateOnly.FromDateTime(now.Date)
            );
            Assert.True(part.IsSuccess, part.Failure?.Sentence);
            db.Add(part.Value);
            return await db.SaveChangesAsync(Ct);
        });
}

public sealed class ProgressPageOnSqlite(SqliteShop shop) : ProgressPageTests(shop), IClassFixture<SqliteShop>
{
    [Fact]
    public async Task A_hundred_thousand_guesses_at_the_look_up_find_none()
    {
        var (shop, ct) = (Shop, TestContext.Current.CancellationToken);
        var car = await CarStory.BeginAsync(shop);
        var right = (await LinkAsync(car))[^43..];
        var found = await shop.WithAsync<Application.Progress.SeeProgress, int>(async see =>
        {
            Assert.NotNull(await see.FindAsync(ProgressToken.Hash(right), ct));
            var count = 0;
            await Parallel.ForEachAsync(
                Enumerable.Range(0, 100_000),
                new ParallelOptions { MaxDegreeOfParallelism = 2, CancellationToken = ct },
                async (_, token) =>
                {
                    if (await see.FindAsync(ProgressToken.Hash(ProgressToken.New()), token) is not null)
                    {
                        Interlocked.Increment(ref count);
                    }
                }
            );
            return count;
        });
        Assert.Equal(0, found);
    }
}

public sealed class ProgressPageOnPostgres(PostgresShop shop) : ProgressPageTests(shop), IClassFixture<PostgresShop>;
