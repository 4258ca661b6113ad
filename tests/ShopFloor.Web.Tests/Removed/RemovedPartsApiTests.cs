using System.Text.Json;
using ShopFloor.Application.History;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Removed;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Jobs;
using ShopFloor.Web.Tests.Quotes;
using PdfDocument = UglyToad.PdfPig.PdfDocument;

namespace ShopFloor.Web.Tests.Removed;

/// <summary>What came out of a car through the API, on both databases.</summary>
public abstract class RemovedPartsApiTests(ShopHost shop)
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_car_is_neither_signed_off_nor_handed_over_while_a_part_is_unaccounted_for()
    {
        var car = await CarStory.BeginAsync(shop, "Ida Frost");
        var seat = await OutAsync(car, "Driver's seat", 4);
        var trim = await OutAsync(car, "Sill trim", 6);
        Assert.EndsWith("/02", trim.GetProperty("label").GetString(), StringComparison.Ordinal);
        await car.WorkUntilAsync();
        var refused = await car.Inspector.PostAsync($"{car.JobPath}/sign-off", new { }, 409);
        Assert.Equal("partsOut", refused.ReasonCode());
        Assert.Contains("Driver's seat (Shelf 3)", refused.ToString(), StringComparison.Ordinal);

        await car.Fabricator.PostAsync($"{PathOf(seat)}/refit", new { fastenersBack = 3 }, 400);
        await car.Fabricator.PostAsync($"{PathOf(seat)}/refit", new { fastenersBack = 4 }, 200);
        await car.Desk.PostAsync($"{PathOf(trim)}/leave-out", new { handedOver = true, reason = "In the boot" }, 403);
        await car.Owner.PostAsync($"{PathOf(trim)}/leave-out", new { handedOver = true, reason = "In the boot" }, 200);
        await car.SignOffAsync();

        await car.Fabricator.PostAsync($"{PathOf(seat)}/out-again", new { }, 200);
        var late = await car.Desk.PostAsync($"{car.JobPath}/hand-over", new { odometerKm = 120_010 }, 409);
        Assert.Equal("partsOut", late.ReasonCode());
        await car.Fabricator.PostAsync($"{PathOf(seat)}/refit", new { fastenersBack = 4 }, 200);
        var sheet = await car.Desk.GetJsonAsync($"{car.JobPath}/hand-over");
        Assert.DoesNotContain("not accounted for", sheet.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Parts_car_and_keys_are_found_where_they_were_put_last()
    {
        var car = await CarStory.BeginAsync(shop, "Jack Frost");
        var seat = await OutAsync(car, "Rear bench", 2);
        await car.Fabricator.PostAsync($"{PathOf(seat)}/move", new { place = "Loft" }, 200);
        await car.Desk.PostAsync($"{car.JobPath}/whereabouts", new { car = "Bay 2", keys = "Hook 7" }, 200);
        await car.Fabricator.PostAsync($"{car.JobPath}/whereabouts", new { car = "Yard" }, 200);
        await car.Fabricator.PostAsync($"{car.JobPath}/whereabouts", new { }, 400);
        var things = await car.Inspector.GetJsonAsync($"{car.JobPath}/removed-parts");
        Assert.Equal("Yard", things.GetProperty("car").GetString());
        Assert.Equal("Hook 7", things.GetProperty("keys").GetString());
        Assert.Equal(["Bay 2", "Yard"], Places(things.GetProperty("carMoves")));
        var part = Assert.Single(things.GetProperty("parts").EnumerateArray());
        Assert.Equal("Loft", part.GetProperty("place").GetString());
        Assert.Equal(["Shelf 3", "Loft"], Places(part.GetProperty("moves")));
        Assert.Equal("Fabricator Person", part.GetProperty("takenBy").GetString());

        // The history says of each change how it was before and after.
        Assert.Equal(("Shelf 3", "Loft"), await ToldAsync(car, "part.moved", "place"));
        Assert.Equal(("Bay 2", "Yard"), await ToldAsync(car, "car.placed", "car"));
    }

    private async Task<(string?, string?)> ToldAsync(CarStory car, string type, string field)
    {
        var job = new JobId(Guid.Parse(car.JobId));
        var text = "";
        await shop.WriteAsync(db =>
            text = db.Events.Where(e => e.Job == job && e.Type == type).OrderBy(e => e.Sequence).Last().Data
        );
        using var data = JsonDocument.Parse(text);
        string? Of(string side) => data.RootElement.GetProperty(side).GetProperty(field).GetString();
        return (Of("before"), Of("after"));
    }

    [Fact]
    public async Task A_repeat_of_the_same_tap_writes_one_part_and_two_at_once_get_two_numbers()
    {
        var car = await CarStory.BeginAsync(shop, "Kit Frost");
        var body = new
        {
            what = "Belt reels",
            takenFrom = "B-pillars",
            fasteners = 4,
            place = "Bag 1",
        };
        await car.Fabricator.PostAsync($"{car.JobPath}/removed-parts", body, 201, $"belt-{car.JobId}");
        await car.Fabricator.PostAsync($"{car.JobPath}/removed-parts", body, 201, $"belt-{car.JobId}");
        using var other = await shop.ApiAsync(Role.Fabricator, shop.OtherFabricator);
        await Task.WhenAll(
            car.Fabricator.PostAsync($"{car.JobPath}/removed-parts", body),
            other.PostAsync($"{car.JobPath}/removed-parts", body)
        );
        var things = await car.Owner.GetJsonAsync($"{car.JobPath}/removed-parts");
        Assert.Equal(
            [1, 2, 3],
            things.GetProperty("parts").EnumerateArray().Select(p => p.GetProperty("number").GetInt32())
        );
    }

    [Fact]
    public async Task Verify_finds_a_part_that_was_taken_off_the_list_or_ticked_off_behind_the_programs_back()
    {
        var car = await CarStory.BeginAsync(shop, "Mia Frost");
        var seat = new PartOutId((await OutAsync(car, "Left seat", 4)).GetProperty("id").GetGuid());
        var trim = new PartOutId((await OutAsync(car, "Sill trim", 6)).GetProperty("id").GetGuid());
        Assert.Empty(await VerifyAsync());

        await shop.WriteAsync(db =>
            db.Entry(db.Set<PartOut>().Single(p => p.Id == seat)).Property(p => p.State).CurrentValue =
                PartOutState.Refitted
        );
        Assert.Contains(await VerifyAsync(), d => d.Contains("and the history says out", StringComparison.Ordinal));
        await shop.WriteAsync(db =>
            db.Entry(db.Set<PartOut>().Single(p => p.Id == seat)).Property(p => p.State).CurrentValue = PartOutState.Out
        );
        Assert.Empty(await VerifyAsync());
        await shop.WriteAsync(db => db.Remove(db.Set<PartOut>().Single(p => p.Id == trim)));
        Assert.Contains(await VerifyAsync(), d => d.Contains("was written down and is gone", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Labels_name_what_is_out_and_nothing_else()
    {
        var car = await CarStory.BeginAsync(shop, "Lea Frost");
        var seat = await OutAsync(car, "Left seat", 4);
        await OutAsync(car, "Right seat", 4);
        await car.Fabricator.PostAsync($"{PathOf(seat)}/refit", new { fastenersBack = 4 }, 200);
        var bytes = await car.Fabricator.GetByteArrayAsync(
            new Uri($"{car.JobPath}/removed-parts/labels/pdf", UriKind.Relative),
            Ct
        );
        using var pdf = PdfDocument.Open(bytes);
        var text = pdf.GetPage(1).Text.Replace(" ", "", StringComparison.Ordinal);
        Assert.Contains("Rightseat", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Leftseat", text, StringComparison.Ordinal);
    }

    private Task<IReadOnlyList<string>> VerifyAsync() =>
        shop.WithAsync<VerifyHistory, IReadOnlyList<string>>(v => v.RunAsync(CancellationToken.None));

    private static IEnumerable<string?> Places(JsonElement moves) =>
        moves.EnumerateArray().Select(m => m.GetProperty("place").GetString());

    private static string PathOf(JsonElement part) => $"/api/v1/removed-parts/{part.GetProperty("id").GetString()}";

    private static Task<JsonElement> OutAsync(CarStory car, string what, int fasteners) =>
        car.Fabricator.PostAsync(
            $"{car.JobPath}/removed-parts",
            new
            {
                what,
                takenFrom = "the cabin",
                fasteners,
                place = "Shelf 3",
            }
        );
}

public sealed class RemovedPartsApiOnSqlite(SqliteShop shop) : RemovedPartsApiTests(shop), IClassFixture<SqliteShop>;

public sealed class RemovedPartsApiOnPostgres(PostgresShop shop)
    : RemovedPartsApiTests(shop),
        IClassFixture<PostgresShop>;
