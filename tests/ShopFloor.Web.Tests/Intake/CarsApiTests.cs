using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Intake;

public abstract class CarsApiTests(ShopHost shop)
{
    private const string Path = "/api/v1/cars";

    [Fact]
    public async Task A_registered_car_can_be_read_found_by_owner_and_number_and_changed()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var owner = await OwnerAsync(api, "Berta Quill");
        var created = await api.PostAsync(
            Path,
            new
            {
                customerId = owner,
                make = "Corvane",
                model = "Lynx",
                modelYear = 2024,
                vin = "1x9test0 1rt000001",
                registration = "nb 24 aa",
                odometerKm = 12_000,
                facts = new { body = "coupe", steeringSide = "right" },
            }
        );
        Assert.Equal("1X9TEST01RT000001", created.Text("vin"));
        Assert.Equal("right", created.GetProperty("facts").Text("steeringSide"));
        Assert.True(created.GetProperty("builtForNorthAmerica").GetBoolean());
        Assert.Equal(0, created.GetProperty("warnings").GetArrayLength());

        var id = created.Text("id");
        foreach (var search in new[] { "quill lynx", "NB 24", "000001", "2024 corv" })
        {
            var found = await api.GetJsonAsync($"{Path}?search={Uri.EscapeDataString(search)}");
            Assert.Contains(found.GetProperty("items").EnumerateArray(), c => c.Text("id") == id);
        }

        Assert.Equal(1, (await api.GetJsonAsync($"{Path}?customerId={owner}")).Number("totalCount"));
        var changed = await api.PutAsync(
            $"{Path}/{id}",
            new
            {
                make = "Corvane",
                model = "Lynx S",
                modelYear = 2024,
            }
        );
        Assert.Equal("2024 Corvane Lynx S", changed.Text("title"));
        Assert.Equal("right", changed.GetProperty("facts").Text("steeringSide"));
    }

    [Theory]
    [InlineData("1M8GDM9AXKPO42788")]
    [InlineData("1M8GDM9AXKPI42788")]
    [InlineData("1M8GDM9AXKPQ42788")]
    public async Task Seventeen_characters_with_I_O_or_Q_are_refused_at_their_field(string vin)
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var owner = await OwnerAsync(api, "Carla Quill");
        var problem = await api.PostAsync(
            Path,
            new
            {
                customerId = owner,
                make = "A",
                model = "B",
                modelYear = 1989,
                vin,
            },
            400
        );
        Assert.Equal("vin", problem.ErrorPath());
        Assert.Equal(0, (await api.GetJsonAsync($"{Path}?customerId={owner}")).Number("totalCount"));
    }

    [Fact]
    public async Task A_failed_check_digit_warns_and_the_car_is_kept()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var owner = await OwnerAsync(api, "Dora Quill");

        // The sample of 49 CFR 565 (1G4AH59H45G118341) with its last digit changed.
        var created = await api.PostAsync(
            Path,
            new
            {
                customerId = owner,
                make = "A",
                model = "B",
                modelYear = 2005,
                vin = "1G4AH59H45G118342",
            }
        );
        Assert.Equal("checkDigit", created.GetProperty("warnings")[0].Text("code"));
    }

    [Fact]
    public async Task All_that_is_wrong_is_said_at_once_and_an_unknown_owner_too()
    {
        using var api = await shop.ApiAsync(Role.FrontDesk);
        var problem = await api.PostAsync(
            Path,
            new
            {
                customerId = Guid.Empty,
                modelYear = 1900,
                odometerKm = -1,
                vin = new string('7', 33),
            },
            400
        );
        Assert.Equal(
            ["customerId", "make", "model", "modelYear", "odometerKm", "vin"],
            problem.GetProperty("errors").EnumerateObject().Select(e => e.Name).Order(StringComparer.Ordinal)
        );
    }

    [Theory]
    [InlineData("1M8GDM9AXKP042788", "X", "X", true)]
    [InlineData("1m8gdm9a-1kp042788", "X", "1", false)]
    [InlineData("11111111111111111", "1", "1", true)]
    public async Task The_vin_calculator_answers_as_49_CFR_565_asks(
        string vin,
        string expected,
        string found,
        bool matches
    )
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        var answer = await api.GetJsonAsync($"/api/v1/calculators/vin/{vin}");
        Assert.True(answer.GetProperty("isWellFormed").GetBoolean());
        Assert.Equal(expected, answer.Text("checkDigitExpected"));
        Assert.Equal(found, answer.Text("checkDigitFound"));
        Assert.Equal(matches, answer.GetProperty("checkDigitMatches").GetBoolean());
        Assert.Equal(matches ? 0 : 1, answer.GetProperty("problems").GetArrayLength());
        Assert.Equal(2, answer.GetProperty("modelYearCandidates").GetArrayLength());
    }

    [Fact]
    public async Task A_text_that_is_no_vin_is_an_answer_and_a_very_long_one_is_refused()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        var answer = await api.GetJsonAsync("/api/v1/calculators/vin/1M8GDM9AXKPO42788");
        Assert.False(answer.GetProperty("isWellFormed").GetBoolean());
        Assert.Equal(System.Text.Json.JsonValueKind.Null, answer.GetProperty("checkDigitExpected").ValueKind);
        Assert.Equal(0, answer.GetProperty("modelYearCandidates").GetArrayLength());
        await api.GetJsonAsync($"/api/v1/calculators/vin/{new string('A', 64)}");
        var problem = await api.GetJsonAsync($"/api/v1/calculators/vin/{new string('A', 65)}", 400);
        Assert.Equal("vin", problem.ErrorPath());
    }

    [Fact]
    public async Task Fabricators_may_not_add_cars()
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        await api.PostAsync(Path, new { make = "A" }, 403);
    }

    private static async Task<string> OwnerAsync(HttpClient api, string name) =>
        (await api.PostAsync("/api/v1/customers", new { name })).Text("id");
}

public sealed class CarsApiOnSqlite(SqliteShop shop) : CarsApiTests(shop), IClassFixture<SqliteShop>;

public sealed class CarsApiOnPostgres(PostgresShop shop) : CarsApiTests(shop), IClassFixture<PostgresShop>;
