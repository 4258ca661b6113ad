using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.JSInterop;
using ShopFloor.Application.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.Workbench;

/// <summary>One calculator of the workbench: figures in, picture and figures out while typing. What was typed is kept in the person's browser.</summary>
public partial class BenchPage(OpenBench open, IJSRuntime script) : IAsyncDisposable
{
    private readonly Dictionary<string, string> typed = new(StringComparer.Ordinal);
    private IReadOnlyList<FieldError> errors = [];
    private IJSObjectReference? module;
    private BenchSheet? sheet;
    private BenchAnswer? answer;
    private LengthUnit unit;
    private string? shownCode;
    private string? recalledCode;
    private bool isTyped;
    private bool isKept;
    private string? copied;

    [Parameter]
    public string Code { get; set; } = "";

    /// <summary>Sentences about something that has no field of its own.</summary>
    private IEnumerable<string> Unplaced =>
        errors.Where(e => sheet!.Fields.All(f => f.Name != e.Path)).Select(e => e.Text);

    private string MemoryKey => $"bench/{Actor.Person}/{Code}";

    protected override async Task OnParametersSetAsync()
    {
        await base.OnParametersSetAsync();
        // The router keeps the page open from one calculator to the next.
        if (!IsLoading && Code != shownCode)
        {
            await ReloadAsync();
        }
    }

    protected override async Task<Failure?> LoadAsync()
    {
        shownCode = Code;
        (sheet, answer, copied, isTyped, isKept) = (Benches.Find(Code), null, null, false, false);
        if (sheet is null)
        {
            return Failure.Missing("calculator");
        }

        if (!(await open.RunAsync(Actor, Closing)).TryGet(out unit, out var failure))
        {
            return failure;
        }

        Fill(
            QueryHelpers
                .ParseQuery(Navigation.ToAbsoluteUri(Navigation.Uri).Query)
                .ToDictionary(q => q.Key, q => q.Value.ToString())
        );
        return null;
    }

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        await base.OnAfterRenderAsync(firstRender);
        if (IsLoading || sheet is null || recalledCode == Code)
        {
            return;
        }

        recalledCode = Code;
        module ??= await script.InvokeAsync<IJSObjectReference>("import", "./Features/Workbench/BenchPage.razor.js");
        if (isTyped)
        {
            // Somebody was faster than the script.
            await RememberAsync();
            StateHasChanged();
            return;
        }

        // A link's own figures go before those of the last time.
        if (Navigation.ToAbsoluteUri(Navigation.Uri).Query.Length > 0)
        {
            return;
        }

        if (await module.InvokeAsync<string?>("recall", MemoryKey) is { Length: > 0 and < 50_000 } kept)
        {
            Fill(QueryHelpers.ParseQuery(kept).ToDictionary(q => q.Key, q => q.Value.ToString()));
            StateHasChanged();
        }
    }

    private void Fill(Dictionary<string, string> given)
    {
        if (!BenchValues.Read(sheet!, unit, given.GetValueOrDefault).TryGet(out var values, out var failure))
        {
            errors = failure is Failure.Invalid invalid ? invalid.Errors : [];
            values = BenchValues.Read(sheet!, unit, _ => null).Value;
        }

        unit = values.Unit;
        typed.Clear();
        foreach (var (name, text) in values.ToDictionary())
        {
            typed[name] = text;
        }

        Work();
    }

    private void Work()
    {
        var outcome = sheet!.Answer(new BenchValues(unit, typed));
        if (outcome.TryGet(out var now, out var failure))
        {
            (answer, errors) = (now, []);
        }
        else
        {
            errors = failure is Failure.Invalid invalid ? invalid.Errors : [new FieldError("", failure.Sentence)];
        }
    }

    private async Task Type(BenchField field, string text)
    {
        typed[field.Name] = text.Length > BenchValues.LongestText ? text[..BenchValues.LongestText] : text;
        await KeepAsync();
    }

    private async Task Take(ChangeEventArgs chosen)
    {
        if (sheet!.Presets.FirstOrDefault(p => p.Name == (string?)chosen.Value) is { } preset)
        {
            foreach (var (name, text) in preset.Values)
            {
                typed[name] = text;
            }

            await KeepAsync();
        }
    }

    private async Task SwitchTo(LengthUnit wanted)
    {
        foreach (var field in sheet!.Fields)
        {
            typed[field.Name] = field.Kind switch
            {
                BenchFieldKind.Length => Converted(typed[field.Name], wanted),
                BenchFieldKind.Lines => string.Join(
                    '\n',
                    typed[field.Name]
                        .Split('\n')
                        .Select(l => string.Join("; ", l.Split(';').Select(t => Converted(t, wanted))))
                ),
                _ => typed[field.Name],
            };
        }

        unit = wanted;
        await KeepAsync();
    }

    /// <summary>The same length in the other unit; what is no length, or names its own unit, stays as it is.</summary>
    private string Converted(string text, LengthUnit wanted)
    {
        var hasUnit =
            text.AsSpan().Trim().EndsWith("mm")
            || text.AsSpan().Trim().EndsWith("in")
            || text.Contains('"', StringComparison.Ordinal);
        return !hasUnit && LengthText.TryReadMm(text, unit, out var millimetres)
            ? BenchValues.Written(millimetres, wanted)
            : text.Trim();
    }

    private async Task StartAgain()
    {
        Fill([]);
        await KeepAsync();
    }

    private async Task KeepAsync()
    {
        (copied, isTyped, isKept) = (null, true, false);
        Work();
        await RememberAsync();
    }

    private async Task RememberAsync()
    {
        if (module is not null)
        {
            await module.InvokeVoidAsync("keep", MemoryKey, new BenchValues(unit, typed).ToQuery());
            isKept = true;
        }
    }

    private string PaperHref(string file, string? size) =>
        $"workbench/{Code}/papers/{file}?{new BenchValues(unit, typed).ToQuery()}{(size is null ? "" : "&size=" + size)}";

    private async Task CopyAsync()
    {
        var link = Navigation.ToAbsoluteUri($"workbench/{Code}?{new BenchValues(unit, typed).ToQuery()}").ToString();
        copied =
            module is not null && await module.InvokeAsync<bool>("copy", link)
                ? "✓ The link is on the clipboard."
                : "This browser does not let a page copy. The link: " + link;
    }

    private async Task PrintAsync()
    {
        if (module is not null)
        {
            await module.InvokeVoidAsync("print");
        }
    }

    private string? Say(string name) => errors.FirstOrDefault(e => e.Path == name)?.Text;

    public async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        Dispose();
        await module.CloseAsync();
    }
}
