using System.Net;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Devices;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Devices;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Devices;

/// <summary>Tablets and PINs, on both databases.</summary>
public abstract partial class DevicesTests(ShopHost shop)
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_code_adds_one_tablet_within_a_quarter_of_an_hour_and_is_nowhere_stored()
    {
        var code = await CodeAsync();
        var first = await EnrolAsync(code, "Tablet bay 1");
        Assert.NotNull(first.Secret);
        Assert.Contains("used", (await EnrolAsync(code, "Tablet bay 2")).Problem, StringComparison.Ordinal);
        var late = await CodeAsync();
        shop.Clock.Advance(EnrolmentCode.Life);
        Assert.Null((await EnrolAsync(late, "Tablet bay 3")).Secret);

        await using var db = await DbAsync();
        Assert.False(await db.Set<EnrolmentCode>().AnyAsync(c => c.Hash.Contains(code), Ct));
        Assert.False(await db.Set<ShopDevice>().AnyAsync(d => d.SecretHash == first.Secret, Ct));
        Assert.Null(await ReadAsync(r => r.KnownAsync("something else", Ct)));
        Assert.Equal("Tablet bay 1", (await ReadAsync(r => r.KnownAsync(first.Secret, Ct)))!.Name);
    }

    [Fact]
    public async Task A_flood_of_guesses_from_one_address_stops_that_address_and_nobody_else()
    {
        await using var before = await DbAsync();
        var all = await before.Set<AttemptLimit>().SingleOrDefaultAsync(l => l.Key == AttemptLimit.Codes, Ct);
        for (var n = 0; n < AttemptRule.OfAddress.Tries; n++)
        {
            Assert.Contains(
                "wrong",
                (await EnrolAsync("WRONGONE", "Tablet", Stranger)).Problem,
                StringComparison.Ordinal
            );
        }

        // Also the right code does not help the stranger, nor another address of the same site.
        var code = await CodeAsync();
        Assert.Contains("from here", (await EnrolAsync(code, "Tablet", Stranger)).Problem, StringComparison.Ordinal);
        Assert.Contains("from here", (await EnrolAsync(code, "Tablet", SameSite)).Problem, StringComparison.Ordinal);
        for (var n = 0; n < 50; n++)
        {
            await EnrolAsync("WRONGONE", "Tablet", Stranger);
        }

        await using (var db = await DbAsync())
        {
            // What is refused before it is compared is not counted; and no address stands in the database.
            var counts = await db.Set<AttemptLimit>().Where(l => l.Key.StartsWith("codes")).ToListAsync(Ct);
            Assert.Equal(
                (all?.Failed ?? 0) + AttemptRule.OfAddress.Tries,
                counts.Single(l => l.Key == AttemptLimit.Codes).Failed
            );
            Assert.DoesNotContain(counts, l => l.Key.Contains("2001", StringComparison.Ordinal));
        }

        Assert.NotNull((await EnrolAsync(code, "Tablet next to it", Neighbour)).Secret);
        shop.Clock.Advance(AttemptRule.OfAddress.FirstPause);
        Assert.NotNull((await EnrolAsync(await CodeAsync(), "Tablet", Stranger)).Secret);
    }

    [Fact]
    public async Task Guesses_from_very_many_addresses_are_bounded_together_for_a_quarter_of_an_hour()
    {
        await using (var db = await DbAsync())
        {
            // As if a thousand but one had been counted already, by this server or another.
            await db.Set<AttemptLimit>().Where(l => l.Key == AttemptLimit.Codes).ExecuteDeleteAsync(Ct);
            var all = new AttemptLimit(AttemptLimit.Codes);
            for (var n = 1; n < AttemptRule.OfAllAddresses.Tries; n++)
            {
                all.Fail(AttemptRule.OfAllAddresses, shop.Clock.GetUtcNow());
            }

            db.Add(all);
            await db.SaveChangesAsync(Ct);
        }

        await EnrolAsync("WRONGONE", "Tablet", IPAddress.Parse("192.0.2.77"));

        var code = await CodeAsync();
        Assert.Contains("many places", (await EnrolAsync(code, "Tablet", Neighbour)).Problem, StringComparison.Ordinal);
        shop.Clock.Advance(AttemptRule.OfAllAddresses.FirstPause);
        Assert.NotNull((await EnrolAsync(await CodeAsync(), "Tablet", Neighbour)).Secret);
        await using var after = await DbAsync();
        Assert.False(await after.Set<AttemptLimit>().AnyAsync(l => l.Key.StartsWith("codes:") && l.Failed > 0, Ct));
    }

    [Fact]
    public async Task Wrong_codes_tried_at_once_do_not_slip_through_the_limit_of_their_address()
    {
        var address = IPAddress.Parse("198.51.100.9");
        for (var round = 0; round < 4; round++)
        {
            await Task.WhenAll(Enumerable.Range(0, 5).Select(_ => EnrolOrBusyAsync("WRONGONE", address)));
        }

        Assert.Contains(
            "from here",
            (await EnrolAsync(await CodeAsync(), "Tablet", address)).Problem,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Wrong_pins_made_at_once_do_not_slip_through_the_limit_and_the_owner_lifts_the_lock()
    {
        var (device, _) = await DeviceAsync("Tablet bay 4");
        var person = shop.OtherFabricator;
        await SetPinAsync(person, "5820");
        var answers = await Task.WhenAll(
            Enumerable.Range(0, AttemptRule.OfPerson.Tries * 2).Select(_ => CheckAsync(device, person, "0000"))
        );
        Assert.All(answers.Where(a => a.IsSuccess), a => Assert.Null(a.Value.PinSetAt));

        for (var n = 0; n < AttemptRule.OfPerson.Tries; n++)
        {
            await CheckAsync(device, person, "0000");
        }

        var locked = await CheckAsync(device, person, "5820");
        Assert.Contains("Too many wrong PINs", locked.Value.Problem, StringComparison.Ordinal);
        using var owner = await shop.ApiAsync(Role.Owner);
        var pins = await owner.GetJsonAsync("/api/v1/pins");
        Assert.Contains(
            pins.GetProperty("items").EnumerateArray(),
            p => p.GetProperty("pausedUntil").ValueKind == System.Text.Json.JsonValueKind.String
        );
        await SetPinAsync(person, "5821");
        Assert.NotNull((await CheckAsync(device, person, "5821")).Value.PinSetAt);
    }

    [Fact]
    public async Task A_pin_opens_the_floor_and_nothing_else_and_ends_with_its_device_or_a_new_pin()
    {
        var (_, secret) = await DeviceAsync("Tablet bay 5");
        var owner = shop.People[Role.Owner];
        await SetPinAsync(owner, "9041");
        var client = await PinClientAsync(secret, owner, "9041");

        Assert.Equal(HttpStatusCode.OK, await StatusAsync(client, "/floor"));
        foreach (var closed in new[] { "/people", "/settings", "/devices", "/customers", "/week", "/floor/pin" })
        {
            Assert.Equal(HttpStatusCode.Redirect, await StatusAsync(client, closed));
        }

        // The minute in which the sign-in is made anew keeps it as narrow as it was.
        shop.Clock.Advance(TimeSpan.FromMinutes(2));
        Assert.Equal(HttpStatusCode.OK, await StatusAsync(client, "/floor"));
        Assert.Equal(HttpStatusCode.Redirect, await StatusAsync(client, "/people"));

        await SetPinAsync(owner, "9042");
        Assert.Equal(HttpStatusCode.Redirect, await StatusAsync(client, "/floor"));
        client = await PinClientAsync(secret, owner, "9042");
        Assert.Equal(HttpStatusCode.OK, await StatusAsync(client, "/floor"));
        using var api = await shop.ApiAsync(Role.Owner);
        var devices = await api.GetJsonAsync("/api/v1/devices");
        var id = devices
            .GetProperty("items")
            .EnumerateArray()
            .Single(d => d.GetProperty("name").GetString() == "Tablet bay 5")
            .GetProperty("id")
            .GetString();
        using var ended = await api.SendAsync(HttpMethod.Delete, $"/api/v1/devices/{id}");
        Assert.Equal(HttpStatusCode.NoContent, ended.StatusCode);

        Assert.Equal(HttpStatusCode.Redirect, await StatusAsync(client, "/floor"));
        var history = (await api.GetJsonAsync("/api/v1/events?after=0&pageSize=200")).GetProperty("items");
        Assert.Contains(
            history.EnumerateArray(),
            e =>
                e.GetProperty("type").GetString() == "pin.entered"
                && e.GetProperty("device").GetString() == "Tablet bay 5"
        );
    }

    [Fact]
    public async Task Nobody_sets_the_pin_of_another_but_the_owner()
    {
        using var worker = await shop.ApiAsync(Role.Fabricator);
        using var own = await worker.SendAsync(
            HttpMethod.Put,
            $"/api/v1/people/{shop.People[Role.Fabricator]}/pin",
            new { pin = "6183" }
        );
        Assert.Equal(HttpStatusCode.NoContent, own.StatusCode);
        using var others = await worker.SendAsync(
            HttpMethod.Put,
            $"/api/v1/people/{shop.OtherFabricator}/pin",
            new { pin = "6183" }
        );
        Assert.Equal(HttpStatusCode.Forbidden, others.StatusCode);
        using var weak = await worker.SendAsync(
            HttpMethod.Put,
            $"/api/v1/people/{shop.People[Role.Fabricator]}/pin",
            new { pin = "1111" }
        );
        Assert.Equal(HttpStatusCode.BadRequest, weak.StatusCode);
        await using var db = await DbAsync();
        var kept = await db.Set<PersonPin>().SingleAsync(p => p.Person == shop.People[Role.Fabricator], Ct);
        Assert.DoesNotContain("6183", kept.Hash, StringComparison.Ordinal);
    }

    private async Task<string> CodeAsync()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        return (await owner.PostAsync("/api/v1/devices/codes", new { }, 200)).GetProperty("code").GetString()!;
    }

    // Addresses for documentation: RFC 3849 and RFC 5737, from memory.
    private static readonly IPAddress Stranger = IPAddress.Parse("2001:db8:7:1::1");
    private static readonly IPAddress SameSite = IPAddress.Parse("2001:db8:7:ffff::9");
    private static readonly IPAddress Neighbour = IPAddress.Parse("2001:db8:8::1");

    private async Task<EnrolDevice.Answer> EnrolAsync(string code, string name, IPAddress? from = null) =>
        (await EnrolOrBusyAsync(code, from, name)).Value;

    private Task<Outcome<EnrolDevice.Answer>> EnrolOrBusyAsync(string code, IPAddress? from, string name = "Tablet") =>
        shop.WithAsync<EnrolDevice, Outcome<EnrolDevice.Answer>>(e =>
            e.RunAsync(new EnrolDevice.Request(code, name, from), Ct)
        );

    private async Task<(KnownDevice Device, string Secret)> DeviceAsync(string name)
    {
        var added = await EnrolAsync(await CodeAsync(), name);
        Assert.NotNull(added.Secret);
        return (new KnownDevice(added.Device!.Value, name), added.Secret);
    }

    private async Task SetPinAsync(PersonId person, string pin)
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        using var answer = await owner.SendAsync(HttpMethod.Put, $"/api/v1/people/{person}/pin", new { pin });
        Assert.Equal(HttpStatusCode.NoContent, answer.StatusCode);
    }

    private Task<Outcome<CheckPin.Answer>> CheckAsync(KnownDevice device, PersonId person, string pin) =>
        shop.WithAsync<CheckPin, Outcome<CheckPin.Answer>>(c => c.RunAsync(device, person, pin, Ct));

    private Task<T> ReadAsync<T>(Func<ReadDevices, Task<T>> read) => shop.WithAsync(read);

    private async Task<ShopDbContext> DbAsync() =>
        await shop.Services.GetRequiredService<IDbContextFactory<ShopDbContext>>().CreateDbContextAsync(Ct);

    /// <summary>A browser at the tablet in which a person has entered their PIN.</summary>
    private async Task<HttpClient> PinClientAsync(string secret, PersonId person, string pin)
    {
        var client = shop.CreateClient(
            new WebApplicationFactoryClientOptions { AllowAutoRedirect = false, HandleCookies = false }
        );
        client.DefaultRequestHeaders.Add("Cookie", $"__Host-shopfloor-tablet={secret}");
        using var opened = await client.GetAsync(new Uri($"/floor/people?who={person}", UriKind.Relative), Ct);
        Keep(client, opened);
        var page = await opened.Content.ReadAsStringAsync(Ct);
        using var form = new FormUrlEncodedContent([
            new("__RequestVerificationToken", Token().Match(page).Groups[1].Value),
            new("_handler", "pin"),
            new("Who", person.ToString()),
            new("Pin", pin),
        ]);
        using var answer = await client.PostAsync(new Uri("/floor/people", UriKind.Relative), form, Ct);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Keep(client, answer);
        return client;
    }

    private static void Keep(HttpClient client, HttpResponseMessage response)
    {
        foreach (var cookie in response.Headers.TryGetValues("Set-Cookie", out var set) ? set : [])
        {
            client.DefaultRequestHeaders.Add("Cookie", cookie.Split(';')[0]);
        }
    }

    private static async Task<HttpStatusCode> StatusAsync(HttpClient client, string path)
    {
        using var answer = await client.GetAsync(new Uri(path, UriKind.Relative), Ct);
        return answer.StatusCode;
    }

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"([^\"]+)\"")]
    private static partial Regex Token();
}

public sealed class DevicesOnSqlite(SqliteShop shop) : DevicesTests(shop), IClassFixture<SqliteShop>;

public sealed class DevicesOnPostgres(PostgresShop shop) : DevicesTests(shop), IClassFixture<PostgresShop>;
