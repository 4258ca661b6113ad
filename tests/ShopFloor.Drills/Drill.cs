using System.Globalization;
using System.Text.Json;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Drills;

internal static class Drill
{
    /// <summary>How many rounds: what a variable of the surroundings says, else few enough for all tests.</summary>
    public static int Rounds(string variable, int usual) =>
        Environment.GetEnvironmentVariable(variable) is { } text
            ? Math.Clamp(int.Parse(text, CultureInfo.InvariantCulture), 1, 1_000_000)
            : usual;

    public static Task<string?> DatabaseAsync(string kind) =>
        kind == "postgres" ? NewAsync() : Task.FromResult<string?>(null);

    /// <summary>Name and id of every customer there is.</summary>
    public static async Task<List<(string Id, string Name)>> CustomersAsync(HttpClient api)
    {
        List<(string, string)> all = [];
        for (var page = 1; ; page++)
        {
            var read = await api.GetJsonAsync($"/api/v1/customers?page={page}&pageSize=200");
            var items = read.GetProperty("items").EnumerateArray().ToList();
            all.AddRange(items.Select(i => (Text(i, "id"), Text(i, "name"))));
            if (items.Count < 200)
            {
                return all;
            }
        }
    }

    private static string Text(JsonElement element, string name) => element.GetProperty(name).GetString()!;

    private static async Task<string?> NewAsync() => await PostgresServer.NewDatabaseAsync();
}
