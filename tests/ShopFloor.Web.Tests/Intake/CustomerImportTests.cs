using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Intake;

/// <summary>A file of customers and cars, on both databases.</summary>
public abstract class CustomerImportTests(ShopHost shop)
{
    private const string Import = "/api/v1/customers/import";

    private static Task<JsonElement> SendAsync(
        HttpClient desk,
        string csv,
        bool isPreview = false,
        int expected = 200
    ) => desk.PostAsync(Import + (isPreview ? "/preview" : ""), new { csv }, expected);

    private static async Task<int> CountAsync(HttpClient desk, string search) =>
        (await desk.GetJsonAsync($"/api/v1/customers?search={search}")).GetProperty("totalCount").GetInt32();

    [Fact]
    public async Task All_of_a_file_is_taken_over_once_with_each_owners_cars()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        const string Csv = """
            name,email,phone,address,make,model,modelYear,vin,registration,odometerKm
            Ines Import,ines@import.example,+44 1632 960777,"2 Import Road
            Importham",Marlow,Quillon,2006,,IMP 1,120000
            Ines Import,INES@import.example,+44 1632-960777,,Ostrel,Pellet,1989,OST-60-009999,,
            "Import, Sons & Co",,,,,,,,,
            """;

        var seen = await SendAsync(desk, Csv, isPreview: true);
        Assert.Equal((2, 2), (seen.Number("customers"), seen.Number("cars")));
        Assert.Equal(0, await CountAsync(desk, "import"));

        var done = await SendAsync(desk, Csv);
        Assert.Equal((2, 2), (done.Number("customers"), done.Number("cars")));
        // What is remembered for a repeat must not hold names that somebody may want forgotten.
        Assert.DoesNotContain("Ines", done.ToString(), StringComparison.Ordinal);
        Assert.Equal(2, await CountAsync(desk, "import"));
        var ines = (await desk.GetJsonAsync("/api/v1/customers?search=ines@import")).GetProperty("items")[0];
        Assert.Equal(
            ["2 Import Road", "Importham"],
            ines.GetProperty("addressLines").EnumerateArray().Select(l => l.GetString())
        );

        var again = await SendAsync(desk, Csv);
        Assert.Equal((0, 0, 4), (again.Number("customers"), again.Number("cars"), again.Number("knownCount")));
        Assert.Equal(2, await CountAsync(desk, "import"));
    }

    [Fact]
    public async Task One_wrong_row_and_nothing_of_the_file_is_taken_and_each_fault_is_told_with_its_row()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        const string Csv = """
            name,email,make,model,modelYear
            Wanda Wrong,wanda@wrong.example,,,
            Walter Wrong,not an address,,,
            Willa Wrong,willa@wrong.example,Marlow,,1066
            """;

        foreach (var isPreview in new[] { true, false })
        {
            var refused = await SendAsync(desk, Csv, isPreview, 400);
            var told = refused.GetProperty("errors").ToString();
            Assert.Contains("Row 3: ", told, StringComparison.Ordinal);
            Assert.Contains("Row 4: ", told, StringComparison.Ordinal);
            Assert.DoesNotContain("Row 2: ", told, StringComparison.Ordinal);
        }

        Assert.Equal(0, await CountAsync(desk, "wrong"));
    }

    [Theory]
    [InlineData("", "heads")]
    [InlineData("name;email\r\nA;b", "commas")]
    [InlineData("mail\r\na@b.example", "and one is")]
    [InlineData("name,colour\r\nA,red", "colour")]
    [InlineData("name,name\r\nA,B", "twice")]
    [InlineData("name\r\nA,B", "cells")]
    [InlineData("name\r\n\"A", "not closed")]
    [InlineData("name", "no row")]
    public async Task Files_that_are_none_of_ours_are_refused_in_a_sentence(string csv, string said)
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);

        var refused = await SendAsync(desk, csv, expected: 400);

        Assert.Contains(said, refused.GetProperty("errors").ToString(), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Too_many_rows_are_refused_and_texts_that_look_like_formulas_come_back_as_texts()
    {
        using var desk = await shop.ApiAsync(Role.FrontDesk);
        var many = "name\r\n" + string.Concat(Enumerable.Range(0, 2_001).Select(i => $"Many {i}\r\n"));
        await SendAsync(desk, many, expected: 400);
        Assert.Equal(0, await CountAsync(desk, "many"));

        await SendAsync(desk, "name\r\n'=Formula Ltd\r\n");
        Assert.Equal(
            "=Formula Ltd",
            (await desk.GetJsonAsync("/api/v1/customers?search=formula")).GetProperty("items")[0].Text("name")
        );
    }
}

public sealed class SqliteCustomerImportTests(SqliteShop shop) : CustomerImportTests(shop), IClassFixture<SqliteShop>;

public sealed class PostgresCustomerImportTests(PostgresShop shop)
    : CustomerImportTests(shop),
        IClassFixture<PostgresShop>;
