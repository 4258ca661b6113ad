using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Application.Workbench;
using ShopFloor.Application.Workbench.Saved;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Workbench;

/// <summary>The form that saves a calculator's figures with a job.</summary>
public partial class BenchSave(SaveJobFigure save, ReadJobs read)
{
    private IReadOnlyList<JobListItem>? jobs;
    private JobView? job;
    private JobFigureView? done;
    private IReadOnlyList<FieldError> errors = [];
    private string jobId = "";
    private string operation = "";
    private string title = "";
    private string? note;
    private bool inPlace = true;
    private bool isOpen;
    private bool isBusy;
    private string key = NewKey();

    [Parameter, EditorRequired]
    public BenchSheet Sheet { get; set; } = default!;

    [Parameter, EditorRequired]
    public BenchValues Values { get; set; } = default!;

    /// <summary>What the answer calls itself.</summary>
    [Parameter, EditorRequired]
    public string Name { get; set; } = "";

    /// <summary>The figures that the page was opened from.</summary>
    [Parameter]
    public JobFigureView? Saved { get; set; }

    [Parameter]
    public Guid? Job { get; set; }

    [Parameter]
    public string? Operation { get; set; }

    [Parameter]
    public EventCallback<JobFigureView> OnSaved { get; set; }

    /// <summary>Steps of the chosen job; those that name this calculator first.</summary>
    private IEnumerable<OperationView> Steps =>
        job?.Operations.OrderBy(o => o.Figures?.Contains(Sheet.Code) == true ? 0 : 1)
        ?? Enumerable.Empty<OperationView>();

    private JobFigureView? Older => Saved is { IsInForce: true } && Saved.JobId.ToString() == jobId ? Saved : null;

    protected override Task<Failure?> LoadAsync() => Task.FromResult<Failure?>(null);

    private async Task OpenAsync()
    {
        var found = await read.ListAsync(new JobFilter(), new PageRequest(1, PageRequest.LargestSize), Actor, Closing);
        if (!Accepted(found, out var page))
        {
            return;
        }

        jobs = page.Items;
        (errors, isOpen, done) = ([], true, null);
        title = Saved?.Title ?? (Values["end"] is { Length: > 0 } end ? $"{Name}, {end}" : Name);
        note = Saved?.Note;
        await TakeJobAsync(Job?.ToString() ?? "");
        operation = job?.Operations.FirstOrDefault(o => o.Code == Operation)?.Code ?? WantedCode() ?? "";
    }

    private async Task ChooseAsync(ChangeEventArgs chosen)
    {
        await TakeJobAsync((string?)chosen.Value ?? "");
        operation = WantedCode() ?? "";
    }

    /// <summary>The first step that is not over and names this calculator.</summary>
    private string? WantedCode() =>
        job
            ?.Operations.FirstOrDefault(o =>
                o.FinishedAt is null && o.NotNeededReason is null && o.Figures?.Contains(Sheet.Code) == true
            )
            ?.Code;

    private async Task TakeJobAsync(string id)
    {
        (jobId, job) = (id, null);
        if (Guid.TryParse(id, out var wanted))
        {
            var found = await read.OneAsync(new JobId(wanted), Actor, Closing);
            job = found.IsSuccess ? found.Value : null;
            jobId = job is null ? "" : id;
        }
    }

    private async Task SaveAsync()
    {
        if (job is null)
        {
            errors = [new FieldError("job", "Choose the job that the figures are for.")];
            return;
        }

        isBusy = true;
        var request = new SaveJobFigure.Request(
            Sheet.Code,
            operation,
            title,
            note,
            Values.Unit == LengthUnit.Inch ? "in" : "mm",
            Values.Divisions,
            Values.ToDictionary().ToDictionary(v => v.Key, v => (string?)v.Value),
            inPlace ? Older?.Id.Value : null
        );
        var outcome = await save.RunAsync(job.Id, request, Envelope(key), Closing);
        // A refusal is remembered under its key: the next try is another one.
        key = NewKey();
        isBusy = false;
        if (outcome.TryGet(out var kept, out var failure))
        {
            (done, isOpen, errors) = (kept, false, []);
            await OnSaved.InvokeAsync(kept);
        }
        else
        {
            errors = failure is Failure.Invalid invalid ? invalid.Errors : [new FieldError("", failure.Sentence)];
        }
    }

    private void Close() => (isOpen, errors) = (false, []);

    private string? Error(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;
}
