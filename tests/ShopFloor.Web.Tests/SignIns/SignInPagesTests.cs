using System.Net;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.SignIns;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.SignIns;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.SignIns;

/// <summary>Signing in as a browser without script does it. Each test has a person of its own, because locks and sessions stay.</summary>
public abstract partial class SignInPagesTests(ShopHost shop)
{
    private const string Mine = "/my-sign-in";
    private static int people;

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task App_is_asked_for_once_it_was_shown_and_no_code_counts_twice()
    {
        var (email, id) = await PersonAsync();
        using var client = await EnterAsync(email);
        Assert.Contains(
            "not your password",
            await client.PostFormAsync(
                Mine,
                Mine,
                ("_handler", "app"),
                ("Password", "something else"),
                ("Does", "begin")
            ),
            StringComparison.Ordinal
        );
        var begun = await client.PostFormAsync(
            Mine,
            Mine,
            ("_handler", "app"),
            ("Password", ShopHost.Password),
            ("Does", "begin")
        );
        var secret = AppCode.Secret(SecretOf().Match(begun).Groups[1].Value);
        Assert.Equal(20, secret.Length);

        // Not asked for before the app has shown that it knows the secret.
        using (var early = await EnterAsync(email)) { }

        Assert.Contains(
            "not right",
            await client.PostFormAsync(Mine, Mine, ("_handler", "confirm"), ("Code", "000000")),
            StringComparison.Ordinal
        );
        var code = AppCode.Of(secret, shop.Clock.GetUtcNow());
        var confirmed = await client.PostFormAsync(Mine, Mine, ("_handler", "confirm"), ("Code", code));
        var papers = PaperCode().Matches(confirmed).Select(m => m.Value).ToList();
        Assert.Equal(RecoveryCode.Many, papers.Count);

        // The code that confirmed it is used up.
        using var next = await HalfwayAsync(email);
        Assert.Contains("used before", await ShowCodeAsync(next, code), StringComparison.Ordinal);
        shop.Clock.Advance(TimeSpan.FromSeconds(30));
        Assert.Equal("", await ShowCodeAsync(next, AppCode.Of(secret, shop.Clock.GetUtcNow())));
        Assert.Contains("by password and app", await next.PageAsync(Mine), StringComparison.Ordinal);

        // Paper stands in for it, once.
        using var byPaper = await HalfwayAsync(email);
        Assert.Equal("", await ShowCodeAsync(byPaper, papers[0].ToLowerInvariant()));
        using var again = await HalfwayAsync(email);
        Assert.Contains("used before", await ShowCodeAsync(again, papers[0]), StringComparison.Ordinal);
        Assert.Contains("7 of your codes", await byPaper.PageAsync(Mine), StringComparison.Ordinal);

        // Nothing of it can be read in the database.
        var stored = await shop.WithAsync<IDbContextFactory<ShopDbContext>, string>(async f =>
        {
            await using var db = await f.CreateDbContextAsync(Ct);
            var factor = await db.Set<SecondFactor>().AsNoTracking().SingleAsync(x => x.Person == new PersonId(id), Ct);
            var hashes = await db.Set<RecoveryCode>().AsNoTracking().Select(c => c.Hash).ToListAsync(Ct);
            return factor.ProtectedSecret + string.Join(' ', hashes);
        });
        Assert.DoesNotContain(Convert.ToBase64String(secret), stored, StringComparison.Ordinal);
        Assert.DoesNotContain(
            papers[1].Replace("-", "", StringComparison.Ordinal),
            stored,
            StringComparison.OrdinalIgnoreCase
        );

        // Away again with the password, and the password alone opens the shop.
        Assert.Contains(
            "no more",
            await client.PostFormAsync(
                Mine,
                Mine,
                ("_handler", "app"),
                ("Password", ShopHost.Password),
                ("Does", "remove")
            ),
            StringComparison.Ordinal
        );
        using var plain = await EnterAsync(email);
    }

    [Fact]
    public async Task Guessed_codes_lock_the_account_as_guessed_passwords_do()
    {
        var (email, _) = await PersonAsync();
        using var client = await EnterAsync(email);
        var begun = await client.PostFormAsync(
            Mine,
            Mine,
            ("_handler", "app"),
            ("Password", ShopHost.Password),
            ("Does", "begin")
        );
        var secret = AppCode.Secret(SecretOf().Match(begun).Groups[1].Value);
        await client.PostFormAsync(
            Mine,
            Mine,
            ("_handler", "confirm"),
            ("Code", AppCode.Of(secret, shop.Clock.GetUtcNow()))
        );
        using var guesser = await HalfwayAsync(email);
        for (var i = 0; i < 8; i++)
        {
            Assert.Contains("not right", await ShowCodeAsync(guesser, $"{i:000000}"), StringComparison.Ordinal);
        }

        shop.Clock.Advance(TimeSpan.FromSeconds(60));
        Assert.Contains(
            "Too many",
            await ShowCodeAsync(guesser, AppCode.Of(secret, shop.Clock.GetUtcNow())),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Person_sees_where_they_are_signed_in_and_ends_it_there()
    {
        var (email, _) = await PersonAsync();
        using var here = await EnterAsync(
            email,
            "Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0"
        );
        using var there = await EnterAsync(
            email,
            "Mozilla/5.0 (Linux; Android 16) AppleWebKit/537.36 Chrome/141.0 Mobile Safari/537.36"
        );
        using var third = await EnterAsync(email);

        var page = await here.PageAsync(Mine);

        Assert.Contains("Gecko on Linux</strong> (this one)", page, StringComparison.Ordinal);
        Assert.Contains("Chromium on Android", page, StringComparison.Ordinal);
        var session = HandlerOf("Chromium on Android").Match(page).Groups[1].Value;
        Assert.Contains(
            "Signed out there",
            await here.PostFormAsync(Mine, Mine, ("_handler", session)),
            StringComparison.Ordinal
        );
        Assert.True(await IsOutAsync(there));
        Assert.False(await IsOutAsync(third));
        Assert.Contains(
            "everywhere else",
            await here.PostFormAsync(Mine, Mine, ("_handler", "others")),
            StringComparison.Ordinal
        );
        Assert.True(await IsOutAsync(third));
        Assert.False(await IsOutAsync(here));
    }

    [Fact]
    public async Task Copy_of_a_cookie_is_worth_nothing_after_signing_out()
    {
        var (email, _) = await PersonAsync();
        using var client = await EnterAsync(email);
        using var copy = shop.NewBrowser();
        copy.DefaultRequestHeaders.Add("Cookie", client.DefaultRequestHeaders.GetValues("Cookie"));
        Assert.False(await IsOutAsync(copy));

        using var answer = await client.SendFormAsync(Mine, "/sign-out", ("stay", ""));

        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Assert.True(await IsOutAsync(copy));
    }

    [Fact]
    public async Task Nobody_stays_signed_in_for_ever()
    {
        var (email, _) = await PersonAsync();
        using var quiet = await EnterAsync(email);
        using var busy = await EnterAsync(email);
        for (var day = 0; day < 60; day += 5)
        {
            Assert.False(await IsOutAsync(busy));
            shop.Clock.Advance(TimeSpan.FromDays(5));
            Assert.True(day < 10 || await IsOutAsync(quiet));
        }

        Assert.True(await IsOutAsync(busy));
    }

    [Fact]
    public async Task New_password_ends_every_other_sign_in_and_keeps_this_one()
    {
        var (email, _) = await PersonAsync();
        using var here = await EnterAsync(email);
        using var there = await EnterAsync(email);
        Assert.Contains(
            "not your password",
            await here.PostFormAsync(
                Mine,
                Mine,
                ("_handler", "password"),
                ("Current", "wrong horse battery"),
                ("New", "seven brown boxes")
            ),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "10 to 128",
            await here.PostFormAsync(
                Mine,
                Mine,
                ("_handler", "password"),
                ("Current", ShopHost.Password),
                ("New", "short")
            ),
            StringComparison.Ordinal
        );

        Assert.Contains(
            "is changed",
            await here.PostFormAsync(
                Mine,
                Mine,
                ("_handler", "password"),
                ("Current", ShopHost.Password),
                ("New", "seven brown boxes")
            ),
            StringComparison.Ordinal
        );

        // The account is looked at again every minute.
        shop.Clock.Advance(TimeSpan.FromMinutes(2));
        Assert.False(await IsOutAsync(here));
        Assert.False(await IsOutAsync(here));
        Assert.True(await IsOutAsync(there));
        using var old = shop.NewBrowser();
        using var refused = await old.SignInAsync(email, ShopHost.Password);
        Assert.Equal(HttpStatusCode.OK, refused.StatusCode);
        using var again = await EnterAsync(email, password: "seven brown boxes");
    }

    [Fact]
    public async Task Invited_person_chooses_a_password_by_a_link_that_serves_once()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var email = $"invited{Interlocked.Increment(ref people)}@shop.example";
        var made = await owner.PostAsync(
            "/api/v1/people/invitations",
            new
            {
                name = "Ines Dahl",
                email,
                roles = new[] { "fabricator" },
            },
            200
        );
        var link = $"/j/{made.GetProperty("token").GetString()}";
        using var browser = shop.NewBrowser();
        using (var early = await browser.SignInAsync(email, "seven brown boxes"))
        {
            Assert.Equal(HttpStatusCode.OK, early.StatusCode);
        }

        // Opening changes nothing: scanners of mail do that.
        Assert.Contains("Welcome, Ines Dahl", await browser.PageAsync(link), StringComparison.Ordinal);
        Assert.Contains("Welcome, Ines Dahl", await browser.PageAsync(link), StringComparison.Ordinal);
        Assert.Contains(
            "10 to 128",
            await browser.PostFormAsync(link, link, ("_handler", "join"), ("Password", "short")),
            StringComparison.Ordinal
        );
        using (
            var chosen = await browser.SendFormAsync(
                link,
                link,
                ("_handler", "join"),
                ("Password", "seven brown boxes")
            )
        )
        {
            Assert.EndsWith(
                "/sign-in?said=password-set",
                chosen.Headers.Location!.OriginalString,
                StringComparison.Ordinal
            );
        }

        using var entered = await EnterAsync(email, password: "seven brown boxes");
        using var spent = await browser.GetAsync(new Uri(link, UriKind.Relative), Ct);
        using var wrong = await browser.GetAsync(new Uri("/j/" + new string('x', 43), UriKind.Relative), Ct);
        Assert.Equal(HttpStatusCode.NotFound, spent.StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, wrong.StatusCode);
        Assert.Equal(
            Plain(await spent.Content.ReadAsStringAsync(Ct)),
            Plain(await wrong.Content.ReadAsStringAsync(Ct))
        );
    }

    [Fact]
    public async Task Link_ends_with_a_newer_one_and_with_time()
    {
        var (email, id) = await PersonAsync();
        using var owner = await shop.ApiAsync(Role.Owner);
        var first = (await owner.PostAsync($"/api/v1/people/{id}/password-links", null, 200))
            .GetProperty("token")
            .GetString()!;
        var second = (await owner.PostAsync($"/api/v1/people/{id}/password-links", null, 200))
            .GetProperty("token")
            .GetString()!;

        Assert.Null(await FindAsync(first));
        Assert.NotNull(await FindAsync(second));
        shop.Clock.Advance(PasswordLink.Life);
        Assert.Null(await FindAsync(second));
        using var still = await EnterAsync(email);
    }

    [Fact]
    public async Task Owner_who_cannot_sign_in_is_helped_at_the_server()
    {
        var (email, id) = await PersonAsync();
        using var owner = await shop.ApiAsync(Role.Owner);
        using var before = await EnterAsync(email);
        using (var left = await owner.SendAsync(HttpMethod.Put, $"/api/v1/people/{id}", new { isActive = false }))
        {
            Assert.Equal(HttpStatusCode.NoContent, left.StatusCode);
        }

        Assert.True(await IsOutAsync(before));
        var nobody = await shop.WithAsync<MakePasswordLink, Outcome<MakePasswordLink.Made>>(m =>
            m.RecoverOwnerAsync("nobody@shop.example", Ct)
        );
        Assert.Contains("Nobody has", nobody.Failure!.Sentence, StringComparison.Ordinal);

        var made = await shop.WithAsync<MakePasswordLink, Outcome<MakePasswordLink.Made>>(m =>
            m.RecoverOwnerAsync($" {email.ToUpperInvariant()} ", Ct)
        );

        using var browser = shop.NewBrowser();
        var link = $"/j/{made.Value.Token}";
        using (await browser.SendFormAsync(link, link, ("_handler", "join"), ("Password", "seven brown boxes"))) { }

        using var again = await EnterAsync(email, password: "seven brown boxes");
        Assert.Contains("People and keys", await again.PageAsync("/people"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Network_that_guesses_waits_even_with_the_right_password()
    {
        await using var other = shop.Another();
        await other.InitializeAsync();
        using var guesser = other.NewBrowser();
        for (var i = 0; i < 40; i++)
        {
            // Each another address, so that no account is locked.
            using var wrong = await guesser.SignInAsync($"nobody{i}@shop.example", "wrong horse battery");
            Assert.Equal(HttpStatusCode.OK, wrong.StatusCode);
        }

        using var right = await guesser.SignInAsync("owner@shop.example", ShopHost.Password);
        Assert.Contains(
            "Too many wrong tries",
            WebUtility.HtmlDecode(await right.Content.ReadAsStringAsync(Ct)),
            StringComparison.Ordinal
        );
        other.Clock.Advance(TimeSpan.FromMinutes(16));
        using var later = await guesser.SignInAsync("owner@shop.example", ShopHost.Password);
        Assert.Equal(HttpStatusCode.Redirect, later.StatusCode);
    }

    [Fact]
    public async Task History_says_who_came_and_who_was_refused_and_nothing_that_was_typed()
    {
        var (email, id) = await PersonAsync();
        using var browser = shop.NewBrowser();
        using (await browser.SignInAsync(email, "wrong horse battery")) { }

        using var entered = await EnterAsync(email);

        var rows = await shop.WithAsync<IDbContextFactory<ShopDbContext>, List<(string Type, string Text)>>(async f =>
        {
            await using var db = await f.CreateDbContextAsync(Ct);
            var found = await db
                .Events.AsNoTracking()
                .Where(e => e.SubjectId == id)
                .OrderBy(e => e.Sequence)
                .ToListAsync(Ct);
            return [.. found.Select(e => (e.Type, e.Data))];
        });
        Assert.Equal(["person.added", "person.signInRefused", "person.signedIn"], rows.Select(r => r.Type));
        Assert.All(rows, r => Assert.DoesNotContain("horse", r.Text, StringComparison.Ordinal));
        Assert.All(rows, r => Assert.DoesNotContain(email, r.Text, StringComparison.OrdinalIgnoreCase));
    }

    private Task<UsePasswordLink.Welcome?> FindAsync(string token) =>
        shop.WithAsync<UsePasswordLink, UsePasswordLink.Welcome?>(u => u.FindAsync(token, Ct));

    private async Task<(string Email, Guid Id)> PersonAsync()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        var email = $"person{Interlocked.Increment(ref people)}@shop.example";
        var made = await owner.PostAsync(
            "/api/v1/people",
            new
            {
                name = "Ines Dahl",
                email,
                password = ShopHost.Password,
                roles = new[] { "frontDesk" },
            }
        );
        return (email, made.GetProperty("id").GetGuid());
    }

    private async Task<HttpClient> EnterAsync(string email, string? browser = null, string password = ShopHost.Password)
    {
        var client = await FirstStepAsync(email, password, browser);
        Assert.False(await IsOutAsync(client), $"{email} could not sign in");
        return client;
    }

    private async Task<HttpClient> HalfwayAsync(string email)
    {
        var client = await FirstStepAsync(email, ShopHost.Password, null);
        Assert.True(await IsOutAsync(client), "The password alone opened the shop.");
        return client;
    }

    private async Task<HttpClient> FirstStepAsync(string email, string password, string? browser)
    {
        var client = shop.NewBrowser();
        if (browser is not null)
        {
            client.DefaultRequestHeaders.Add("User-Agent", browser);
        }

        using var answer = await client.SignInAsync(email, password);
        client.TakeCookies(answer);
        return client;
    }

    /// <summary>Empty where the code was taken; else what the page says.</summary>
    private static async Task<string> ShowCodeAsync(HttpClient client, string code)
    {
        using var answer = await client.SendFormAsync(
            "/sign-in/code",
            "/sign-in/code",
            ("_handler", "code"),
            ("Code", code)
        );
        return answer.StatusCode == HttpStatusCode.Redirect
            ? ""
            : WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(Ct));
    }

    private static async Task<bool> IsOutAsync(HttpClient client)
    {
        using var answer = await client.GetAsync(new Uri(Mine, UriKind.Relative), Ct);
        client.TakeCookies(answer);
        return answer.StatusCode == HttpStatusCode.Redirect;
    }

    private static string Plain(string page) => Varying().Replace(page, "");

    private static Regex HandlerOf(string browser) =>
        new(
            $"name=\"_handler\" value=\"(session-[0-9a-f-]+)\"(?:(?!_handler)[\\s\\S])*{browser}",
            RegexOptions.None,
            TimeSpan.FromSeconds(5)
        );

    [GeneratedRegex("data-testid=\"secret\">([A-Z2-7 ]+)<")]
    private static partial Regex SecretOf();

    [GeneratedRegex("[A-Z2-9]{6}-[A-Z2-9]{6}-[A-Z2-9]{6}-[A-Z2-9]{6}")]
    private static partial Regex PaperCode();

    [GeneratedRegex("nonce=\"[^\"]*\"|<!--Blazor[^>]*-->")]
    private static partial Regex Varying();
}

public sealed class SignInPagesOnSqlite(SqliteShop shop) : SignInPagesTests(shop), IClassFixture<SqliteShop>;

public sealed class SignInPagesOnPostgres(PostgresShop shop) : SignInPagesTests(shop), IClassFixture<PostgresShop>;
