using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;

namespace ShopFloor.Web.Tests.Fixtures;

/// <summary>Permits and watches of a test's shop, kept as people keep them: the front desk watches at the cars, the owner at the bench.</summary>
internal sealed class HotWorkDuty(ShopHost shop)
{
    private const string Root = "/api/v1/hot-work-permits";
    private static readonly TimeSpan PastTheWatch = TimeSpan.FromMinutes(FireWatch.UsualMinutes + 1);
    private readonly Dictionary<Role, HttpClient> clients = [];

    /// <summary>Every point as it must be; where no car stands, those about a car are "not here".</summary>
    public static IReadOnlyList<object> Checklist(bool hasCar) =>
        [.. PermitPoint.All.Select(p => new { point = p.Code, finding = p.OfCar && !hasCar ? "notHere" : "done" })];

    public static Role WatcherAt(string place) => HotPlace.HoldsCar(place) ? Role.FrontDesk : Role.Owner;

    /// <summary>Opens a permit where the operation lacks nothing else, or lacks one at all.</summary>
    public async Task PermitAsync(string job, string code)
    {
        var operation = (await OperationsAsync(job)).Single(o => o.GetProperty("code").GetString() == code);
        var lacksOne = operation
            .GetProperty("gates")
            .EnumerateArray()
            .Any(g => g.GetProperty("kind").GetString() == "permit" && !g.GetProperty("isMet").GetBoolean());
        if (lacksOne)
        {
            await OpenAsync(job, operation.GetProperty("place").GetString()!);
        }
    }

    public async Task<JsonElement> OpenAsync(string job, string place)
    {
        var hasCar = HotPlace.HoldsCar(place);
        var api = await ApiAsync(Role.Fabricator);
        return await api.PostAsync(
            Root,
            new
            {
                place,
                jobId = hasCar ? job : null,
                watcherId = shop.People[WatcherAt(place)].Value,
                answers = Checklist(hasCar),
            }
        );
    }

    /// <summary>Waits until every watch is over and lets its watcher close it.</summary>
    public async Task CloseAllAsync()
    {
        var owner = await ApiAsync(Role.Owner);
        var open = (await owner.GetJsonAsync($"{Root}?state=open&pageSize=200"))
            .GetProperty("items")
            .EnumerateArray()
            .ToList();
        if (open.Exists(p => p.GetProperty("state").GetString() == "watch"))
        {
            shop.Clock.Advance(PastTheWatch);
        }

        foreach (var permit in open)
        {
            var watcher = await ApiAsync(WatcherAt(permit.GetProperty("place").GetString()!));
            await watcher.PostAsync($"{Root}/{permit.GetProperty("id").GetString()}/close", new { looked = true }, 200);
        }
    }

    /// <summary>Opens a permit where nothing else is missing, closes watches where paint waits for them.</summary>
    public async Task TendAsync(string job)
    {
        foreach (var operation in await OperationsAsync(job))
        {
            var reasons = operation
                .GetProperty("reasons")
                .EnumerateArray()
                .Select(r => r.GetProperty("code").GetString())
                .ToList();
            if (reasons.Count > 0 && reasons.TrueForAll(r => r == "permit"))
            {
                await OpenAsync(job, operation.GetProperty("place").GetString()!);
                return;
            }

            if (reasons.Count > 0 && reasons.TrueForAll(r => r == "fireWatch"))
            {
                await CloseAllAsync();
                return;
            }
        }
    }

    private async Task<IReadOnlyList<JsonElement>> OperationsAsync(string job) =>
        [
            .. (await (await ApiAsync(Role.Owner)).GetJsonAsync($"/api/v1/jobs/{job}"))
                .GetProperty("operations")
                .EnumerateArray(),
        ];

    private async Task<HttpClient> ApiAsync(Role role)
    {
        if (!clients.TryGetValue(role, out var client))
        {
            client = await shop.ApiAsync(role);
            clients[role] = client;
        }

        return client;
    }
}
