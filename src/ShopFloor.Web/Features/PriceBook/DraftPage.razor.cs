using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Routing;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>The working copy of the price book: its parts are changed here, saved, adopted or discarded.</summary>
public partial class DraftPage(
    GetPriceBookDraft get,
    BeginPriceBookDraft begin,
    SavePriceBookDraft save,
    AdoptPriceBookDraft adopt,
    DiscardPriceBookDraft discard,
    ReadEditions read
)
{
    private DraftView? draft;
    private BookEdit? edit;

    /// <summary>What somebody else saved while something was typed here.</summary>
    private DraftView? theirs;
    private IReadOnlyList<BookChange> mine = [];
    private IReadOnlyList<EditionRow> planned = [];
    private DateOnly today;
    private string? saveProblem;
    private string? dayProblem;
    private string? leaveTo;
    private bool isLeaving;
    private bool isBusy;

    [Parameter]
    public string? Section { get; set; }

    private BookSection? Current => Section is null ? null : BookSections.Find(Section);

    protected override async Task<Failure?> LoadAsync()
    {
        var editions = await read.ListAsync(PageRequest.First, Actor, Closing);
        if (editions.IsSuccess)
        {
            planned = [.. editions.Value.Editions.Where(e => e.State == EditionState.Planned)];
            today = editions.Value.Today;
        }

        var outcome = await get.RunAsync(Actor, Closing);
        if (outcome.IsSuccess)
        {
            Take(outcome.Value);
            return null;
        }

        // Somebody else adopted or discarded it: what is typed here stays to be read.
        if (edit?.IsDirty == true && outcome.Failure is Failure.NotFound)
        {
            saveProblem = "The draft was adopted or discarded meanwhile. What you typed can no longer be saved to it.";
            return null;
        }

        (draft, edit) = (null, null);
        return outcome.Failure is Failure.NotFound ? editions.Failure : outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject == "priceBook" && !isBusy;

    /// <summary>Shows what is stored, but never over something that was typed.</summary>
    private void Take(DraftView stored)
    {
        if (edit is null || !edit.IsDirty)
        {
            if (draft?.Version != stored.Version)
            {
                edit = new BookEdit(stored.Book, StateHasChanged);
            }

            draft = stored;
            theirs = null;
        }
        else if (draft!.Version != stored.Version)
        {
            theirs = stored;
            mine = edit.Book is { } book ? PriceBookComparison.Between(stored.Book, book).Changes : [];
        }
    }

    private async Task BeginAsync()
    {
        isBusy = true;
        var outcome = await begin.RunAsync(new BeginPriceBookDraft.Request(null), Envelope(NewKey()), Closing);
        isBusy = false;
        if (Accepted(outcome, out var begun))
        {
            Take(begun);
        }
        else
        {
            await ReloadAsync();
        }
    }

    private async Task SaveAsync(long version)
    {
        saveProblem = null;
        if (edit!.Book is not { } book)
        {
            saveProblem = "Not saved: mend what is marked with ✕ first. Everything you typed is still here.";
            return;
        }

        isBusy = true;
        var outcome = await save.RunAsync(new SavePriceBookDraft.Request(book), Envelope(NewKey(), version), Closing);
        isBusy = false;
        if (outcome.TryGet(out var saved, out var failure))
        {
            // The fields stay as they are, so that nobody loses the place in which they type.
            edit.Saved();
            (draft, theirs) = (saved, null);
        }
        else if (failure is Failure.Refused)
        {
            await ReloadAsync();
            saveProblem = theirs is null ? failure.Sentence : null;
        }
        else
        {
            saveProblem = failure.Sentence;
        }
    }

    private void TakeTheirs()
    {
        edit!.Saved();
        Take(theirs!);
    }

    private async Task AdoptAsync(DateOnly? from)
    {
        dayProblem = null;
        isBusy = true;
        var outcome = await adopt.RunAsync(
            new AdoptPriceBookDraft.Request(from),
            Envelope(NewKey(), draft!.Version),
            Closing
        );
        isBusy = false;
        if (outcome.TryGet(out var adopted, out var failure))
        {
            Snackbar.Add(
                $"Edition {adopted.Edition} is adopted, in force from {adopted.EffectiveFrom:d MMM yyyy}.",
                MudBlazor.Severity.Success
            );
            Navigation.NavigateTo("price-book/editions");
        }
        else
        {
            dayProblem = failure.Sentence;
            await ReloadAsync();
        }
    }

    private async Task DiscardAsync()
    {
        isBusy = true;
        var outcome = await discard.RunAsync(Envelope(NewKey(), draft!.Version), Closing);
        isBusy = false;
        if (Accepted(outcome, out _, "The draft is discarded."))
        {
            edit!.Saved();
            Navigation.NavigateTo("price-book");
        }
        else
        {
            await ReloadAsync();
        }
    }

    /// <summary>Between the parts of the draft one goes freely; leaving them with something typed is asked about.</summary>
    private void MayLeave(LocationChangingContext context)
    {
        var path = Navigation.ToBaseRelativePath(Navigation.ToAbsoluteUri(context.TargetLocation).ToString());
        if (edit?.IsDirty != true || isLeaving || path.StartsWith("price-book/draft", StringComparison.Ordinal))
        {
            return;
        }

        context.PreventNavigation();
        leaveTo = context.TargetLocation;
        StateHasChanged();
    }

    private void Leave()
    {
        isLeaving = true;
        Navigation.NavigateTo(leaveTo!);
    }
}
