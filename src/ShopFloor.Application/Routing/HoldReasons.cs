using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.RuleSets;
using ShopFloor.Application.Setup;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>The shop's list of reasons for a hold.</summary>
public sealed record HoldReasonsView(long Version, IReadOnlyList<HoldReason> Reasons);

/// <summary>Reads the reasons for a hold; those that are offered, or all for the owner's list.</summary>
public sealed class ReadHoldReasons(QueryRunner queries) : IUseCase
{
    /// <summary>In the shop's order, without the retired ones, "another reason" last.</summary>
    public Task<Outcome<IReadOnlyList<HoldReason>>> OfferedAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<HoldReason>>(
            Permission.SeeFloor,
            actor,
            async db =>
                (await db.Shops.SingleAsync(ct)).HoldReasons.Where(r => !r.IsRetired).Append(HoldReason.Other).ToList(),
            ct
        );

    public Task<Outcome<HoldReasonsView>> AllAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<HoldReasonsView>(
            Permission.RunShop,
            actor,
            async db =>
            {
                var shop = await db.Shops.SingleAsync(ct);
                return new HoldReasonsView(shop.Version, shop.HoldReasons);
            },
            ct
        );
}

/// <summary>The owner changes the list; holds that stand keep the words they were given.</summary>
public sealed class ChangeHoldReasons(CommandRunner runner) : IUseCase
{
    public sealed record Request(IReadOnlyList<HoldReason>? Reasons);

    public Task<Outcome<HoldReasonsView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<HoldReasonsView>(
            Permission.RunShop,
            envelope,
            request,
            async scope =>
            {
                var shop = await scope.ShopAsync();
                if (scope.Stale(shop) is { } stale)
                {
                    return stale;
                }

                if (!HoldReason.ReadList(request.Reasons).TryGet(out var list, out var failure))
                {
                    return failure;
                }

                var before = shop.HoldReasons.Select(r => r.Code).ToList();
                shop.TakeHoldReasons(list);
                scope.Record(
                    new EventDraft(
                        "shop.holdReasonsChanged",
                        "shop",
                        shop.Id.Value,
                        Before: new { codes = before },
                        After: new { codes = list.Select(r => r.Code) }
                    )
                );
                await scope.SaveAsync();
                return new HoldReasonsView(shop.Version, shop.HoldReasons);
            },
            ct
        );
}

/// <summary>A new shop that takes the starter data gets the shipped reasons as its own.</summary>
public sealed class HoldReasonStarter : IShopStarter
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web);

    private sealed record Shipped(IReadOnlyList<HoldReason> Reasons);

    public Task AddAsync(Shop shop, CommandScope scope)
    {
        ArgumentNullException.ThrowIfNull(shop);
        var lists = ShippedData.ReadAll(
            "hold-reasons",
            text => HoldReason.ReadList(JsonSerializer.Deserialize<Shipped>(text, Json)!.Reasons)
        );
        shop.TakeHoldReasons(lists[0]);
        return Task.CompletedTask;
    }
}
