using System.Globalization;
using Microsoft.AspNetCore.Components;
using MudBlazor;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Features.Decisions;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Quotes;

/// <summary>A sent quote with the customer's answer.</summary>
public partial class SentQuote(
    AcceptQuote accept,
    DeclineQuote decline,
    ReviseQuote revise,
    CopyQuote copy,
    OpenJob openJob,
    DescribeQuote describe,
    ListQuotes listQuotes,
    ISnackbar snackbar,
    NavigationManager navigation
)
{
    private string? acceptedBy;
    private string? nameError;
    private string? reason;
    private LostReason? why;
    private string? whyError;
    private bool isBusy;
    private bool isOpened;
    private QuoteId? described;
    private IReadOnlyList<QuoteChoice> choices = [];
    private IReadOnlyList<(string Label, string Value)> condition = [];
    private IReadOnlyList<DecisionLinkPanel.OtherQuote> others = [];
    private TimeZoneInfo zone = TimeZoneInfo.Utc;

    [Parameter, EditorRequired]
    public QuoteView View { get; set; } = default!;

    [Parameter, EditorRequired]
    public Actor Actor { get; set; } = default!;

    /// <summary>The quote after a change; another one after a revision.</summary>
    [Parameter]
    public EventCallback<QuoteView> Changed { get; set; }

    private bool MayQuote => Actor.May(Permission.Quote);

    protected override async Task OnParametersSetAsync()
    {
        if (described == View.Id)
        {
            return;
        }

        described = View.Id;
        var words = await describe.RunAsync(View.Id, Actor, CancellationToken.None);
        if (words.IsSuccess)
        {
            choices = words.Value.Choices;
            condition = words.Value.Condition;
            zone = words.Value.Zone;
        }

        var filter = new ListQuotes.Filter(null, QuoteState.Sent, View.CustomerId, PageRequest.First);
        var sent = await listQuotes.RunAsync(filter, Actor, CancellationToken.None);
        others = sent.IsSuccess
            ?
            [
                .. sent
                    .Value.Items.Where(q => q.Id != View.Id)
                    .Select(q => new DecisionLinkPanel.OtherQuote(
                        q.Id.Value,
                        $"{q.Number}, {q.CarTitle}, {QuoteWords.Money(q.TotalMinor, q.Currency)}"
                    )),
            ]
            : [];
    }

    private async Task AcceptAsync()
    {
        var request = new AcceptQuote.Request(View.Id, acceptedBy, View.ContentHash);
        var outcome = await BusyAsync(() => accept.RunAsync(request, Here(), CancellationToken.None));
        nameError = outcome.Failure is Failure.Invalid invalid ? invalid.Sentence : null;
        await TakeAsync(outcome, "Accepted.");
    }

    private static IEnumerable<Choice<LostReason?>.Option> Reasons =>
        Enum.GetValues<LostReason>().Select(r => new Choice<LostReason?>.Option(r, LostReasons.Title(r)));

    private async Task DeclineAsync()
    {
        whyError = why is null ? "Choose why, so that the shop can learn from it." : null;
        if (why is not { } known)
        {
            return;
        }

        var request = new DeclineQuote.Request(View.Id, reason, LostReasons.Word(known));
        await TakeAsync(await BusyAsync(() => decline.RunAsync(request, Here(), CancellationToken.None)), "Recorded.");
    }

    private async Task CopyAsync() =>
        await TakeAsync(
            await BusyAsync(() =>
                copy.RunAsync(new CopyQuote.Request(View.Id), Envelope.Of(Actor), CancellationToken.None)
            ),
            "Copied: a new quote at today's prices."
        );

    private async Task ReviseAsync() =>
        await TakeAsync(
            await BusyAsync(() => revise.RunAsync(new ReviseQuote.Request(View.Id), Here(), CancellationToken.None)),
            "A new revision was begun."
        );

    private async Task OpenJobAsync()
    {
        // The second tap of a double click arrives before the button is drawn as disabled, or when the job is open already.
        if (isBusy || isOpened)
        {
            return;
        }

        var outcome = await BusyAsync(() =>
            openJob.RunAsync(new OpenJob.Request(View.Id.Value), Envelope.Of(Actor), CancellationToken.None)
        );
        if (outcome.TryGet(out var job, out var failure))
        {
            isOpened = true;
            navigation.NavigateTo($"jobs/{job.Id}");
        }
        else
        {
            snackbar.Add(failure.Sentence, Severity.Error);
        }
    }

    private Envelope Here() => Envelope.Of(Actor) with { IfMatch = View.Version };

    private async Task<T> BusyAsync<T>(Func<Task<T>> act)
    {
        isBusy = true;
        try
        {
            return await act();
        }
        finally
        {
            isBusy = false;
        }
    }

    private async Task TakeAsync(Outcome<QuoteView> outcome, string done)
    {
        if (outcome.TryGet(out var quote, out var failure))
        {
            snackbar.Add(done, Severity.Success);
            await Changed.InvokeAsync(quote);
        }
        else if (failure is not Failure.Invalid || nameError is null)
        {
            snackbar.Add(failure.Sentence, Severity.Error);
        }
    }

    private string Instant(DateTimeOffset? at) =>
        at is { } instant
            ? TimeZoneInfo.ConvertTime(instant, zone).ToString("d MMM yyyy HH:mm", CultureInfo.CurrentCulture)
            : "–";
}
