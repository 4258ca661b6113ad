using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Web.Features.Jobs;

/// <summary>The office's changes of one job, each a short form.</summary>
public partial class JobChangePanel(
    MovePromiseDate movePromise,
    RecordIsolation recordIsolation,
    CancelJob cancel,
    GetQuote getQuote
)
{
    private readonly HashSet<string> used = new(StringComparer.Ordinal);
    private string key = NewKey();
    private IReadOnlyList<FieldError> errors = [];
    private IReadOnlyList<PricedLine> lines = [];
    private DateOnly? promisedOn;
    private bool tellsReason;
    private string? reason;
    private string? qualifiedPerson;
    private string? reference;
    private bool isSaving;

    [Parameter, EditorRequired]
    public JobView Job { get; set; } = default!;

    [Parameter, EditorRequired]
    public JobPage.Panel Kind { get; set; }

    [Parameter]
    public EventCallback OnClosed { get; set; }

    [Parameter]
    public EventCallback<JobView> OnChanged { get; set; }

    protected override async Task<Failure?> LoadAsync()
    {
        promisedOn = Job.PromisedOn;
        if (Kind == JobPage.Panel.Cancel && Actor.May(Permission.SeeMoney))
        {
            var quote = await getQuote.RunAsync(Job.QuoteId, Actor, Closing);
            lines = quote.IsSuccess ? [.. quote.Value.Priced.Lines.Where(l => l.Group != LineGroup.Labour)] : [];
        }

        return null;
    }

    private async Task SaveAsync()
    {
        isSaving = true;
        var envelope = Envelope(key, Job.Version);
        var outcome = Kind switch
        {
            JobPage.Panel.Promise => await movePromise.RunAsync(
                Job.Id,
                new MovePromiseDate.Request(promisedOn, reason, tellsReason),
                envelope,
                Closing
            ),
            JobPage.Panel.Isolation => await recordIsolation.RunAsync(
                Job.Id,
                new RecordIsolation.Request(qualifiedPerson, reference),
                envelope,
                Closing
            ),
            _ => await cancel.RunAsync(Job.Id, new CancelJob.Request(reason, [.. used]), envelope, Closing),
        };
        isSaving = false;

        // A refused form is a new command once it was corrected.
        key = NewKey();
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (errors.Count == 0 && Accepted(outcome, out var job, "Saved."))
        {
            await OnChanged.InvokeAsync(job);
        }
    }

    private void Use(string code, bool isUsed)
    {
        if (isUsed)
        {
            used.Add(code);
        }
        else
        {
            used.Remove(code);
        }
    }

    private string? Say(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;
}
