using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Routing;
using Microsoft.JSInterop;
using ShopFloor.Application.Inspection.Plans;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.InspectionPlans;

/// <summary>The editor of an inspection plan: lines with all that belongs to them, the check, and saving as the next version.</summary>
public partial class InspectionPlanEditPage(ReadInspectionPlans read, SaveInspectionPlan save, IJSRuntime script)
{
    private TypedFields? typed;
    private InspectionPlanCheck? check;
    private PlanEdit? edit;
    private LineEdit? chosen;
    private IReadOnlyList<FieldError> problems = [];
    private string note = "";
    private string key = NewKey();
    private bool isBusy;
    private bool isDirty;
    private bool isUnchecked;

    [Parameter]
    public string Code { get; set; } = "";

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.CheckAsync(Code, null, Actor, Closing);
        if (outcome.TryGet(out var found, out var failure))
        {
            check = found;
            problems = found.Problems;
            edit = new PlanEdit(found.Document);
            chosen = edit.Lines.FirstOrDefault();
        }

        return failure;
    }

    private void Touch() => (isDirty, isUnchecked, key) = (true, true, NewKey());

    private async Task CheckAsync()
    {
        if (typed?.Refuse() == true)
        {
            return;
        }

        isBusy = true;
        var outcome = await read.CheckAsync(Code, edit!.ToDocument(), Actor, Closing);
        isBusy = false;
        if (Accepted(outcome, out var found))
        {
            check = found with { FromVersion = check!.FromVersion };
            problems = found.Problems;
            isUnchecked = false;
        }
    }

    private async Task SaveAsync()
    {
        if (typed?.Refuse() == true)
        {
            return;
        }

        isBusy = true;
        var request = new SaveInspectionPlan.Request(check!.FromVersion, note, edit!.ToDocument());
        var outcome = await save.RunAsync(Code, request, Envelope(key), Closing);
        isBusy = false;
        if (Accepted(outcome, out var saved, "Saved: new jobs get it, running jobs keep theirs."))
        {
            isDirty = false;
            Navigation.NavigateTo(
                $"inspection-plans/{Code}?version={saved.Version.ToString(CultureInfo.InvariantCulture)}"
            );
            return;
        }

        key = NewKey();
        if (outcome.Failure is Failure.Invalid invalid)
        {
            (problems, isUnchecked) = (invalid.Errors, false);
        }
    }

    private void AddLine()
    {
        var at = chosen is null ? edit!.Lines.Count : edit!.Lines.IndexOf(chosen) + 1;
        chosen = LineEdit.New(
            edit.FreeCode(),
            chosen?.Operation ?? (check!.Choices.Operations is [{ } first, ..] ? first.Code : "")
        );
        edit.Lines.Insert(at, chosen);
        Shift();
    }

    private void Remove(LineEdit line)
    {
        var at = edit!.Lines.IndexOf(line);
        edit.Lines.RemoveAt(at);
        chosen = edit.Lines.Count == 0 ? null : edit.Lines[Math.Min(at, edit.Lines.Count - 1)];
        Shift();
    }

    private void Move((LineEdit Line, int By) step)
    {
        var at = edit!.Lines.IndexOf(step.Line);
        var to = at + step.By;
        if (to >= 0 && to < edit.Lines.Count)
        {
            edit.Lines.RemoveAt(at);
            edit.Lines.Insert(to, step.Line);
            Shift();
        }
    }

    /// <summary>Lines have other places now, so that what was found of them by place says nothing any more.</summary>
    private void Shift()
    {
        problems = [.. problems.Where(p => LineOf(p.Path) is null)];
        Touch();
    }

    private void SetKit(string kit, ChangeEventArgs changed)
    {
        _ = (bool)changed.Value! ? edit!.Kits.Add(kit) : edit!.Kits.Remove(kit);
        Touch();
    }

    private async Task AskAsync(LocationChangingContext leaving)
    {
        if (isDirty && !await script.InvokeAsync<bool>("confirm", "Leave without saving the changed plan?"))
        {
            leaving.PreventNavigation();
        }
    }

    private LineEdit? LineOf(string path) =>
        PlaceOfLine().Match(path) is { Success: true } found
        && int.Parse(found.Groups[1].ValueSpan, CultureInfo.InvariantCulture) is var index
        && index < edit!.Lines.Count
            ? edit.Lines[index]
            : null;

    private bool HasProblem(LineEdit line) => problems.Any(p => LineOf(p.Path) == line);

    /// <summary>What is wrong with a field of the chosen line; its entries in a list count as the list.</summary>
    private string? ProblemAt(string field) => ProblemOf($"lines[{edit!.Lines.IndexOf(chosen!)}].{field}");

    private string? ProblemOf(string path)
    {
        var found = problems
            .Where(p => p.Path == path || p.Path.StartsWith(path + "[", StringComparison.Ordinal))
            .Select(p => p.Text)
            .Distinct()
            .ToList();
        return found.Count == 0 ? null : string.Join(" ", found);
    }

    [GeneratedRegex(@"^lines\[(\d{1,4})\]")]
    private static partial Regex PlaceOfLine();
}
