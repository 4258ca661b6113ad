using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Common;
using ShopFloor.Application.HotWork;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;

namespace ShopFloor.EndToEnd.Tests.Fixtures;

/// <summary>Permits and watches of a staffed shop, kept as people keep them: the front desk watches at the cars, the owner at the bench.</summary>
internal static class HotWorkDuty
{
    public static async Task<PermitView> OpenPermitAsync(this BrowserShop shop, Guid job, string place)
    {
        await using var scope = shop.Services.CreateAsyncScope();
        var hasCar = HotPlace.HoldsCar(place);
        var opened = await scope
            .ServiceProvider.GetRequiredService<OpenPermit>()
            .RunAsync(
                new OpenPermit.Request(
                    place,
                    hasCar ? job : null,
                    (await ActorAsync(scope.ServiceProvider, WatcherAt(place))).Person!.Value.Value,
                    Answers:
                    [
                        .. PermitPoint.All.Select(p => new PermitAnswer(
                            p.Code,
                            p.OfCar && !hasCar ? PointFinding.NotHere : PointFinding.Done
                        )),
                    ]
                ),
                Envelope.Of(await ActorAsync(scope.ServiceProvider, Role.Fabricator)),
                CancellationToken.None
            );
        Assert.True(opened.IsSuccess, opened.Failure?.Sentence);
        return opened.Value;
    }

    /// <summary>Every watch that is over is confirmed by its watcher.</summary>
    public static async Task ClosePermitsAsync(this BrowserShop shop)
    {
        await using var scope = shop.Services.CreateAsyncScope();
        var services = scope.ServiceProvider;
        var open = await services.GetRequiredService<ReadPermits>().UnclosedAsync(Actor.System, CancellationToken.None);
        foreach (var permit in open.Value)
        {
            var closed = await services
                .GetRequiredService<ClosePermit>()
                .RunAsync(
                    permit.Id,
                    new(true),
                    Envelope.Of(await ActorAsync(services, WatcherAt(permit.Place))),
                    CancellationToken.None
                );
            Assert.True(closed.IsSuccess, closed.Failure?.Sentence);
        }
    }

    private static Role WatcherAt(string place) => HotPlace.HoldsCar(place) ? Role.FrontDesk : Role.Owner;

    internal static async Task<Actor> ActorAsync(IServiceProvider services, Role role)
    {
        var contexts = services.GetRequiredService<IDbContextFactory<ShopDbContext>>();
        await using var db = await contexts.CreateDbContextAsync();
        var email = StaffedShop.EmailOf(role).ToUpperInvariant();
        var id = await db.Users.Where(u => u.NormalizedEmail == email).Select(u => u.Id).SingleAsync();
        return Actor.OfPerson(new PersonId(id), [role]);
    }
}
