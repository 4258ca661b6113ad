using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Intake;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Customers;

/// <summary>Erases a customer's personal data after asking twice.</summary>
public partial class ErasePanel(EraseCustomer erase)
{
    private bool isAsking;
    private bool removePhotos;
    private bool isBusy;

    [Parameter, EditorRequired]
    public CustomerId Customer { get; set; }

    [Parameter, EditorRequired]
    public string Name { get; set; } = "";

    [Parameter]
    public EventCallback Erased { get; set; }

    protected override Task<Failure?> LoadAsync() => Task.FromResult<Failure?>(null);

    private async Task EraseAsync()
    {
        isBusy = true;
        var outcome = await erase.RunAsync(Customer, new EraseCustomer.Request(removePhotos), Envelope(), Closing);
        isBusy = false;
        isAsking = false;
        if (Accepted(outcome, out _, "The personal data is erased."))
        {
            await Erased.InvokeAsync();
        }
    }
}
