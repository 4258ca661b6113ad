using System.Reflection;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Application.Progress;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection.Packs;
using ShopFloor.EndToEnd.Tests.Fixtures;
using ShopFloor.EndToEnd.Tests.Pictures;
using ShopFloor.Web.Security;

namespace ShopFloor.EndToEnd.Tests.Access;

/// <summary>A page somebody can reach.</summary>
/// <param name="Path">Where it is in the demo shop.</param>
/// <param name="Device">An office page is made for the desk, a page without a circuit must also do on a phone.</param>
internal sealed record ReachablePage(string Path, Device Device);

/// <summary>What each role reaches, read from the pages' own declarations, so that a new page is looked at without being named here.</summary>
internal static class ReachablePages
{
    /// <summary>An id that nothing has.</summary>
    private static readonly Guid Nothing = new("0198a000-0000-7000-8000-000000000000");

    private sealed record Declared(string Route, Permission? Needs, bool IsForAnybody, bool IsStatic);

    /// <summary>Shown in place of a page that failed, or before there is a shop.</summary>
    private static readonly string[] Elsewhere = ["/setup"];

    private static IEnumerable<Declared> Pages =>
        from type in typeof(Program).Assembly.GetTypes()
        from route in type.GetCustomAttributes<RouteAttribute>()
        where !Elsewhere.Contains(route.Template)
        orderby route.Template
        select new Declared(
            route.Template,
            type.GetCustomAttribute<NeedsAttribute>()?.Permission,
            type.GetCustomAttribute<AllowAnonymousAttribute>() is not null,
            type.GetCustomAttribute<ExcludeFromInteractiveRoutingAttribute>() is not null
        );

    /// <summary>The pages of a role; for null those of somebody who is not signed in, the customer's among them.</summary>
    public static async Task<List<ReachablePage>> OfAsync(Role? role, IServiceProvider services)
    {
        await using var scope = services.CreateAsyncScope();
        var contexts = scope.ServiceProvider.GetRequiredService<IDbContextFactory<ShopDbContext>>();
        await using var db = await contexts.CreateDbContextAsync();
        var found = new List<ReachablePage>();
        foreach (var page in Pages.Where(p => IsReached(p, role)))
        {
            var path = await DemoPlaces.PathOfAsync(page.Route, db, scope.ServiceProvider);
            Assert.True(
                path is not null,
                $"The page {page.Route} has no place in the demo shop: add it to DemoPlaces."
            );
            found.Add(new(path, page.IsStatic ? Device.Phone : Device.Desk));
            // What is shown in place of a thing that does not exist is the same for every role.
            if (role is Role.Owner && page.Route.Contains("{Id:guid}", StringComparison.Ordinal))
            {
                var missing = page.Route.Replace("{Id:guid}", Nothing.ToString(), StringComparison.Ordinal);
                found.Add(new(missing, page.IsStatic ? Device.Phone : Device.Desk));
            }
        }

        if (role is null)
        {
            found.AddRange(await CustomersOwnAsync(await DemoPlaces.BusyJobAsync(db), scope.ServiceProvider));
            var record = await db.Set<InspectionPack>().Select(p => p.RecordHash).FirstAsync();
            found.Add(new($"/record/{record}", Device.Phone));
            found.Add(new("/record/wrong", Device.Phone));
        }

        return found;
    }

    private static bool IsReached(Declared page, Role? role) =>
        role is { } known
            ? !page.IsForAnybody && (page.Needs is not { } needed || Permissions.ByRole[known].Contains(needed))
            : page.IsForAnybody;

    private static async Task<ReachablePage[]> CustomersOwnAsync(JobId job, IServiceProvider services)
    {
        var desk = Envelope.Of(Actor.System);
        var progress = await services
            .GetRequiredService<CreateProgressLink>()
            .RunAsync(job, new(), desk, CancellationToken.None);
        var upload = await services
            .GetRequiredService<CreateUploadLink>()
            .RunAsync(job, new(), desk, CancellationToken.None);
        return
        [
            new($"/p/{progress.Value.Token}", Device.Phone),
            new($"/u/{upload.Value.Token}", Device.Phone),
            new("/p/wrong", Device.Phone),
            new("/u/wrong", Device.Phone),
            new("/d/wrong", Device.Phone),
        ];
    }
}
