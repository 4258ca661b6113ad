using System.Net;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Features.Progress;

/// <summary>What the shop chooses to show, and what the customer reads of it.</summary>
public abstract partial class ProgressPageTests
{
    [Fact]
    public async Task Only_what_the_shop_has_chosen_is_shown_and_what_it_takes_back_is_gone()
    {
        var car = await CarStory.BeginAsync(shop);
        var link = await LinkAsync(car);
        var photo = await car.PhotoAsync();
        var hidden = await car.PhotoAsync();
        var bare = await TextAsync(link);
        Assert.DoesNotContain("<img", bare, StringComparison.Ordinal);
        Assert.DoesNotContain("EUR", bare, StringComparison.Ordinal);
        Assert.DoesNotContain("/papers/", bare, StringComparison.Ordinal);

        await ChangeAsync(car, $"/api/v1/photos/{photo}/shown", new { isShown = true });
        await ChangeAsync(
            car,
            $"{car.JobPath}/progress-sharing",
            new { showsPrices = true, papers = new[] { "quote", "invoices", "inspectionPack" } }
        );
        var written = await car.Desk.PostAsync(
            $"{car.JobPath}/customer-notes",
            new { text = "The colour <b>has</b> come." }
        );
        var full = await TextAsync(link);
        Assert.Contains($"src=\"{link}/photos/{photo}\"", full, StringComparison.Ordinal);
        Assert.DoesNotContain(hidden, full, StringComparison.Ordinal);
        Assert.Contains("The colour &lt;b&gt;has&lt;/b&gt; come.", full, StringComparison.Ordinal);
        Assert.Contains("Still to pay", full, StringComparison.Ordinal);
        Assert.Contains("EUR", full, StringComparison.Ordinal);
        Assert.Contains($"href=\"{link}/papers/quote\"", full, StringComparison.Ordinal);
        // Nothing is invoiced and nothing signed off yet.
        Assert.DoesNotContain("papers/invoice", full, StringComparison.Ordinal);
        Assert.DoesNotContain("papers/inspection", full, StringComparison.Ordinal);

        await ServesAsync($"{link}/photos/{photo}", "image/jpeg");
        await ServesAsync($"{link}/papers/quote", "application/pdf");
        var nothing = await TextAsync("/p/wrong");
        foreach (
            var path in new[]
            {
                $"{link}/photos/{hidden}",
                $"{link}/papers/inspection",
                $"{link}/papers/x",
                $"/p/wrong/photos/{photo}",
                "/p/wrong/papers/quote",
            }
        )
        {
            using var answer = await OpenAsync(path);
            Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
            Assert.Equal(nothing, await answer.Content.ReadAsStringAsync(Ct));
        }

        await ChangeAsync(car, $"/api/v1/photos/{photo}/shown", new { isShown = false });
        await ChangeAsync(
            car,
            $"{car.JobPath}/progress-sharing",
            new { showsPrices = false, papers = Array.Empty<string>() }
        );
        var note = written.GetProperty("notes")[0].GetProperty("id").GetString();
        using var gone = await car.Desk.SendAsync(HttpMethod.Delete, $"/api/v1/customer-notes/{note}");
        Assert.Equal(HttpStatusCode.NoContent, gone.StatusCode);
        Assert.Equal(WithoutCounts(bare), WithoutCounts(await TextAsync(link)));
        using var taken = await OpenAsync($"{link}/papers/quote");
        Assert.Equal(HttpStatusCode.NotFound, taken.StatusCode);
        Assert.Equal(
            [
                "customerNote.withdrawn",
                "customerNote.written",
                "photo.hidden",
                "photo.shown",
                "progressSharing.changed",
                "progressSharing.changed",
            ],
            await SharingEventsAsync(car)
        );
    }

    [Fact]
    public async Task Why_the_day_was_moved_is_told_in_the_words_the_shop_releases_and_only_for_that_move()
    {
        var car = await CarStory.BeginAsync(shop);
        var link = await LinkAsync(car);
        await MoveAsync(car, "2026-08-20", "INTERNAL-REASON");
        Assert.DoesNotContain("INTERNAL-REASON", await TextAsync(link), StringComparison.Ordinal);
        await ChangeAsync(car, $"{car.JobPath}/promise-reason", new { text = "The paint needs longer." });
        Assert.Contains("Why: The paint needs longer.", await TextAsync(link), StringComparison.Ordinal);
        shop.Clock.Advance(TimeSpan.FromMinutes(1));
        await MoveAsync(car, "2026-08-21", "INTERNAL-AGAIN");
        var later = await TextAsync(link);
        Assert.Contains("21 August 2026", later, StringComparison.Ordinal);
        Assert.DoesNotContain("Why:", later, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Sharing_is_the_front_desks_and_refuses_what_it_cannot_show()
    {
        var car = await CarStory.BeginAsync(shop);
        var photo = await car.PhotoAsync();
        using var floor = await car.Fabricator.SendAsync(
            HttpMethod.Put,
            $"/api/v1/photos/{photo}/shown",
            new { isShown = true }
        );
        Assert.Equal(HttpStatusCode.Forbidden, floor.StatusCode);
        await car.Fabricator.GetJsonAsync($"{car.JobPath}/progress-sharing", 403);
        await car.Fabricator.PostAsync($"{car.JobPath}/customer-notes", new { text = "x" }, 403);
        await car.Desk.PostAsync($"{car.JobPath}/customer-notes", new { text = new string('x', 501) }, 400);
        await car.Desk.PostAsync($"/api/v1/jobs/{Guid.Empty}/customer-notes", new { text = "x" }, 404);
        using var unmoved = await car.Desk.SendAsync(
            HttpMethod.Put,
            $"{car.JobPath}/promise-reason",
            new { text = "x" }
        );
        Assert.Equal(HttpStatusCode.Conflict, unmoved.StatusCode);
        using var unsaid = await car.Desk.SendAsync(HttpMethod.Put, $"{car.JobPath}/progress-sharing", new { });
        var errors = (await unsaid.JsonAsync(400)).GetProperty("errors");
        Assert.True(errors.TryGetProperty("showsPrices", out _) && errors.TryGetProperty("papers", out _));
    }

    [Fact]
    public async Task The_browser_chooses_the_language_and_a_plain_link_the_other()
    {
        var car = await CarStory.BeginAsync(shop);
        var link = await LinkAsync(car);
        using var client = shop.CreateClient();
        client.DefaultRequestHeaders.Add("Accept-Language", "de-DE,de;q=0.9,en;q=0.5");
        var german = await client.GetStringAsync(new Uri(link, UriKind.Relative), Ct);
        Assert.Contains("<html lang=\"de\"", german, StringComparison.Ordinal);
        Assert.Contains("Jetzt: Annahme", german, StringComparison.Ordinal);
        Assert.Contains("href=\"?lang=en\"", german, StringComparison.Ordinal);
        var english = await client.GetStringAsync(new Uri($"{link}?lang=en", UriKind.Relative), Ct);
        Assert.Contains("Now: Intake", english, StringComparison.Ordinal);
        Assert.Contains("href=\"?lang=de\"", english, StringComparison.Ordinal);
    }

    private static async Task ChangeAsync(CarStory car, string path, object body)
    {
        using var answer = await car.Desk.SendAsync(HttpMethod.Put, path, body);
        await answer.JsonAsync(200);
    }

    private static Task<JsonElement> MoveAsync(CarStory car, string day, string reason) =>
        car.Desk.PostAsync($"{car.JobPath}/promise", new { promisedOn = day, reason }, 200);

    private async Task<string> TextAsync(string path)
    {
        using var answer = await OpenAsync(path);
        return await answer.Content.ReadAsStringAsync(Ct);
    }

    private async Task ServesAsync(string path, string type)
    {
        using var answer = await OpenAsync(path);
        Assert.Equal((HttpStatusCode.OK, type), (answer.StatusCode, answer.Content.Headers.ContentType?.MediaType));
        Assert.True(answer.Headers.CacheControl?.Private);
        Assert.False(answer.Headers.Contains("Set-Cookie"));
        Assert.Equal("no-referrer", answer.Headers.GetValues("Referrer-Policy").Single());
        Assert.NotEmpty(await answer.Content.ReadAsByteArrayAsync(Ct));
    }

    /// <summary>The page without the number of the newest event.</summary>
    private static string WithoutCounts(string html) =>
        System.Text.RegularExpressions.Regex.Replace(html, "data-seen=\"\\d+\"", "");

    private Task<List<string>> SharingEventsAsync(CarStory car) =>
        shop.WithAsync<IDbContextFactory<ShopDbContext>, List<string>>(async contexts =>
        {
            var job = JobId.From(Guid.Parse(car.JobId));
            await using var db = await contexts.CreateDbContextAsync(Ct);
            var types = await db.Events.Where(e => e.Job == job).Select(e => e.Type).ToListAsync(Ct);
            return
            [
                .. types
                    .Where(t =>
                        t.StartsWith("progressSharing", StringComparison.Ordinal)
                        || t.StartsWith("customerNote", StringComparison.Ordinal)
                        || t is "photo.shown" or "photo.hidden"
                    )
                    .Order(StringComparer.Ordinal),
            ];
        });
}
