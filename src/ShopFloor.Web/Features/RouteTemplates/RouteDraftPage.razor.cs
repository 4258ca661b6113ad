using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.RouteTemplates;

/// <summary>The editor of a route's draft: operations with all that belongs to them, ways, check, file; then in force.</summary>
public partial class RouteDraftPage(ReadRouteTemplates read, ChangeRouteTemplates change)
{
    private TypedFields? typed;
    private RouteDraftView? view;
    private RouteEdit? edit;
    private OperationEdit? chosen;
    private RouteImportPreview? preview;
    private string? file;
    private string? fileProblem;
    private int inputKey;
    private bool isBusy;
    private bool isDirty;

    [Parameter]
    public string Code { get; set; } = "";

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.DraftAsync(Code, Actor, Closing);
        if (outcome.TryGet(out var found, out var failure))
        {
            Show(found);
        }

        return failure;
    }

    private void Show(RouteDraftView found)
    {
        var code = chosen?.Code;
        view = found;
        edit = new RouteEdit(found.Template);
        chosen = edit.Operations.Find(o => o.Code == code) ?? edit.Operations.FirstOrDefault();
        (preview, file, fileProblem, isDirty) = (null, null, null, false);
        inputKey++;
    }

    private void Touch() => isDirty = true;

    private async Task SaveAsync()
    {
        if (typed?.Refuse() == true)
        {
            return;
        }

        isBusy = true;
        var outcome = await change.SaveAsync(Code, edit!.ToTemplate(), Envelope(NewKey(), view!.Version), Closing);
        isBusy = false;
        if (Accepted(outcome, out var saved, "Saved."))
        {
            Show(saved);
        }
    }

    private async Task AdoptAsync()
    {
        if (typed?.Refuse() == true)
        {
            return;
        }

        isBusy = true;
        var outcome = await change.PutInForceAsync(Code, Envelope(NewKey(), view!.Version), Closing);
        isBusy = false;
        if (Accepted(outcome, out var template, "In force: new jobs use it, running jobs keep theirs."))
        {
            Navigation.NavigateTo($"route-templates/{template.Code}");
        }
    }

    private async Task DiscardAsync()
    {
        isBusy = true;
        var outcome = await change.DiscardAsync(Code, Envelope(NewKey(), view!.Version), Closing);
        isBusy = false;
        if (Accepted(outcome, out _, "The draft is gone."))
        {
            Navigation.NavigateTo($"route-templates/{Code}");
        }
    }

    private bool HasProblem(OperationEdit operation)
    {
        var index = view!.Template.Operations.ToList().FindIndex(o => o.Code == operation.Code);
        return index >= 0
            && view.Problems.Any(p => p.Path.StartsWith($"operations[{index}]", StringComparison.Ordinal));
    }

    private void AddOperation()
    {
        var last = edit!.Operations.Select(o => int.TryParse(o.Code, out var n) ? n : 0).DefaultIfEmpty(0).Max();
        chosen = new OperationEdit(
            new RouteOperation
            {
                Code = (last + 10).ToString(System.Globalization.CultureInfo.InvariantCulture),
                Title = "",
                Phase = Phase.Intake,
                Skill = "",
                Place = "bay",
            }
        );
        edit.Operations.Add(chosen);
        Touch();
    }

    private void Remove(OperationEdit operation)
    {
        edit!.Operations.Remove(operation);
        chosen = edit.Operations.FirstOrDefault();
        Touch();
    }

    private void Move((OperationEdit Operation, int By) step)
    {
        var at = edit!.Operations.IndexOf(step.Operation);
        var to = at + step.By;
        if (to >= 0 && to < edit.Operations.Count)
        {
            edit.Operations.RemoveAt(at);
            edit.Operations.Insert(to, step.Operation);
            Touch();
        }
    }

    private void Set(HashSet<string> set, string code, ChangeEventArgs changed)
    {
        if ((bool)changed.Value!)
        {
            set.Add(code);
        }
        else
        {
            set.Remove(code);
        }

        Touch();
    }

    private async Task PreviewAsync(InputFileChangeEventArgs chosenFile)
    {
        (preview, file, fileProblem) = (null, null, null);
        if (chosenFile.File.Size > RouteTemplateJson.LongestDocument)
        {
            fileProblem = "The file is larger than 1 MB; nothing was taken in.";
            return;
        }

        isBusy = true;
        using var reader = new StreamReader(chosenFile.File.OpenReadStream(RouteTemplateJson.LongestDocument, Closing));
        file = await reader.ReadToEndAsync(Closing);
        var outcome = await read.PreviewAsync(Code, file, Actor, Closing);
        isBusy = false;
        preview = outcome.IsSuccess ? outcome.Value : null;
        fileProblem = outcome.Failure?.Sentence;
    }

    private async Task ImportAsync()
    {
        isBusy = true;
        var outcome = await change.ImportAsync(Code, file!, Envelope(NewKey(), preview!.DraftVersion), Closing);
        isBusy = false;
        if (Accepted(outcome, out var saved, "Taken into the draft."))
        {
            Show(saved);
        }
    }
}
