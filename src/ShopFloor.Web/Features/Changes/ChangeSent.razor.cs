using System.Globalization;
using Microsoft.AspNetCore.Components;
using MudBlazor;
using ShopFloor.Application.Changes;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Quotes;
using ShopFloor.Web.Features.Shared;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Changes;

/// <summary>An offered change order with the customer's answer.</summary>
public partial class ChangeSent(ApproveChange approve, DeclineChange decline, ShopHead head, ISnackbar snackbar)
{
    private string? approvedBy;
    private ApprovalWay? how;
    private string? reason;
    private bool isBusy;
    private IReadOnlyList<FieldError> errors = [];
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    [Parameter, EditorRequired]
    public ChangeView View { get; set; } = default!;

    [Parameter, EditorRequired]
    public Actor Actor { get; set; } = default!;

    [Parameter]
    public EventCallback<ChangeView> Changed { get; set; }

    private bool MayAnswer => Actor.May(Permission.Quote);

    private static IEnumerable<Choice<ApprovalWay?>.Option> Ways =>
        Enum.GetValues<ApprovalWay>()
            .Where(w => w != ApprovalWay.ByLink)
            .Select(w => new Choice<ApprovalWay?>.Option(w, w.Title()));

    private IEnumerable<string> Cautions =>
        View
            .Terms.Operations.Select(o => o.Route.Caution)
            .Concat(View.Terms.InspectionLines.Select(l => l.Caution))
            .OfType<string>()
            .Concat(View.Price.Priced.Precautions)
            .Concat(View.Price.Priced.Gates)
            .Distinct(StringComparer.Ordinal);

    protected override async Task OnInitializedAsync()
    {
        if (await head.ReadAsync(CancellationToken.None) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }
    }

    private Task ApproveAsync() =>
        TakeAsync(
            () =>
                approve.RunAsync(
                    new ApproveChange.Request(
                        View.Id,
                        approvedBy,
                        View.ContentHash,
                        how is { } way ? WordOf(way) : null
                    ),
                    Here(),
                    CancellationToken.None
                ),
            "Approved: the job has it now."
        );

    private Task DeclineAsync() =>
        TakeAsync(
            () => decline.RunAsync(new DeclineChange.Request(View.Id, reason), Here(), CancellationToken.None),
            "Recorded: the work goes on as agreed before."
        );

    private async Task TakeAsync(Func<Task<Outcome<ChangeView>>> act, string done)
    {
        isBusy = true;
        var outcome = await act();
        isBusy = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.TryGet(out var change, out var failure))
        {
            snackbar.Add(done, Severity.Success);
            await Changed.InvokeAsync(change);
        }
        else if (errors.Count == 0)
        {
            snackbar.Add(failure.Sentence, Severity.Error, o => o.RequireInteraction = true);
        }
    }

    private Envelope Here() => Envelope.Of(Actor) with { IfMatch = View.Version };

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;

    private string Money(long minor) => QuoteWords.Money(minor, View.Price.Priced.CurrencyCode);

    private static string WordOf(ApprovalWay way)
    {
        var word = way.ToString();
        return char.ToLowerInvariant(word[0]) + word[1..];
    }

    private string Instant(DateTimeOffset? at) =>
        at is { } instant
            ? TimeZoneInfo.ConvertTime(instant, zone).ToString("d MMM yyyy HH:mm", CultureInfo.CurrentCulture)
            : "–";
}
