using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake;
using ShopFloor.Application.Intake.Cars;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Shared;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Cars;

/// <summary>One car: registered or changed.</summary>
public partial class CarPage(GetCar get, RegisterCar register, ChangeCar change, ReadCustomers customers, ShopHead head)
{
    private TypedFields? typed;
    private static readonly Choice<bool?>.Option[] Builds =
    [
        new(null, "Take it from the VIN"),
        new(true, "Yes"),
        new(false, "No"),
    ];

    private CarForm form = new();
    private string key = NewKey();
    private IReadOnlyList<FieldError> errors = [];
    private CarView? saved;
    private CustomerView? owner;
    private bool measuresInInches;
    private bool isSaving;

    [Parameter]
    public Guid? Id { get; set; }

    /// <summary>Owner of a new car, where one comes from the customer's page.</summary>
    [SupplyParameterFromQuery]
    public Guid? Customer { get; set; }

    private string Title => saved?.Title ?? (Id is null ? "New car" : "Car");

    protected override Guid? Subject => Id;

    protected override void Restart()
    {
        form = new();
        key = NewKey();
        errors = [];
        saved = null;
        owner = null;
    }

    protected override async Task<Failure?> LoadAsync()
    {
        measuresInInches = (await head.ReadAsync(Closing))?.LengthUnit == "inch";
        if (Id is not { } id)
        {
            if (Customer is { } wanted)
            {
                var found = await customers.OneAsync(new CustomerId(wanted), Actor, Closing);
                Own(found.IsSuccess ? found.Value : null);
            }

            return null;
        }

        var outcome = await get.RunAsync(new CarId(id), Actor, Closing);
        if (outcome.IsSuccess)
        {
            await ShowAsync(outcome.Value);
        }

        return outcome.Failure;
    }

    private async Task ShowAsync(CarView car)
    {
        saved = car;
        form.Read(car);
        var read = await customers.OneAsync(car.CustomerId, Actor, Closing);
        owner = read.IsSuccess ? read.Value : null;
    }

    private void Own(CustomerView? customer)
    {
        owner = customer;
        form.CustomerId = customer?.Id;
    }

    private async Task<IEnumerable<CustomerView?>> FindOwnersAsync(string? text, CancellationToken ct)
    {
        var found = await customers.ListAsync(text, new PageRequest(1, 20), Actor, ct);
        return found.IsSuccess ? found.Value.Items : [];
    }

    private async Task SaveAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        isSaving = true;
        var input = form.ToInput();
        var outcome = Id is { } id
            ? await change.RunAsync(new CarId(id), input, Envelope(version: saved?.Version), Closing)
            : await register.RunAsync(input, Envelope(key), Closing);
        isSaving = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is Failure.Invalid)
        {
            // The refusal is remembered under the key; the corrected form is another command.
            key = NewKey();
            return;
        }

        if (Accepted(outcome, out var car, "Saved."))
        {
            if (Id is null)
            {
                Navigation.NavigateTo($"cars/{car.Id}");
            }
            else
            {
                await ShowAsync(car);
            }
        }
    }

    private bool Has(string path) => Say(path) is not null;

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;
}
