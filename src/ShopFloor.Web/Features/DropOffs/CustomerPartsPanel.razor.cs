using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Parts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Web.Features.DropOffs;

/// <summary>Parts that the customer brings for a job.</summary>
public partial class CustomerPartsPanel(
    ListCustomerParts list,
    PromiseCustomerPart promise,
    ReceiveCustomerPart receive,
    DropCustomerPart drop
)
{
    /// <summary>Codes by which operations of the shipped routes wait for a part.</summary>
    private static readonly (string Value, string Text)[] Codes = [("door-panels", "Door bars: the door panels")];

    private readonly string panel = NewKey();
    private IReadOnlyList<CustomerPartView> parts = [];
    private IReadOnlyList<FieldError> errors = [];
    private string? what;
    private string? code;
    private DateOnly? due;
    private bool isBusy;

    [Parameter, EditorRequired]
    public JobId Job { get; set; }

    [Parameter]
    public bool CanChange { get; set; } = true;

    private bool MayChange => CanChange && Actor.May(Permission.BookIn);

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await list.RunAsync(Job, Actor, Closing);
        parts = outcome.IsSuccess ? outcome.Value : parts;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) =>
        notice.Subject == "customerPart" && notice.JobId == Job.Value;

    private void SetDue(ChangeEventArgs change) =>
        due = DateOnly.TryParseExact(
            change.Value as string,
            "yyyy-MM-dd",
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var day
        )
            ? day
            : null;

    private async Task AddAsync()
    {
        isBusy = true;
        var outcome = await promise.RunAsync(Job, new CustomerPartInput(what, code, due), Envelope(), Closing);
        isBusy = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is Failure.Invalid)
        {
            return;
        }

        if (Accepted(outcome, out _))
        {
            what = code = null;
            due = null;
            await ReloadAsync();
        }
    }

    private async Task ArriveAsync(CustomerPartView part)
    {
        if (Accepted(await receive.RunAsync(part.Id, Envelope(), Closing), out _, $"{part.What}: arrived."))
        {
            await ReloadAsync();
        }
    }

    private async Task DropAsync(CustomerPartView part)
    {
        if (
            Accepted(
                await drop.RunAsync(part.Id, Envelope(), Closing),
                out _,
                $"{part.What}: nothing waits for it any more."
            )
        )
        {
            await ReloadAsync();
        }
    }

    private static string State(CustomerPartView part) =>
        part.State switch
        {
            CustomerPartState.Arrived => "✓ " + part.State.Title(),
            CustomerPartState.Dropped => "– " + part.State.Title(),
            _ => part.IsLate ? "⚠ Late" : "○ " + part.State.Title(),
        };

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;
}
