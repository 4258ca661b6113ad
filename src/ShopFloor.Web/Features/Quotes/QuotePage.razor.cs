using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Features.Shared;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.Quotes;

/// <summary>A quote from the empty form to the frozen offer.</summary>
public partial class QuotePage(
    GetPriceBook getBook,
    GetQuote get,
    PreviewQuote preview,
    CreateQuote create,
    EditQuote edit,
    SendQuote send
)
{
    private Book? book;
    private CounterForm? form;
    private QuoteView? view;
    private PricedQuote? priced;

    /// <summary>What today's price book makes of a saved draft, where that differs.</summary>
    private PricedQuote? today;
    private IReadOnlyList<Alternative> alternatives = [];
    private IReadOnlyList<FieldError> errors = [];
    private TypedFields? typed;
    private int asked;
    private bool isHere;
    private long? was;
    private string key = NewKey();
    private bool isDirty;
    private bool isSaving;
    private FormMerge? merge;

    [Parameter]
    public Guid? Id { get; set; }

    /// <summary><c>returnVisit</c> where the page of an earlier job leads here; the other three say for whom.</summary>
    [SupplyParameterFromQuery(Name = "kind")]
    public string? Kind { get; set; }

    [SupplyParameterFromQuery(Name = "customer")]
    public Guid? CustomerId { get; set; }

    [SupplyParameterFromQuery(Name = "car")]
    public Guid? CarId { get; set; }

    [SupplyParameterFromQuery(Name = "returnOf")]
    public Guid? ReturnOf { get; set; }

    private string Heading =>
        view is null ? "New quote"
        : view.Revision == 1 ? $"Quote {view.Number}"
        : $"Quote {view.Number}, revision {view.Revision}";

    protected override Guid? Subject => Id;

    protected override void Restart()
    {
        // A quote saved for the first time goes on under its own address: what is on the screen is it.
        isHere = Id is not null && view?.Id.Value == Id;
        if (!isHere)
        {
            (form, view, priced, was, merge, isDirty, errors, alternatives) = (
                null,
                null,
                null,
                null,
                null,
                false,
                [],
                []
            );
        }
    }

    protected override async Task<Failure?> LoadAsync()
    {
        if (isHere)
        {
            isHere = false;
            return null;
        }

        var current = await getBook.RunAsync(Actor, Closing);
        if (!current.TryGet(out book, out var failure))
        {
            return failure;
        }

        if (Id is { } id)
        {
            var read = await get.RunAsync(new QuoteId(id), Actor, Closing);
            if (!read.TryGet(out var quote, out failure))
            {
                return failure;
            }

            if (form is not null && isDirty && quote.State == QuoteState.Draft)
            {
                // Never over what is being typed.
                await (view?.Version == quote.Version ? PriceAnewAsync() : BeginMergeAsync(quote));
                return null;
            }

            Take(quote);
            await LookAheadAsync();
        }
        else if (form is null)
        {
            form = CounterForm.Of(book);
            if (Kind == "returnVisit")
            {
                form.ComeBack(CustomerId, CarId, ReturnOf);
            }

            await PriceAsync();
        }
        else
        {
            await PriceAnewAsync();
        }

        return null;
    }

    /// <summary>The price book changed while the form is open: the person is told what the price was.</summary>
    private async Task PriceAnewAsync()
    {
        var before = priced?.TotalMinor;
        await PriceAsync();
        if (before is not null && priced is not null && priced.TotalMinor != before)
        {
            was = before;
        }
    }

    protected override bool Concerns(ChangeNotice notice) =>
        (notice.Subject == "quote" && notice.SubjectId == view?.Id.Value) || notice.Subject == "priceBook";

    private void Take(QuoteView quote)
    {
        view = quote;
        was = null;
        priced = quote.Priced;
        alternatives = [];
        form = CounterForm.Of(book!, quote);
        errors = [];
        isDirty = false;
        merge = null;
    }

    private Task ShowAsync(QuoteView quote)
    {
        if (quote.Id == view?.Id)
        {
            Take(quote);
        }
        else
        {
            Navigation.NavigateTo($"quotes/{quote.Id}");
        }

        return Task.CompletedTask;
    }

    private async Task RepriceAsync()
    {
        isDirty = true;
        today = null;
        await PriceAsync();
    }

    private async Task PriceAsync()
    {
        // Every key prices anew; an answer that comes after a later question is not shown.
        var mine = ++asked;
        if (typed?.Problem is { } problem)
        {
            (errors, priced, alternatives) = ([new FieldError("", problem)], null, []);
            return;
        }

        var outcome = await preview.RunAsync(form!.ToRequest(book!, isPreview: true), Actor, Closing);
        if (mine != asked)
        {
            return;
        }

        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        // A price that does not belong to the answers on the screen would mislead.
        priced = outcome.IsSuccess ? outcome.Value.Priced : null;
        alternatives = outcome.IsSuccess ? outcome.Value.Alternatives : [];
    }

    /// <summary>What would change a saved draft, and whether today's price book prices it otherwise.</summary>
    private async Task LookAheadAsync()
    {
        today = null;
        if (view is not { State: QuoteState.Draft } || !Actor.May(Permission.Quote))
        {
            return;
        }

        var outcome = await preview.RunAsync(form!.ToRequest(book!, isPreview: true), Actor, Closing);
        if (outcome.IsSuccess)
        {
            alternatives = outcome.Value.Alternatives;
            today = outcome.Value.Priced.TotalMinor == view.Priced.TotalMinor ? null : outcome.Value.Priced;
        }
        else if (outcome.Failure is Failure.Invalid invalid)
        {
            errors = invalid.Errors;
        }
    }

    private async Task<bool> SaveAsync()
    {
        if (typed!.Refuse())
        {
            return false;
        }

        isSaving = true;
        form!.Bench.RemoveAll(b => b.IsEmpty);
        form.Lines.RemoveAll(l => l.IsEmpty);
        var request = form.ToRequest(book!);
        var outcome = view is { } draft
            ? await edit.RunAsync(new EditQuote.Request(draft.Id, request), Envelope(version: draft.Version), Closing)
            : await create.RunAsync(request, Envelope(key), Closing);
        isSaving = false;
        if (outcome.Failure is Failure.Invalid invalid)
        {
            errors = invalid.Errors;
            key = NewKey();
            Snackbar.Add("Not saved yet: see the fields that are marked.", MudBlazor.Severity.Warning);
            return false;
        }

        if (outcome.Failure is Failure.Refused refused && refused.Reasons.Any(r => r.Code == "stale"))
        {
            await ReadTheirsAsync();
            return false;
        }

        if (!Accepted(outcome, out var quote, "Draft saved."))
        {
            return false;
        }

        var isNew = view is null;
        Take(quote);
        await LookAheadAsync();
        if (isNew)
        {
            Navigation.NavigateTo($"quotes/{quote.Id}", replace: true);
        }

        return true;
    }

    private async Task SendAsync()
    {
        var seen = priced?.TotalMinor;
        if ((view is null || isDirty) && !await SaveAsync())
        {
            return;
        }

        // What is frozen is what was on the screen when "Send" was pressed.
        if (seen is not null && seen != view!.Priced.TotalMinor)
        {
            was = seen;
            Snackbar.Add(
                "Saved, not sent: the price changed meanwhile. Look at it, then send.",
                MudBlazor.Severity.Warning,
                o => o.RequireInteraction = true
            );
            return;
        }

        isSaving = true;
        var outcome = await send.RunAsync(new SendQuote.Request(view!.Id), Envelope(version: view.Version), Closing);
        isSaving = false;
        if (Accepted(outcome, out var quote, "Sent: price and terms are frozen."))
        {
            Take(quote);
        }
    }

    private async Task ReadTheirsAsync()
    {
        var read = await get.RunAsync(view!.Id, Actor, Closing);
        if (Accepted(read, out var theirs))
        {
            await BeginMergeAsync(theirs);
        }
    }

    /// <summary>What only they changed goes into the form at once; what both changed is asked.</summary>
    private async Task BeginMergeAsync(QuoteView theirs)
    {
        if (theirs.State != QuoteState.Draft)
        {
            Snackbar.Add(
                "This quote was sent meanwhile and stays as it is. Copy it to a new quote to offer something else.",
                MudBlazor.Severity.Warning
            );
            Take(theirs);
            return;
        }

        var loaded = CounterForm.Of(book!, view!);
        merge = new FormMerge(book!, loaded, form!, CounterForm.Of(book!, theirs));
        view = theirs;
        await PriceAsync();
    }

    private async Task TakeTheirsAsync()
    {
        isDirty = false;
        merge = null;
        await ReloadAsync();
    }

    private async Task JoinAsync()
    {
        merge!.Apply();
        merge = null;
        await PriceAsync();
        await SaveAsync();
    }
}
