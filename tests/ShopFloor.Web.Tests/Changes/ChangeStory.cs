using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Changes;
using ShopFloor.Data;
using ShopFloor.Web.Tests.Accounts;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Intake;
using ShopFloor.Web.Tests.Quotes;

namespace ShopFloor.Web.Tests.Changes;

/// <summary>What tests of change orders begin with.</summary>
internal static class ChangeStory
{
    /// <summary>A running job whose customer has signed, with the condition found as agreed.</summary>
    public static async Task<(string Job, long QuoteMinor)> SignedJobAsync(HttpClient desk, string rustFound = "light")
    {
        var (job, _, _) = await IntakeStory.OpenJobAsync(desk);
        await desk.PutAsync(
            $"/api/v1/jobs/{job}/drop-off",
            new
            {
                facts = new
                {
                    energy = "petrol",
                    airbags = "front",
                    rearSeatsUsed = false,
                },
                odometerKm = 81_000,
                warningLights = Array.Empty<string>(),
                fuelPercent = 25,
                keys = 2,
                conditionFound = new { rust = rustFound },
                staysFitted = Array.Empty<string>(),
                inTheCar = Array.Empty<string>(),
                battery = "good",
                photoConsent = "withoutPlates",
            }
        );
        await desk.PostAsync($"/api/v1/jobs/{job}/authorisation", new { signature = IntakeStory.Drawn }, 200);
        var changes = await desk.GetJsonAsync($"/api/v1/jobs/{job}/change-orders");
        return (job, changes.Number("quoteTotalMinor"));
    }

    /// <summary>A further plate on an operation of its own, between 50 and 60, with a line to check.</summary>
    public static object FurtherPlate(int? promiseDays = 2, string[]? holds = null) =>
        new
        {
            reason = "The sill is cracked under the trim.",
            work = new[]
            {
                new
                {
                    operation = "55",
                    skill = "welder",
                    standardCode = "plate-form",
                    quantity = 1,
                },
            },
            operations = new[]
            {
                new
                {
                    code = "55",
                    title = "Sill patched",
                    phase = "seamPrep",
                    skill = "welder",
                    after = new[] { "50" },
                    before = new[] { "60" },
                    hotWork = true,
                    caution = "Sparks near trim.",
                },
            },
            inspectionLines = new[]
            {
                new
                {
                    operation = "55",
                    what = "Patch closed all round",
                    how = "Look from both sides",
                    hold = true,
                },
            },
            lines = new[]
            {
                new
                {
                    description = "Sheet steel",
                    quantity = 1,
                    unitPriceMinor = 4_500,
                },
            },
            promiseDays,
            holds = holds ?? [],
        };

    public static async Task<JsonElement> OfferAsync(HttpClient desk, JsonElement draft) =>
        await desk.PostAsync($"/api/v1/change-orders/{draft.Text("id")}/offer", new { }, 200);

    public static Task<JsonElement> ApproveAsync(
        HttpClient desk,
        JsonElement offered,
        int expected = 200,
        string? hash = null,
        string how = "byTelephone"
    ) =>
        desk.PostAsync(
            $"/api/v1/change-orders/{offered.Text("id")}/approve",
            new
            {
                approvedBy = "Ada Kremer",
                contentHash = hash ?? offered.Text("contentHash"),
                how,
            },
            expected
        );

    public static JsonElement Operation(JsonElement job, string code) =>
        job.GetProperty("operations").EnumerateArray().Single(o => o.Text("code") == code);

    public static IEnumerable<string> GateKinds(JsonElement job, string code) =>
        Operation(job, code)
            .GetProperty("gates")
            .EnumerateArray()
            .Where(g => !g.GetProperty("isMet").GetBoolean())
            .Select(g => g.Text("kind"));

    /// <summary>What the checks of all stored money and change orders say.</summary>
    public static async Task<IReadOnlyList<string>> VerifyAsync(ShopHost shop) =>
        [
            .. await JobStory.VerifyAsync(shop),
            .. await shop.WithAsync<IDbContextFactory<ShopDbContext>, IReadOnlyList<string>>(async contexts =>
            {
                await using var db = await contexts.CreateDbContextAsync();
                return await new ChangeVerifier().VerifyAsync(db, CancellationToken.None);
            }),
        ];
}
