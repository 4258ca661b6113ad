using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Intake;

public abstract class DropOffApiTests(ShopHost shop)
{
    [Fact]
    public async Task A_car_is_booked_in_compared_and_authorised()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, car) = await IntakeStory.OpenJobAsync(desk);
        var path = $"/api/v1/jobs/{job}";

        var sheet = await desk.GetJsonAsync($"{path}/drop-off");
        Assert.Equal(JsonValueKind.Null, sheet.GetProperty("dropOff").ValueKind);
        var rust = sheet.GetProperty("questions").EnumerateArray().Single(q => q.Text("questionCode") == "rust");
        Assert.Equal("light", rust.Text("assumedCode"));

        var difference = await desk.PostAsync(
            $"{path}/condition-difference",
            new { conditionFound = new { rust = "heavy" } },
            200
        );
        Assert.False(difference.GetProperty("isNone").GetBoolean());
        Assert.True(difference.Number("totalMinorMore") > 0);

        var recorded = await desk.PutAsync($"{path}/drop-off", IntakeStory.DropOff);
        Assert.Equal(0, recorded.GetProperty("missing").GetArrayLength());
        Assert.Equal(81_000, (await desk.GetJsonAsync($"/api/v1/cars/{car}")).Number("odometerKm"));

        var notice = await desk.GetJsonAsync("/api/v1/authorisation-notice");
        var signed = await desk.PostAsync(
            $"{path}/authorisation",
            new { signature = IntakeStory.Drawn, noticeHash = notice.Text("hash") },
            200
        );
        var authorisation = signed.GetProperty("authorisation");
        Assert.Equal("Ada Kremer", authorisation.Text("signedBy"));
        Assert.Equal(notice.Text("hash"), authorisation.Text("noticeHash"));
        Assert.Equal(
            difference.Number("totalMinorMore"),
            authorisation.GetProperty("shownDifference").Number("priceMinor")
        );

        var late = await desk.PutAsync($"{path}/drop-off", IntakeStory.DropOff, 409);
        Assert.Equal("authorised", late.ReasonCode());
        await desk.RemoveAsync($"{path}/authorisation");
        await desk.PutAsync($"{path}/drop-off", IntakeStory.DropOff);
    }

    [Fact]
    public async Task The_first_operation_waits_for_the_authorisation()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        using var bench = await shop.ApiAsync(Role.Fabricator);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        var start = $"/api/v1/jobs/{job}/operations/10/start";

        Assert.Equal("authorisation", (await bench.PostAsync(start, new { }, 409)).ReasonCode());

        await desk.PutAsync($"/api/v1/jobs/{job}/drop-off", IntakeStory.DropOff);
        await desk.PostAsync($"/api/v1/jobs/{job}/authorisation", new { signature = IntakeStory.Drawn }, 200);
        await bench.PostAsync(start, new { }, 200);
    }

    [Fact]
    public async Task A_record_with_gaps_is_kept_and_cannot_be_signed()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);

        var recorded = await desk.PutAsync($"/api/v1/jobs/{job}/drop-off", new { odometerKm = 5 });
        Assert.Equal(6, recorded.GetProperty("missing").GetArrayLength());
        var refused = await desk.PostAsync(
            $"/api/v1/jobs/{job}/authorisation",
            new { signature = IntakeStory.Drawn },
            409
        );
        Assert.Equal(6, refused.GetProperty("reasons").GetArrayLength());
    }

    [Fact]
    public async Task Unknown_questions_and_answers_and_figures_out_of_range_are_named_and_nothing_is_written()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        var path = $"/api/v1/jobs/{job}/drop-off";

        Assert.Equal(
            "conditionFound.paint",
            (await desk.PutAsync(path, new { conditionFound = new { paint = "red" } }, 400)).ErrorPath()
        );
        Assert.Equal(
            "conditionFound.rust",
            (await desk.PutAsync(path, new { conditionFound = new { rust = "some" } }, 400)).ErrorPath()
        );
        Assert.Equal("fuelPercent", (await desk.PutAsync(path, new { fuelPercent = 101 }, 400)).ErrorPath());
        Assert.Equal(
            "warningLights[0]",
            (await desk.PutAsync(path, new { warningLights = new[] { "disco" } }, 400)).ErrorPath()
        );
        Assert.Equal(JsonValueKind.Null, (await desk.GetJsonAsync(path)).GetProperty("dropOff").ValueKind);
    }

    [Fact]
    public async Task A_notice_that_was_reworded_meanwhile_is_not_signed()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        await desk.PutAsync($"/api/v1/jobs/{job}/drop-off", IntakeStory.DropOff);

        var refused = await desk.PostAsync(
            $"/api/v1/jobs/{job}/authorisation",
            new { signature = IntakeStory.Drawn, noticeHash = new string('0', 64) },
            409
        );
        Assert.Equal("noticeHash", refused.ReasonCode());
    }

    [Fact]
    public async Task The_history_of_a_drop_off_holds_no_names_and_no_free_text()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk, "Zenobia Unmistakable");
        await desk.PutAsync($"/api/v1/jobs/{job}/drop-off", IntakeStory.DropOff);
        await desk.PostAsync(
            $"/api/v1/jobs/{job}/authorisation",
            new { signature = new { kind = "printedSheet", signedBy = "Zenobia Unmistakable" } },
            200
        );

        using var owner = await shop.ApiAsync(Role.Owner);
        var after = 0L;
        while (true)
        {
            var events = await owner.GetJsonAsync($"/api/v1/events?after={after}");
            var items = events.GetProperty("items").EnumerateArray().ToList();
            if (items.Count == 0)
            {
                break;
            }

            Assert.DoesNotContain("Unmistakable", events.ToString(), StringComparison.Ordinal);
            Assert.DoesNotContain("Collects on Friday", events.ToString(), StringComparison.Ordinal);
            after = items[^1].Number("sequence");
        }
    }

    [Fact]
    public async Task The_authorisation_prints_with_the_cautions_and_the_notice_on_road_use()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk, "Paula Print");
        await desk.PutAsync($"/api/v1/jobs/{job}/drop-off", IntakeStory.DropOff);

        using var response = await desk.GetAsync(
            new Uri($"/api/v1/jobs/{job}/authorisation-sheet", UriKind.Relative),
            TestContext.Current.CancellationToken
        );

        Assert.Equal("application/pdf", response.Content.Headers.ContentType?.MediaType);
        using var pdf = UglyToad.PdfPig.PdfDocument.Open(
            await response.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken)
        );
        var text = string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        Assert.Contains("Paula Print", text, StringComparison.Ordinal);
        Assert.Contains("insurer", text, StringComparison.Ordinal);
        Assert.Contains("Roof lining", text, StringComparison.Ordinal);
    }
}

public sealed class DropOffApiOnSqlite(SqliteShop shop) : DropOffApiTests(shop), IClassFixture<SqliteShop>;

public sealed class DropOffApiOnPostgres(PostgresShop shop) : DropOffApiTests(shop), IClassFixture<PostgresShop>;
