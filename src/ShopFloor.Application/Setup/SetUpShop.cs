using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.People;
using ShopFloor.Application.RuleSets;
using ShopFloor.Data;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Setup;

/// <summary>Starter data that a new shop may take over: price book, routes, rule sets. One class per kind of data; found by scanning.</summary>
public interface IShopStarter : IHook
{
    /// <summary>Adds its data in the set-up's transaction. Called once, on an empty database.</summary>
    Task AddAsync(Shop shop, CommandScope scope);
}

/// <summary>How far the set-up has come.</summary>
public enum SetupStage
{
    Empty,

    /// <summary>A shop exists, but nobody can sign in yet.</summary>
    ShopOnly,
    Complete,
}

/// <summary>First-run set-up: the shop, its starter data and its owner.</summary>
public sealed class SetUpShop(
    CommandRunner runner,
    IDbContextFactory<ShopDbContext> contexts,
    AddPerson addPerson,
    LoadShippedRuleSets ruleSets,
    IEnumerable<IShopStarter> starters
) : IUseCase
{
    public sealed record Request(
        Shop.Details Shop,
        string? Currency,
        bool TakeStarterData,
        string? OwnerName,
        string? OwnerEmail,
        string? OwnerPassword
    );

    /// <summary>Shop and owner at once, as the first page does. The caller has checked the one-time code.</summary>
    public Task<Outcome<ShopId>> RunAsync(Request request, CancellationToken ct) =>
        runner.RunUncheckedAsync<ShopId>(
            Envelope.Of(Actor.System),
            null,
            async scope =>
            {
                var shop = await CreateShopAsync(scope, request.Shop, request.Currency, request.TakeStarterData);
                var owner = await CreateOwnerAsync(scope, request.OwnerName, request.OwnerEmail, request.OwnerPassword);
                var errors = new FieldErrors().Take(shop, "").Take(owner, "owner.");
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                return (shop.Failure ?? owner.Failure) is { } failure ? failure : shop.Value.Id;
            },
            ct
        );

    /// <summary>The shop alone, for the command line.</summary>
    public Task<Outcome<ShopId>> CreateShopAsync(Shop.Details details, string? currency, CancellationToken ct) =>
        runner.RunUncheckedAsync<ShopId>(
            Envelope.Of(Actor.System),
            null,
            async scope =>
                (await CreateShopAsync(scope, details, currency, takeStarterData: true)).Then<ShopId>(s => s.Id),
            ct
        );

    /// <summary>An owner, for the command line; the shop must exist.</summary>
    public Task<Outcome<PersonId>> CreateOwnerAsync(
        string? name,
        string? email,
        string? password,
        CancellationToken ct
    ) =>
        runner.RunUncheckedAsync<PersonId>(
            Envelope.Of(Actor.System),
            null,
            async scope =>
                await scope.Db.Shops.AnyAsync(scope.Cancellation)
                    ? await CreateOwnerAsync(scope, name, email, password)
                    : Failure.Because("noShop", "There is no shop yet: create the shop first."),
            ct
        );

    public async Task<SetupStage> StageAsync(CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        return await db.Users.AnyAsync(ct) ? SetupStage.Complete
            : await db.Shops.AnyAsync(ct) ? SetupStage.ShopOnly
            : SetupStage.Empty;
    }

    private async Task<Outcome<Shop>> CreateShopAsync(
        CommandScope scope,
        Shop.Details details,
        string? currency,
        bool takeStarterData
    )
    {
        if (await scope.Db.Shops.AnyAsync(scope.Cancellation))
        {
            return Failure.Because("shopExists", "The shop was set up already. Sign in instead.");
        }

        var created = Shop.Create(scope.NewId<ShopId>(), details, currency);
        if (!created.TryGet(out var shop, out var failure))
        {
            return failure;
        }

        scope.Db.Shops.Add(shop);
        scope.Record(
            new EventDraft(
                "shop.created",
                "shop",
                shop.Id.Value,
                After: new
                {
                    currency = shop.Currency,
                    timeZone = shop.TimeZone,
                    lengthUnit = shop.LengthUnit,
                    starterData = takeStarterData,
                }
            )
        );
        // Figures of rule books are no data of the shop's own that it could do without.
        await ruleSets.AddAsync(scope);
        if (takeStarterData)
        {
            foreach (var starter in starters.OrderBy(s => s.GetType().FullName, StringComparer.Ordinal))
            {
                await starter.AddAsync(shop, scope);
            }
        }

        return shop;
    }

    private Task<Outcome<PersonId>> CreateOwnerAsync(
        CommandScope scope,
        string? name,
        string? email,
        string? password
    ) => addPerson.AddAsync(scope, new AddPerson.Request(name, email, password, [Role.Owner]));
}
