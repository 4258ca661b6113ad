using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Application.RuleSets;
using ShopFloor.Application.SignIns;
using ShopFloor.Data;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.RuleSets;
using ShopFloor.Domain.Stock;
using ShopFloor.EndToEnd.Tests.Fixtures;

namespace ShopFloor.EndToEnd.Tests.Pictures;

/// <summary>Where each kind of page has something to show in the demo shop.</summary>
internal static class DemoPlaces
{
    /// <summary>Plates of the car that waits for door panels: nearly finished, with readings, holds and photos.</summary>
    private const string Busy = "DEMO 106";

    /// <summary>The car whose condition was found otherwise and whose owner has not signed yet.</summary>
    private const string Arrived = "DEMO 112";

    /// <summary>A car that was handed over.</summary>
    private const string Gone = "DEMO 101";

    /// <summary>The path of a route, or null for a route that nobody has found a place for.</summary>
    public static async Task<string?> PathOfAsync(string route, ShopDbContext db, IServiceProvider services)
    {
        if (!route.Contains('{', StringComparison.Ordinal))
        {
            return route;
        }

        var busy = await CarAsync(db, Busy);
        return route switch
        {
            "/j/{Token}" => await InvitationAsync(db, services),
            "/customers/{Id:guid}" => $"/customers/{busy.CustomerId.Value}",
            "/cars/{Id:guid}" => $"/cars/{busy.Id.Value}",
            "/price-book/draft/{Section}" => "/price-book/draft/kits",
            "/price-book/editions/{Edition:int}" => "/price-book/editions/1",
            "/route-templates/{Code}" => "/route-templates/six-point-weld-in",
            "/route-templates/{Code}/draft" => await DraftOfRouteAsync(db, services),
            "/inspection-plans/{Code}" => "/inspection-plans/weld-in-bar",
            "/inspection-plans/{Code}/edit" => "/inspection-plans/weld-in-bar/edit",
            "/workbench/{Code}" => "/workbench/notch",
            "/rule-sets/{Code}/tube-check" => "/rule-sets/motorsport-uk-ncr-2026/tube-check",
            "/rule-sets/{Code}" => "/rule-sets/shoulder-straps",
            "/rule-sets/{Code}/compare" => "/rule-sets/motorsport-uk-ncr-2026/compare?with=fia-appendix-j-253",
            "/rule-sets/{Code}/edit" => await OwnRuleSetAsync(db, services),
            "/jobs/{JobId:guid}/change-orders/new" => $"/jobs/{(await JobAsync(db, Busy)).Id.Value}/change-orders/new",
            "/change-orders/{Id:guid}" => $"/change-orders/{(await ChangeAsync(db)).Id.Value}",
            "/quotes/{Id:guid}" => $"/quotes/{(await QuoteAsync(db, busy)).Id.Value}",
            "/jobs/{Id:guid}/drop-off" => $"/jobs/{(await JobAsync(db, Arrived)).Id.Value}/drop-off",
            "/jobs/{Id:guid}/hand-over" => $"/jobs/{(await JobAsync(db, Gone)).Id.Value}/hand-over",
            "/jobs/{Id:guid}/goods-out" => $"/jobs/{(await KitAsync(db)).Id.Value}/goods-out",
            "/stock/items/{Id:guid}" =>
                $"/stock/items/{(await db.Set<StockItem>().SingleAsync(i => i.Code == "T40")).Id}",
            "/stock/lots/{Id:guid}" => $"/stock/lots/{(await db.Set<StockLot>().FirstAsync(l => l.IsOffcut)).Id}",
            "/stock/orders/{Id:guid}" =>
                $"/stock/orders/{(await db.Set<StockOrder>().FirstAsync(o => o.State == StockOrderState.PartlyHere)).Id}",
            "/stock/saw/{Id:guid}" =>
                $"/stock/saw/{(await db.Set<SawPlan>().FirstAsync(p => p.State == SawPlanState.Planned)).Id}",
            "/jobs/{Id:guid}/cut-list" =>
                $"/jobs/{(await db.Set<CutList>().OrderByDescending(c => c.JobId).FirstAsync()).JobId}/cut-list",
            _ when route.Contains("{Id:guid}", StringComparison.Ordinal) => route.Replace(
                "{Id:guid}",
                (await JobAsync(db, Busy)).Id.Value.ToString(),
                StringComparison.Ordinal
            ),
            _ => null,
        };
    }

    /// <summary>The job with most to show.</summary>
    public static async Task<JobId> BusyJobAsync(ShopDbContext db) => (await JobAsync(db, Busy)).Id;

    public static string? ViewerOf(string route) => route is "/sign-in" or "/not-found" ? null : DemoShop.Owner;

    private static Task<Car> CarAsync(ShopDbContext db, string registration) =>
        db.Set<Car>().SingleAsync(c => c.Registration == registration);

    private static async Task<Job> JobAsync(ShopDbContext db, string registration)
    {
        var car = await CarAsync(db, registration);
        return await db.Set<Job>().SingleAsync(j => j.CarId == car.Id);
    }

    /// <summary>A draft of the four-point bar's route, begun where there is none.</summary>
    private static async Task<string> DraftOfRouteAsync(ShopDbContext db, IServiceProvider services)
    {
        const string Code = "four-point-half-bar";
        if (!await db.Set<RouteEdition>().AnyAsync(e => e.TemplateCode == Code && e.State == RouteEditionState.Draft))
        {
            await using var scope = services.CreateAsyncScope();
            var begun = await scope
                .ServiceProvider.GetRequiredService<ChangeRouteTemplates>()
                .BeginAsync(
                    Code,
                    new ChangeRouteTemplates.BeginRequest(),
                    Envelope.Of(Actor.System),
                    CancellationToken.None
                );
            Assert.True(begun.IsSuccess, begun.Failure?.Sentence);
        }

        return $"/route-templates/{Code}/draft";
    }

    /// <summary>A link for a new password of somebody's; nobody uses it.</summary>
    private static async Task<string> InvitationAsync(ShopDbContext db, IServiceProvider services)
    {
        var person = await db.Users.OrderByDescending(u => u.NormalizedEmail).FirstAsync();
        await using var scope = services.CreateAsyncScope();
        var made = await scope
            .ServiceProvider.GetRequiredService<MakePasswordLink>()
            .RunAsync(new PersonId(person.Id), Envelope.Of(Actor.System), CancellationToken.None);
        return $"/j/{made.Value.Token}";
    }

    /// <summary>The shop's own copy of the house rules, made where there is none.</summary>
    private static async Task<string> OwnRuleSetAsync(ShopDbContext db, IServiceProvider services)
    {
        const string Code = "house-street-own";
        if (!await db.Set<RuleSetVersion>().AnyAsync(v => v.Code == Code))
        {
            await using var scope = services.CreateAsyncScope();
            var copied = await scope
                .ServiceProvider.GetRequiredService<KeepRuleSets>()
                .CopyAsync(
                    "house-street",
                    new KeepRuleSets.CopyRequest(),
                    Envelope.Of(Actor.System),
                    CancellationToken.None
                );
            Assert.True(copied.IsSuccess, copied.Failure?.Sentence);
        }

        return $"/rule-sets/{Code}/edit";
    }

    /// <summary>The kit that was sent.</summary>
    private static Task<Job> KitAsync(ShopDbContext db) => db.Set<Job>().SingleAsync(j => j.CarId == null);

    private static Task<ChangeOrder> ChangeAsync(ShopDbContext db) =>
        db.Set<ChangeOrder>().OrderBy(c => c.Number).FirstAsync();

    private static Task<Quote> QuoteAsync(ShopDbContext db, Car car) =>
        db.Set<Quote>().OrderByDescending(q => q.Revision).FirstAsync(q => q.CarId == car.Id);
}
