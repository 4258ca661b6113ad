using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.JSInterop;
using ShopFloor.Application.Common;
using ShopFloor.Application.Workbench;
using ShopFloor.Application.Workbench.Saved;
using ShopFloor.Application.Workbench.Sheets;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Workbench;

/// <summary>One calculator of the workbench: figures in, picture and figures out while typing. What was typed is remembered for the person; figures can be saved with a job and opened again.</summary>
public partial class BenchPage(OpenBench open, RememberBench remember, ReadJobFigures figures, IJSRuntime script)
    : IAsyncDisposable
{
    private readonly Dictionary<string, string> typed = new(StringComparer.Ordinal);
    private IReadOnlyList<FieldError> errors = [];
    private IJSObjectReference? module;
    private BenchStart? start;
    private BenchSheet? sheet;
    private BenchAnswer? answer;
    private JobFigureView? saved;
    private Guid? forJob;
    private string? forOperation;
    private LengthUnit unit;
    private int tape;
    private string? shown;
    private string? copied;
    private BenchWriter? writer;

    [Parameter]
    public string Code { get; set; } = "";

    /// <summary>Figures that were saved with a job, to begin from.</summary>
    [SupplyParameterFromQuery(Name = "figure")]
    public Guid? FigureId { get; set; }

    /// <summary>The job from whose page somebody came.</summary>
    [SupplyParameterFromQuery(Name = "job")]
    public Guid? JobOf { get; set; }

    [SupplyParameterFromQuery(Name = "operation")]
    public string? OperationOf { get; set; }

    private BenchValues Values => new(unit, typed, tape);

    /// <summary>Sentences about something that has no field of its own.</summary>
    private IEnumerable<string> Unplaced =>
        errors.Where(e => sheet!.Fields.All(f => f.Name != e.Path)).Select(e => e.Text);

    /// <summary>Whether the newest figures are remembered; read by people's browsers only to be tested.</summary>
    private bool IsKept => writer?.IsWritten ?? true;

    protected override async Task OnParametersSetAsync()
    {
        await base.OnParametersSetAsync();
        // The router keeps the page open from one calculator, or one set of figures, to the next.
        if (!IsLoading && shown != Shown())
        {
            await ReloadAsync();
        }
    }

    protected override async Task<Failure?> LoadAsync()
    {
        shown = Shown();
        (sheet, answer, copied, saved) = (Benches.Find(Code), null, null, null);
        (forJob, forOperation) = (JobOf, OperationOf);
        if (sheet is null)
        {
            return Failure.Missing("calculator");
        }

        if (!(await open.RunAsync(Code, Actor, Closing)).TryGet(out start, out var failure))
        {
            return failure;
        }

        writer = new BenchWriter((values, ct) => remember.RunAsync(sheet, values, Envelope(), ct), Closing);
        (unit, tape) = (start.Unit, BenchLengths.Tapes[0]);
        if (FigureId is { } id)
        {
            if (!(await figures.OneAsync(new JobFigureId(id), Actor, Closing)).TryGet(out saved, out failure))
            {
                return failure;
            }

            if (saved.Calculator != Code)
            {
                return Failure.Missing("figures of this calculator");
            }

            (forJob, forOperation) = (saved.JobId.Value, saved.Operation);
        }

        Fill(Given());
        return null;
    }

    private string Shown() => $"{Code} {FigureId} {JobOf} {OperationOf}";

    /// <summary>Saved figures, else a link's own, else those of the last time, else fresh ones.</summary>
    private Dictionary<string, string> Given()
    {
        if (saved is not null)
        {
            return new Dictionary<string, string>(saved.Inputs, StringComparer.Ordinal)
            {
                [BenchValues.UnitName] = saved.Unit,
                [BenchValues.TapeName] = saved.TapeDivisions.ToString(
                    System.Globalization.CultureInfo.InvariantCulture
                ),
            };
        }

        var query = Parsed(Navigation.ToAbsoluteUri(Navigation.Uri).Query);
        var isOwn = query.Keys.Any(k =>
            k is BenchValues.UnitName or BenchValues.TapeName || sheet!.Fields.Any(f => f.Name == k)
        );
        return isOwn || start!.Typed is not { } last ? query : Parsed(last);
    }

    private static Dictionary<string, string> Parsed(string query) =>
        QueryHelpers.ParseQuery(query).ToDictionary(q => q.Key, q => q.Value.ToString());

    private void Fill(Dictionary<string, string> given)
    {
        if (!BenchValues.Read(sheet!, start!.Unit, given.GetValueOrDefault).TryGet(out var values, out var failure))
        {
            errors = failure is Failure.Invalid invalid ? invalid.Errors : [];
            values = BenchValues.Read(sheet!, start.Unit, _ => null).Value;
        }

        (unit, tape) = (values.Unit, values.Divisions);
        typed.Clear();
        foreach (var (name, text) in values.ToDictionary())
        {
            typed[name] = text;
        }

        Work();
    }

    private void Work()
    {
        if (sheet!.Answer(Values).TryGet(out var now, out var failure))
        {
            (answer, errors) = (now, []);
        }
        else
        {
            errors = failure is Failure.Invalid invalid ? invalid.Errors : [new FieldError("", failure.Sentence)];
        }
    }

    private Task Type(BenchField field, string text)
    {
        typed[field.Name] = text.Length > BenchValues.LongestText ? text[..BenchValues.LongestText] : text;
        return KeepAsync();
    }

    private Task Take(ChangeEventArgs chosen) =>
        TakeAsync(sheet!.Presets.FirstOrDefault(p => p.Name == (string?)chosen.Value));

    private Task TakeDie(ChangeEventArgs chosen) =>
        TakeAsync(
            start!.Dies.FirstOrDefault(d => d.Name == (string?)chosen.Value) is { } die
                ? BenchBender.Of(die, sheet!)
                : null
        );

    private async Task TakeAsync(BenchPreset? preset)
    {
        if (preset is null)
        {
            return;
        }

        foreach (var (name, text) in preset.Values)
        {
            typed[name] = text;
        }

        await KeepAsync();
    }

    private Task SwitchTo(LengthUnit wanted)
    {
        foreach (var field in sheet!.Fields)
        {
            typed[field.Name] = BenchValues.Rewritten(field, typed[field.Name], unit, wanted);
        }

        unit = wanted;
        return KeepAsync();
    }

    private Task ReadTo(int parts)
    {
        tape = parts;
        return KeepAsync();
    }

    private Task StartAgain()
    {
        Fill([]);
        return KeepAsync();
    }

    private async Task KeepAsync()
    {
        copied = null;
        Work();
        if (writer is not null)
        {
            // A copy: the next stroke changes the fields while this one is being written.
            await writer.WriteAsync(
                new BenchValues(unit, new Dictionary<string, string>(typed, StringComparer.Ordinal), tape)
            );
        }
    }

    private void TakeSaved(JobFigureView figure) =>
        (saved, forJob, forOperation) = (figure, figure.JobId.Value, figure.Operation);

    /// <summary>The address of a paper: of saved figures as long as nothing was changed since, so that job and car stand on it.</summary>
    private string PaperHref(string file, string? size)
    {
        var sheetOf = size is null ? "" : "size=" + size;
        return saved is { IsInForce: true } && IsAsSaved
            ? $"figures/{saved.Id}/papers/{file}?{sheetOf}"
            : $"workbench/{Code}/papers/{file}?{Values.ToQuery()}&{sheetOf}".TrimEnd('&');
    }

    private bool IsAsSaved =>
        saved is not null
        && saved.Unit == (unit == LengthUnit.Inch ? "in" : "mm")
        && saved.TapeDivisions == tape
        && typed.All(t => saved.Inputs.GetValueOrDefault(t.Key, "") == t.Value);

    private async Task<IJSObjectReference> ModuleAsync() =>
        module ??= await script.InvokeAsync<IJSObjectReference>("import", "./Features/Workbench/BenchPage.razor.js");

    private async Task CopyAsync()
    {
        var link = Navigation.ToAbsoluteUri($"workbench/{Code}?{Values.ToQuery()}").ToString();
        copied = await (await ModuleAsync()).InvokeAsync<bool>("copy", link)
            ? "✓ The link is on the clipboard."
            : "This browser does not let a page copy. The link: " + link;
    }

    private async Task PrintAsync() => await (await ModuleAsync()).InvokeVoidAsync("print");

    /// <summary>What a search found is kept beside the figures, and goes with them wherever they go.</summary>
    private Task TakeFound(string found)
    {
        typed[NestSheet.FoundName] = found;
        return KeepAsync();
    }

    private bool IsShown(BenchField field) =>
        field.IsShown && (field.When is not { } when || when.Words.Contains(typed[when.Field]));

    private string? Say(string name) => errors.FirstOrDefault(e => e.Path == name)?.Text;

    public async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        Dispose();
        await module.CloseAsync();
    }
}
