using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Application.Common;
using ShopFloor.Application.People;
using ShopFloor.Application.Setup;
using ShopFloor.Domain.Common;

namespace ShopFloor.EndToEnd.Tests.Fixtures;

/// <summary>A shop that was just set up with its starter data and one person for each role, and nothing else.</summary>
public class StaffedShop : BrowserShop
{
    public static string EmailOf(Role role) => $"{role}@shop.example".ToLowerInvariant();

    protected override string Beginning => "staffed";

    protected override async Task FillAsync(IServiceProvider services)
    {
        var details = new Shop.Details(
            "Test Works",
            "Test Works Ltd",
            "1 Test Lane",
            "T-1",
            null,
            null,
            null,
            "Europe/London",
            "mm",
            null,
            false
        );
        var setUp = services.GetRequiredService<SetUpShop>();
        var shop = await setUp.RunAsync(
            new(details, "GBP", true, "Olga Owner", EmailOf(Role.Owner), Password),
            CancellationToken.None
        );
        Assert.True(shop.IsSuccess, shop.Failure?.Sentence);
        foreach (var role in Enum.GetValues<Role>().Where(r => r != Role.Owner))
        {
            var added = await services
                .GetRequiredService<AddPerson>()
                .RunAsync(
                    new($"{role} Person", EmailOf(role), Password, [role]),
                    Envelope.Of(Actor.System),
                    CancellationToken.None
                );
            Assert.True(added.IsSuccess, added.Failure?.Sentence);
        }
    }
}

/// <summary>An empty database: the program asks to be set up.</summary>
public sealed class EmptyShop : BrowserShop
{
    protected override Task FillAsync(IServiceProvider services) => Task.CompletedTask;
}
