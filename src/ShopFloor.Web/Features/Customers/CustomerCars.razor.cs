using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Cars;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Customers;

/// <summary>The cars of one customer.</summary>
public partial class CustomerCars(FindCars find)
{
    private IReadOnlyList<CarView> cars = [];

    [Parameter, EditorRequired]
    public CustomerId Customer { get; set; }

    [Parameter]
    public bool IsErased { get; set; }

    protected override async Task<Failure?> LoadAsync()
    {
        var page = new PageRequest(1, PageRequest.LargestSize);
        var outcome = await find.RunAsync(null, Customer, page, Actor, Closing);
        cars = outcome.IsSuccess ? outcome.Value.Items : cars;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "car";
}
