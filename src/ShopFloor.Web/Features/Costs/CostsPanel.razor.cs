using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Quotes;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Costs;

/// <summary>A job's costs, to read and to book.</summary>
public partial class CostsPanel(ReadCosts read, BookCost book, ReverseCost reverse, AttachCostPaper attach)
{
    private static readonly Choice<string>.Option[] Kinds =
    [
        new("supplierBill", "A supplier's bill"),
        new("outsideWork", "Work done elsewhere"),
    ];

    private TypedFields? typed;
    private JobCostsView? view;
    private CostForm form = new();
    private IReadOnlyList<FieldError> errors = [];
    private JobCostId? reversing;
    private string? reason;
    private string key = NewKey();
    private bool isSaving;

    [Parameter, EditorRequired]
    public JobId JobId { get; set; }

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.RunAsync(JobId, Actor, Closing);
        view = outcome.IsSuccess ? outcome.Value : view;
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) =>
        notice.JobId == JobId.Value && notice.Subject is "cost" or "account";

    private async Task BookAsync()
    {
        if (typed!.Refuse())
        {
            return;
        }

        var request = new BookCost.Request(
            JobId,
            form.Kind,
            form.Supplier,
            form.Description,
            form.AmountMinor,
            form.TaxMinor,
            form.On,
            form.Reference,
            form.Operation
        );
        if (await TakeAsync(() => book.RunAsync(request, Envelope(key), Closing), "Booked."))
        {
            form = new CostForm { Kind = form.Kind };
        }
    }

    private void BeginReverse(JobCostId cost) =>
        (reversing, reason, errors) = (reversing == cost ? null : cost, null, []);

    private async Task ReverseAsync(CostView cost)
    {
        var request = new ReverseCost.Request(cost.Id, reason);
        if (await TakeAsync(() => reverse.RunAsync(request, Envelope(key, cost.Version), Closing), "Taken back."))
        {
            reversing = null;
        }
    }

    private async Task AttachAsync(CostView cost, InputFileChangeEventArgs change)
    {
        var file = change.File;
        if (file.Size > AttachCostPaper.MostBytes)
        {
            Accepted(
                Outcome<JobCostsView>.Fail(
                    new Failure.TooLarge(
                        $"{file.Name} has more than {AttachCostPaper.MostBytes / 1024 / 1024} MB. Send a smaller one."
                    )
                ),
                out _
            );
            return;
        }

        var bytes = new byte[file.Size];
        await using var stream = file.OpenReadStream(AttachCostPaper.MostBytes, Closing);
        await stream.ReadExactlyAsync(bytes, Closing);
        await TakeAsync(() => attach.RunAsync(cost.Id, bytes, Envelope(key), Closing), "The bill is kept.");
        // What is wrong with a file has no field to stand at.
        if (Say("file") is { } wrong)
        {
            Snackbar.Add(wrong, MudBlazor.Severity.Error, o => o.RequireInteraction = true);
        }
    }

    private async Task<bool> TakeAsync(Func<Task<Outcome<JobCostsView>>> act, string done)
    {
        isSaving = true;
        var outcome = await act();
        isSaving = false;
        key = NewKey();
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is Failure.Invalid || !Accepted(outcome, out var costs, done))
        {
            return false;
        }

        view = costs;
        return true;
    }

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;

    private string Money(long minor) => QuoteWords.Money(minor, view!.Currency);

    private string About(CostView cost) =>
        string.Join(
            " · ",
            new[]
            {
                cost.Description,
                cost.Reference,
                cost.TaxMinor > 0 ? $"tax {Money(cost.TaxMinor)}" : null,
                cost.Operation is null ? null : $"for {cost.Operation}",
                cost.BookedBy is null ? null : $"by {cost.BookedBy}",
                cost.ReverseReason is null ? null : $"taken back: {cost.ReverseReason}",
            }.OfType<string>()
        );

    /// <summary>What is typed.</summary>
    private sealed class CostForm
    {
        public string? Kind { get; set; } = "supplierBill";

        public string? Supplier { get; set; }

        public string? Description { get; set; }

        public long? AmountMinor { get; set; }

        public long? TaxMinor { get; set; }

        public DateOnly? On { get; private set; }

        public string? Reference { get; set; }

        public string? Operation { get; set; }

        public void ReadDay(string? typed) =>
            On = DateOnly.TryParseExact(
                typed,
                "yyyy-MM-dd",
                CultureInfo.InvariantCulture,
                DateTimeStyles.None,
                out var day
            )
                ? day
                : null;
    }
}
