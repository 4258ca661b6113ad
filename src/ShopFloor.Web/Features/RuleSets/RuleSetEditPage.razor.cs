using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Routing;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Features.RuleSets;

/// <summary>The owner's editor of one of the shop's own rule sets; saving makes a new version.</summary>
public partial class RuleSetEditPage(ReadRuleSets read, KeepRuleSets keep)
{
    private TypedFields? typed;
    private RuleSetView? set;
    private RuleSetEdit? edit;
    private FigureEdit? chosen;
    private IReadOnlyList<FieldError> problems = [];
    private (FigureEdit Figure, int At)? takenOut;
    private string? leaving;
    private bool isBusy;
    private bool isDirty;

    [Parameter]
    public string Code { get; set; } = "";

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.OneAsync(Code, null, Actor, Closing);
        if (outcome.TryGet(out var found, out var failure))
        {
            Show(found);
        }

        return failure;
    }

    private void Show(RuleSetView found)
    {
        (set, edit) = (found, new RuleSetEdit(found));
        chosen = edit.Figures.FirstOrDefault();
        (problems, takenOut, isDirty) = ([], null, false);
    }

    private void Touch() => isDirty = true;

    private void GiveUp() => Show(set!);

    private async Task SaveAsync()
    {
        if (typed?.Refuse() == true)
        {
            return;
        }

        isBusy = true;
        var outcome = await keep.SaveAsync(
            Code,
            new KeepRuleSets.SaveRequest(set!.Version, edit!.ToDocument()),
            Envelope(NewKey()),
            Closing
        );
        isBusy = false;
        if (outcome.TryGet(out var saved, out var failure))
        {
            isDirty = false;
            Snackbar.Add($"Saved as version {saved.Version}.", MudBlazor.Severity.Success);
            Navigation.NavigateTo($"rule-sets/{Code}");
            return;
        }

        problems = failure is Failure.Invalid invalid ? invalid.Errors : [new("", failure.Sentence)];
        // The first figure in the way is opened, so that its fields say what is wrong.
        chosen = problems.Select(FigureOf).FirstOrDefault(f => f is not null) ?? chosen;
    }

    private void Choose(FigureEdit figure)
    {
        // Another figure takes the place of this one's fields: what cannot be read in them would be lost.
        if (typed?.Refuse() != true)
        {
            chosen = figure;
        }
    }

    private void Add()
    {
        if (typed?.Refuse() == true)
        {
            return;
        }

        chosen = new FigureEdit();
        edit!.Figures.Add(chosen);
        Touch();
    }

    private void TakeOut()
    {
        var at = edit!.Figures.IndexOf(chosen!);
        takenOut = (chosen!, at);
        edit.Figures.RemoveAt(at);
        chosen = edit.Figures.ElementAtOrDefault(Math.Min(at, edit.Figures.Count - 1));
        // The sentences name figures by their place.
        problems = [];
        Touch();
    }

    private void PutBack()
    {
        if (takenOut is { } gone)
        {
            edit!.Figures.Insert(Math.Min(gone.At, edit.Figures.Count), gone.Figure);
            (chosen, takenOut) = (gone.Figure, null);
        }
    }

    private void MayLeave(LocationChangingContext context)
    {
        if (isDirty && leaving is null)
        {
            context.PreventNavigation();
            leaving = context.TargetLocation;
            StateHasChanged();
        }
    }

    private void Leave()
    {
        isDirty = false;
        Navigation.NavigateTo(leaving!);
    }

    private string? Say(string path) => problems.FirstOrDefault(p => p.Path == path)?.Text;

    private string? SayOfChosen(string field)
    {
        var path = PathOf(chosen!) + "." + field;
        return problems
            .FirstOrDefault(p =>
                p.Path == path || (field.EndsWith(']') && p.Path.StartsWith(path, StringComparison.Ordinal))
            )
            ?.Text;
    }

    private bool HasProblem(FigureEdit figure) =>
        problems.Any(p => p.Path.StartsWith(PathOf(figure) + ".", StringComparison.Ordinal));

    private FigureEdit? FigureOf(FieldError problem) =>
        edit!.Figures.FirstOrDefault(f => problem.Path.StartsWith(PathOf(f) + ".", StringComparison.Ordinal));

    private string PathOf(FigureEdit figure) =>
        string.Create(CultureInfo.InvariantCulture, $"figures[{edit!.Figures.IndexOf(figure)}]");

    private static string NameOf(FigureEdit figure) =>
        string.IsNullOrWhiteSpace(figure.What) ? "New figure" : figure.What;
}
