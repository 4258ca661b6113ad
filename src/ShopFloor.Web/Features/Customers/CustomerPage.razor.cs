using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Intake;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Web.Features.Customers;

/// <summary>One customer: registered or changed.</summary>
public partial class CustomerPage(ReadCustomers read, RegisterCustomer register, ChangeCustomer change)
{
    private CustomerForm form = new();
    private string key = NewKey();
    private IReadOnlyList<FieldError> errors = [];
    private long? version;
    private string? savedName;
    private bool isErased;
    private bool isSaving;

    [Parameter]
    public Guid? Id { get; set; }

    private string Title => savedName ?? (Id is null ? "New customer" : "Customer");

    protected override Guid? Subject => Id;

    protected override void Restart()
    {
        form = new();
        key = NewKey();
        errors = [];
        version = null;
        savedName = null;
        isErased = false;
    }

    protected override async Task<Failure?> LoadAsync()
    {
        if (Id is not { } id)
        {
            return null;
        }

        var outcome = await read.OneAsync(new CustomerId(id), Actor, Closing);
        if (outcome.IsSuccess)
        {
            Show(outcome.Value);
        }

        return outcome.Failure;
    }

    private void Show(CustomerView customer)
    {
        form.Read(customer);
        version = customer.Version;
        savedName = customer.Name;
        isErased = customer.ErasedAt is not null;
    }

    private async Task SaveAsync()
    {
        isSaving = true;
        var details = form.ToDetails();
        var outcome = Id is { } id
            ? await change.RunAsync(new CustomerId(id), details, Envelope(version: version), Closing)
            : await register.RunAsync(details, Envelope(key), Closing);
        isSaving = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is Failure.Invalid)
        {
            // The refusal is remembered under the key; the corrected form is another command.
            key = NewKey();
            return;
        }

        if (Accepted(outcome, out var customer, "Saved."))
        {
            if (Id is null)
            {
                Navigation.NavigateTo($"customers/{customer.Id}");
            }
            else
            {
                Show(customer);
            }
        }
    }

    private bool Has(string path) => errors.Any(e => e.Path.StartsWith(path, StringComparison.Ordinal));

    private string? Say(string path) =>
        errors.FirstOrDefault(e => e.Path.StartsWith(path, StringComparison.Ordinal))?.Text;
}
