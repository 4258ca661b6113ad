using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Changes;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Features.Shared;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.Changes;

/// <summary>A change order from the empty form to the customer's answer.</summary>
public partial class ChangePage(
    ReadChanges read,
    ReadJobs readJobs,
    GetPriceBook getBook,
    GetDropOff getDropOff,
    ListPhotos listPhotos,
    DraftChange draft,
    EditChange edit,
    OfferChange offer
)
{
    private ChangeView? view;
    private ChangeView? theirs;
    private JobView? job;
    private Book? book;
    private ChangeForm? form;
    private ChangePrice? priced;
    private IReadOnlyList<PhotoView> photos = [];
    private IReadOnlyList<AssumedAnswer> questions = [];
    private IReadOnlyList<FieldError> errors = [];
    private string? refusal;
    private TypedFields? typed;
    private int asked;
    private string key = NewKey();
    private bool isDirty;
    private bool isSaving;
    private bool isTheirsNewer;

    [Parameter]
    public Guid? JobId { get; set; }

    [Parameter]
    public Guid? Id { get; set; }

    protected override Guid? Subject => Id;

    private string Heading => view is null ? "New change order" : $"Change order {view.Number}";

    private bool IsEditable =>
        (view?.State ?? ChangeState.Draft) == ChangeState.Draft
        && job!.State == JobState.Open
        && Actor.May(Permission.Quote);

    protected override void Restart()
    {
        (view, form, priced, theirs) = (null, null, null, null);
        (isDirty, isTheirsNewer) = (false, false);
    }

    protected override async Task<Failure?> LoadAsync()
    {
        if (Id is { } id)
        {
            var one = await read.OneAsync(new ChangeOrderId(id), Actor, Closing);
            if (!one.TryGet(out var change, out var missing))
            {
                return missing;
            }

            if (isDirty && view is not null && change.Version != view.Version)
            {
                // Never over what is being typed.
                theirs = change;
                isTheirsNewer = true;
                return null;
            }

            view = change;
        }

        return await LoadAroundAsync(view?.JobId ?? new JobId(JobId ?? Guid.Empty));
    }

    private async Task<Failure?> LoadAroundAsync(JobId id)
    {
        var loaded = await readJobs.OneAsync(id, Actor, Closing);
        if (!loaded.TryGet(out job, out var failure))
        {
            return failure;
        }

        if (!(await getBook.RunAsync(Actor, Closing)).TryGet(out book, out failure))
        {
            return failure;
        }

        var pictures = await listPhotos.RunAsync(id, null, null, Actor, Closing);
        photos = pictures.IsSuccess ? pictures.Value : [];
        var sheet = await getDropOff.RunAsync(id, Actor, Closing);
        questions = sheet.IsSuccess ? sheet.Value.Questions : [];
        if (form is null || !isDirty)
        {
            form = view is null ? ChangeForm.Of(book) : ChangeForm.Of(book, view);
            priced = view?.Price;
            errors = [];
        }

        return null;
    }

    protected override bool Concerns(ChangeNotice notice) =>
        notice.Subject == "changeOrder" && notice.SubjectId == view?.Id.Value;

    private void Take(ChangeView change)
    {
        view = change;
        form = ChangeForm.Of(book!, change);
        priced = change.Price;
        (errors, refusal, isDirty, isTheirsNewer) = ([], null, false, false);
    }

    private async Task RepriceAsync()
    {
        isDirty = true;
        // Every key prices anew; an answer that comes after a later question is not shown.
        var mine = ++asked;
        if (typed?.Problem is { } problem)
        {
            (errors, refusal, priced) = ([new FieldError("", problem)], null, null);
            return;
        }

        var outcome = await read.PreviewAsync(job!.Id, form!.ToRequest(), Actor, Closing);
        if (mine != asked)
        {
            return;
        }

        Hear(outcome.Failure);
        // A price that does not belong to what is on the screen would mislead.
        priced = outcome.IsSuccess ? outcome.Value.Price : null;
    }

    private void Hear(Failure? failure)
    {
        errors = failure is Failure.Invalid invalid ? invalid.Errors : [];
        refusal = failure is null or Failure.Invalid ? null : failure.Sentence;
    }

    private async Task<bool> SaveAsync()
    {
        if (typed!.Refuse())
        {
            return false;
        }

        isSaving = true;
        var request = form!.ToRequest();
        var outcome = view is { } known
            ? await edit.RunAsync(new EditChange.Request(known.Id, request), Envelope(version: known.Version), Closing)
            : await draft.RunAsync(new DraftChange.Request(job!.Id, request), Envelope(key), Closing);
        isSaving = false;
        key = NewKey();
        if (outcome.Failure is Failure.Invalid)
        {
            Hear(outcome.Failure);
            Snackbar.Add("Not saved yet: see the fields that are marked.", MudBlazor.Severity.Warning);
            return false;
        }

        if (outcome.Failure is Failure.Refused refused && refused.Reasons.Any(r => r.Code == "stale"))
        {
            var again = await read.OneAsync(view!.Id, Actor, Closing);
            theirs = again.IsSuccess ? again.Value : null;
            isTheirsNewer = theirs is not null;
            return false;
        }

        if (!Accepted(outcome, out var change, "Draft saved."))
        {
            return false;
        }

        var isNew = view is null;
        Take(change);
        if (isNew)
        {
            Navigation.NavigateTo($"change-orders/{change.Id}", replace: true);
        }

        return true;
    }

    private async Task OfferAsync()
    {
        if ((view is null || isDirty) && !await SaveAsync())
        {
            return;
        }

        isSaving = true;
        var outcome = await offer.RunAsync(view!.Id, Envelope(version: view.Version), Closing);
        isSaving = false;
        if (Accepted(outcome, out var change, "Offered: content and price are frozen, the work waits for the answer."))
        {
            Take(change);
        }
    }

    private void TakeTheirsAsync() => Take(theirs!);

    private async Task KeepMineAsync()
    {
        view = theirs;
        isTheirsNewer = false;
        await SaveAsync();
    }

    private string? Say(string path) =>
        errors
            .FirstOrDefault(e =>
                e.Path == path
                || e.Path.StartsWith(path + "[", StringComparison.Ordinal)
                || e.Path.StartsWith(path + ".", StringComparison.Ordinal)
            )
            ?.Text;
}
