using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Features.Inspection;

/// <summary>The register of instruments, and readings that name one, on both databases.</summary>
public abstract class InstrumentApiTests(ShopHost shop)
{
    private const string Register = "/api/v1/instruments";
    private static int made;

    [Fact]
    public async Task The_owner_keeps_the_register_and_the_floor_reads_it()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        using var fabricator = await shop.ApiAsync(Role.Fabricator);
        var added = await owner.PostAsync(Register, Caliper("Kept"));
        await owner.PostAsync(Register, Caliper("Kept"), 400);
        await fabricator.PostAsync(Register, Caliper("Mine"), 403);
        var one = (await fabricator.GetJsonAsync(Register)).EnumerateArray().Single(i => IdOf(i) == IdOf(added));
        Assert.Equal(0.03m, one.GetProperty("uncertainty").GetDecimal());
        Assert.False(one.GetProperty("isOverdue").GetBoolean());

        await owner.PostAsync($"{Register}/{IdOf(added)}/retire", new { }, 200);
        await owner.PostAsync(Register, Caliper("Kept"));
        var problem = await owner.PostAsync(Register, new { name = "", unit = "furlong" }, 400);
        Assert.Equal(
            ["kind", "name", "unit"],
            problem.GetProperty("errors").EnumerateObject().Select(p => p.Name).Order()
        );
    }

    [Fact]
    public async Task A_value_keeps_what_was_typed_its_instrument_and_what_the_instrument_can_tell()
    {
        var (car, caliper) = await AtPlateFitAsync();
        var taken = await car.Inspector.PostAsync(
            $"{car.JobPath}/readings",
            new
            {
                line = "plate-thickness",
                entered = "1/8\"",
                instrumentId = caliper,
            }
        );
        Assert.Contains("1/8\" is 3.175 mm", taken.GetProperty("text").GetString(), StringComparison.Ordinal);
        var reading = (await car.LineAsync("plate-thickness")).GetProperty("readings").EnumerateArray().Single();
        Assert.Equal("1/8\"", reading.GetProperty("entered").GetString());
        Assert.Equal(3.175m, reading.GetProperty("value").GetDecimal());
        Assert.Equal(0.03m, reading.GetProperty("uncertainty").GetDecimal());
        Assert.StartsWith("Caliper", reading.GetProperty("instrument").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_value_close_to_its_limit_is_read_twice_and_work_waits_until_then()
    {
        var (car, caliper) = await AtPlateFitAsync();
        var first = await ReadAsync(car, caliper, "3.01");
        Assert.Equal("readAgain", first.GetProperty("lineState").GetString());
        Assert.Contains("Read it once more", first.GetProperty("text").GetString(), StringComparison.Ordinal);
        Assert.Equal("readAgain", (await car.LineAsync("plate-thickness")).GetProperty("state").GetString());
        var refused = await car.Inspector.PostAsync($"{car.JobPath}/sign-off", new { }, 409);
        Assert.Contains(
            refused.GetProperty("reasons").EnumerateArray(),
            r => r.GetProperty("code").GetString() == "lineReadAgain"
        );
        var second = await ReadAsync(car, caliper, "3.02");
        Assert.Equal("passed", second.GetProperty("lineState").GetString());
    }

    [Fact]
    public async Task A_line_that_the_plan_measures_with_an_instrument_of_the_register_does_not_pass_without_naming_one()
    {
        var (car, caliper) = await AtPlateFitAsync();
        var path = $"{car.JobPath}/readings";
        var unnamed = await car.Inspector.PostAsync(path, new { line = "plate-thickness", entered = "3.2" }, 400);
        Assert.Contains(
            "choose the caliper from the register",
            unnamed.GetProperty("errors").GetProperty("instrumentId").ToString(),
            StringComparison.Ordinal
        );
        // No feeler gauge is in the register, and area is length times width: both are taken as they are.
        await car.Inspector.PostAsync(path, new { line = "plate-gap", entered = "0.4" });
        // A program that sends a plain figure has its own instrument.
        await car.Inspector.PostAsync(path, new { line = "plate-thickness", value = 3.2m });
        await car.Inspector.PostAsync(
            path,
            new
            {
                line = "plate-thickness",
                entered = "3.2",
                note = "Vernier borrowed next door",
            }
        );
        await car.Inspector.PostAsync(
            path,
            new
            {
                line = "plate-thickness",
                entered = "3.2",
                instrumentId = caliper,
            }
        );
    }

    [Fact]
    public async Task An_overdue_instrument_passes_nothing_until_the_owner_enters_its_new_date()
    {
        var (car, caliper) = await AtPlateFitAsync();
        var today = DateOnly.FromDateTime(shop.Clock.GetUtcNow().DateTime);
        var name = $"Caliper due {Interlocked.Increment(ref made)}";
        await ChangeAsync(car, caliper, name, today.AddDays(-5));
        var body = new
        {
            line = "plate-thickness",
            entered = "3.2",
            instrumentId = caliper,
        };
        var refused = await car.Inspector.PostAsync($"{car.JobPath}/readings", body, 409);
        Assert.Contains("was due for calibration", refused.GetProperty("detail").GetString(), StringComparison.Ordinal);
        await ChangeAsync(car, caliper, name, today.AddDays(365));
        await car.Inspector.PostAsync($"{car.JobPath}/readings", body);
    }

    [Fact]
    public async Task A_correction_keeps_the_first_reading_and_says_which_it_corrects()
    {
        var (car, caliper) = await AtPlateFitAsync();
        await ReadAsync(car, caliper, "30");
        var corrected = await car.Inspector.PostAsync(
            $"{car.JobPath}/readings",
            new
            {
                line = "plate-thickness",
                entered = "3.2",
                instrumentId = caliper,
                corrects = 1,
                note = "Point forgotten",
            }
        );
        Assert.Equal("passed", corrected.GetProperty("lineState").GetString());
        var readings = (await car.LineAsync("plate-thickness")).GetProperty("readings").EnumerateArray().ToList();
        Assert.Equal([30m, 3.2m], readings.Select(r => r.GetProperty("value").GetDecimal()));
        Assert.Equal(1, readings[1].GetProperty("corrects").GetInt32());
    }

    [Theory]
    [InlineData("""{"line":"plate-thickness","entered":"a bit"}""", "entered")]
    [InlineData("""{"line":"plate-thickness","entered":"1/3"}""", "entered")]
    [InlineData("""{"line":"plate-thickness","entered":"3","value":3}""", "value")]
    [InlineData("""{"line":"plate-thickness","entered":"3","enteredSecond":"4"}""", "enteredSecond")]
    [InlineData(
        """{"line":"plate-thickness","entered":"3","instrumentId":"0197a000-0000-7000-8000-000000000001"}""",
        "instrumentId"
    )]
    public async Task A_typed_value_that_cannot_be_taken_gets_a_sentence_at_its_field(string body, string field)
    {
        var (car, _) = await AtPlateFitAsync();
        var problem = await car.Inspector.PostAsync(
            $"{car.JobPath}/readings",
            JsonSerializer.Deserialize<JsonElement>(body),
            400
        );
        Assert.True(problem.GetProperty("errors").TryGetProperty(field, out _), problem.ToString());
    }

    private async Task<(CarStory Car, string Caliper)> AtPlateFitAsync()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync("80");
        var added = await car.Owner.PostAsync(Register, Caliper($"Caliper {Interlocked.Increment(ref made)}"));
        return (car, IdOf(added));
    }

    private static Task<JsonElement> ReadAsync(CarStory car, string caliper, string entered) =>
        car.Inspector.PostAsync(
            $"{car.JobPath}/readings",
            new
            {
                line = "plate-thickness",
                entered,
                instrumentId = caliper,
            }
        );

    private static async Task ChangeAsync(CarStory car, string id, string name, DateOnly due)
    {
        using var changed = await car.Owner.SendAsync(
            HttpMethod.Put,
            $"{Register}/{id}",
            new
            {
                name,
                kind = "caliper",
                unit = "mm",
                uncertainty = 0.03,
                calibrationDueOn = due,
            }
        );
        Assert.True(
            changed.IsSuccessStatusCode,
            await changed.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)
        );
    }

    private static object Caliper(string name) =>
        new
        {
            name,
            kind = "caliper",
            unit = "mm",
            uncertainty = 0.03,
        };

    private static string IdOf(JsonElement thing) => thing.GetProperty("id").GetString()!;
}

public sealed class InstrumentApiOnSqlite(SqliteShop shop) : InstrumentApiTests(shop), IClassFixture<SqliteShop>;

public sealed class InstrumentApiOnPostgres(PostgresShop shop) : InstrumentApiTests(shop), IClassFixture<PostgresShop>;
