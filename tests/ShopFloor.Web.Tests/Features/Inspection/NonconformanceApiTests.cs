using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Features.Inspection;

/// <summary>From a failed line to its rework, its acceptance and the owner's list of causes, on both databases.</summary>
public abstract class NonconformanceApiTests(ShopHost shop)
{
    [Fact]
    public async Task A_fault_is_described_reworked_on_the_route_and_passed_again()
    {
        var car = await FailedAsync();
        var photo = await car.PhotoAsync();
        var described = await car.Inspector.PostAsync(
            Path(car, "describe"),
            new
            {
                description = "Plate does not lie flat",
                cause = "fitUp",
                photoIds = new[] { photo },
            },
            200
        );
        Assert.Equal("fitUp", described.GetProperty("cause").GetString());
        var decided = await car.Fabricator.PostAsync(
            Path(car, "decide"),
            new
            {
                disposition = "rework",
                reason = "Hammer it down along the seam",
                operation = "80",
            },
            200
        );
        var rework = decided.GetProperty("reworks")[0].GetString()!;
        var operation = (await car.JobAsync())
            .GetProperty("operations")
            .EnumerateArray()
            .Single(o => o.GetProperty("code").GetString() == rework);
        Assert.NotEqual("done", operation.GetProperty("state").GetString());

        var body = new { line = "plate-gap", value = 0.4 };
        var early = await car.Inspector.PostAsync($"{car.JobPath}/readings", body, 409);
        Assert.Equal("reworkOpen", early.GetProperty("reasons")[0].GetProperty("code").GetString());
        await car.WorkUntilAsync(rework);
        await car.Inspector.PostAsync($"{car.JobPath}/readings", body);
        var fault = await FaultAsync(car);
        Assert.False(fault.GetProperty("isOpen").GetBoolean());
        Assert.Equal(2, fault.GetProperty("closedByReading").GetInt32());
        Assert.Equal(photo, fault.GetProperty("photoIds")[0].GetString());
    }

    [Fact]
    public async Task Only_the_owner_accepts_a_fault_and_says_why_and_work_goes_on()
    {
        var car = await FailedAsync();
        var accept = new { disposition = "accept", reason = "Within what the weld fills" };
        await car.Inspector.PostAsync(Path(car, "decide"), accept, 403);
        await car.Owner.PostAsync(Path(car, "decide"), new { disposition = "accept" }, 400);
        await car.Owner.PostAsync(Path(car, "decide"), accept, 200);
        var line = await car.LineAsync("plate-gap");
        Assert.Equal("accepted", line.GetProperty("state").GetString());
        await car.WorkUntilAsync("100");
        await car.Owner.PostAsync(Path(car, "decide"), accept, 409);
    }

    [Fact]
    public async Task What_cannot_be_decided_is_said_and_changes_nothing()
    {
        var car = await FailedAsync();
        await car.Inspector.PostAsync(Path(car, "decide"), new { reason = "Why" }, 400);
        await car.Inspector.PostAsync(
            Path(car, "decide"),
            new
            {
                disposition = "rework",
                operation = "999",
                reason = "Why",
            },
            400
        );
        await car.Inspector.PostAsync(
            $"{car.JobPath}/nonconformances/9/decide",
            new { disposition = "reject", reason = "Why" },
            404
        );
        await car.Inspector.PostAsync(Path(car, "describe"), new { photoIds = new[] { Guid.Empty } }, 400);
        using var integration = await shop.ApiAsync(Role.Inspector, null);
        await integration.PostAsync(Path(car, "decide"), new { disposition = "reject", reason = "Why" }, 403);
        var fault = await FaultAsync(car);
        Assert.Equal(JsonValueKind.Null, fault.GetProperty("disposition").ValueKind);
    }

    [Fact]
    public async Task The_owner_sees_causes_by_month_without_what_was_only_mistyped()
    {
        var before = await ReportAsync();
        var car = await FailedAsync();
        await car.Inspector.PostAsync(Path(car, "describe"), new { cause = "heat" }, 200);
        await car.Inspector.PostAsync($"{car.JobPath}/readings", new { line = "plate-thickness", value = 30 });
        await car.Inspector.PostAsync(
            $"{car.JobPath}/readings",
            new
            {
                line = "plate-thickness",
                value = 3,
                corrects = 1,
            }
        );
        var after = await ReportAsync();
        Assert.Equal(Count(before, "heat") + 1, Count(after, "heat"));
        Assert.Equal(Total(before) + 1, Total(after));
        Assert.Equal(12, after.GetProperty("months").GetArrayLength());
        Assert.Contains(
            after.GetProperty("items").EnumerateArray(),
            i =>
                i.GetProperty("jobId").GetString() == car.JobId
                && i.GetProperty("fault").GetProperty("wasMistyped").GetBoolean()
        );
        using var owner = await shop.ApiAsync(Role.Owner);
        await owner.GetJsonAsync("/api/v1/reports/nonconformances?months=99", 400);
    }

    private async Task<CarStory> FailedAsync()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync("80");
        await car.Inspector.PostAsync($"{car.JobPath}/readings", new { line = "plate-gap", value = 1.5 });
        var fault = await FaultAsync(car);
        Assert.Equal("1.5 mm, limits 0 to 1 mm", fault.GetProperty("description").GetString());
        return car;
    }

    private async Task<JsonElement> ReportAsync()
    {
        using var owner = await shop.ApiAsync(Role.Owner);
        return await owner.GetJsonAsync("/api/v1/reports/nonconformances");
    }

    private static async Task<JsonElement> FaultAsync(CarStory car) =>
        (await car.InspectionAsync())
            .GetProperty("inspection")
            .GetProperty("nonconformances")
            .EnumerateArray()
            .Single();

    private static string Path(CarStory car, string what) => $"{car.JobPath}/nonconformances/1/{what}";

    private static int Count(JsonElement report, string cause) =>
        report
            .GetProperty("totals")
            .EnumerateArray()
            .Where(t => t.GetProperty("cause").GetString() == cause)
            .Sum(t => t.GetProperty("count").GetInt32());

    private static int Total(JsonElement report) =>
        report.GetProperty("totals").EnumerateArray().Sum(t => t.GetProperty("count").GetInt32());
}

public sealed class NonconformanceApiOnSqlite(SqliteShop shop)
    : NonconformanceApiTests(shop),
        IClassFixture<SqliteShop>;

public sealed class NonconformanceApiOnPostgres(PostgresShop shop)
    : NonconformanceApiTests(shop),
        IClassFixture<PostgresShop>;
