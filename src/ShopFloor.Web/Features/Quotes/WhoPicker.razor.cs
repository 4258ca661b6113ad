using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake;
using ShopFloor.Application.Intake.Cars;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Web.Features.Cars;
using ShopFloor.Web.Features.Customers;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Quotes;

/// <summary>Picks or adds the customer and the car of a quote.</summary>
public partial class WhoPicker(
    ReadCustomers customers,
    RegisterCustomer registerCustomer,
    FindCars findCars,
    RegisterCar registerCar
)
{
    private TypedFields? typing;
    private CustomerView? customer;
    private IReadOnlyList<CarView> cars = [];
    private CarView? car;
    private CustomerForm typed = new();
    private CarForm newCar = new();
    private IReadOnlyList<FieldError> errors = [];
    private bool isNewCustomer;
    private bool isNewCar;
    private bool isSaving;

    /// <summary>A chosen pair; the car is null until one is chosen.</summary>
    public sealed record Pair(CustomerId? Customer, CarId? Car);

    [Parameter, EditorRequired]
    public Actor Actor { get; set; } = default!;

    [Parameter]
    public CustomerId? Customer { get; set; }

    [Parameter]
    public CarId? Car { get; set; }

    [Parameter]
    public EventCallback<Pair> Chosen { get; set; }

    [Parameter]
    public string? CustomerError { get; set; }

    [Parameter]
    public string? CarError { get; set; }

    protected override async Task OnParametersSetAsync()
    {
        if (Customer is { } id && customer?.Id != id)
        {
            var found = await customers.OneAsync(id, Actor, CancellationToken.None);
            customer = found.IsSuccess ? found.Value : null;
            await LoadCarsAsync();
        }

        if (car?.Id != Car)
        {
            car = cars.FirstOrDefault(c => c.Id == Car);
        }
    }

    private async Task<IEnumerable<CustomerView?>> FindCustomersAsync(string? text, CancellationToken ct)
    {
        var found = await customers.ListAsync(text, new PageRequest(1, 20), Actor, ct);
        return found.IsSuccess ? found.Value.Items : [];
    }

    private async Task ChooseCustomerAsync(CustomerView? chosen)
    {
        customer = chosen;
        isNewCustomer = false;
        await LoadCarsAsync();
        // With one car there is nothing to choose; with none the form for a new one opens at once.
        car = cars.Count == 1 ? cars[0] : null;
        isNewCar = chosen is not null && cars.Count == 0;
        await TellAsync();
    }

    private Task ChooseCarAsync(CarId? id)
    {
        car = cars.FirstOrDefault(c => c.Id == id);
        return TellAsync();
    }

    private async Task LoadCarsAsync()
    {
        cars = [];
        if (customer is not null)
        {
            var found = await findCars.RunAsync(
                null,
                customer.Id,
                new PageRequest(1, 50),
                Actor,
                CancellationToken.None
            );
            cars = found.IsSuccess ? found.Value.Items : [];
        }
    }

    private async Task AddCustomerAsync()
    {
        isSaving = true;
        var added = await registerCustomer.RunAsync(typed.ToDetails(), Envelope.Of(Actor), CancellationToken.None);
        isSaving = false;
        errors = ErrorsOf(added.Failure);
        if (added.IsSuccess)
        {
            typed = new CustomerForm();
            await ChooseCustomerAsync(added.Value);
        }
    }

    private async Task AddCarAsync()
    {
        if (typing!.Refuse())
        {
            return;
        }

        isSaving = true;
        newCar.CustomerId = customer!.Id;
        var added = await registerCar.RunAsync(newCar.ToInput(), Envelope.Of(Actor), CancellationToken.None);
        isSaving = false;
        errors = ErrorsOf(added.Failure);
        if (added.IsSuccess)
        {
            newCar = new CarForm();
            isNewCar = false;
            await LoadCarsAsync();
            car = cars.FirstOrDefault(c => c.Id == added.Value.Id);
            await TellAsync();
        }
    }

    private Task TellAsync() => Chosen.InvokeAsync(new Pair(customer?.Id, car?.Id));

    private static IReadOnlyList<FieldError> ErrorsOf(Failure? failure) =>
        failure switch
        {
            null => [],
            Failure.Invalid invalid => invalid.Errors,
            _ => [new FieldError("name", failure.Sentence)],
        };

    private IEnumerable<Choice<CarId?>.Option> CarOptions =>
        cars.Select(c => new Choice<CarId?>.Option(
            c.Id,
            c.Registration is null ? c.Title : $"{c.Title} · {c.Registration}"
        ));

    private bool Has(string path) => Say(path) is not null;

    private string? Say(string path) =>
        errors.FirstOrDefault(e => e.Path.StartsWith(path, StringComparison.Ordinal))?.Text;
}
