using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Cars;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Cars;

/// <summary>All cars, found by a few letters of make, owner or number.</summary>
public partial class CarsPage(FindCars find)
{
    private string? search;
    private Page<CarView>? list;

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await find.RunAsync(search, null, PageRequest.First, Actor, Closing);
        list = outcome.IsSuccess ? outcome.Value : null;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject is "car" or "customer";

    private async Task SearchAsync(string? text)
    {
        search = text;
        await ReloadAsync();
    }
}
