using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Web.Features.RouteTemplates;

/// <summary>The form of one condition of a route's draft.</summary>
public partial class ConditionEditor
{
    [Parameter, EditorRequired]
    public ConditionEdit When { get; set; } = default!;

    /// <summary>What the sentence begins with, e.g. "This operation".</summary>
    [Parameter, EditorRequired]
    public string About { get; set; } = "";

    /// <summary>Unique on the page.</summary>
    [Parameter, EditorRequired]
    public string Id { get; set; } = "";

    [Parameter, EditorRequired]
    public RouteEdit Route { get; set; } = default!;

    [Parameter, EditorRequired]
    public RouteChoices Choices { get; set; } = default!;

    [Parameter]
    public EventCallback OnChanged { get; set; }

    private string Words => RouteConditionWords.Of(When.ToCondition(), Choices.TitleOf);

    /// <summary>What a file or an older price book named and the book in force does not have.</summary>
    private IEnumerable<(string Part, string Code)> Unknown =>
        When
            .Uses.Where(u => Choices.Uses.All(c => c.Code != u))
            .Select(u => ("The use", u))
            .Concat(When.Hinges.Where(h => Choices.Hinges.All(c => c.Code != h)).Select(h => ("The hinge option", h)))
            .Concat(
                When.Answers.SelectMany(a =>
                    a.Value.Where(v =>
                            Choices.Questions.FirstOrDefault(q => q.Code == a.Key)?.Answers.Any(k => k.Code == v)
                            != true
                        )
                        .Select(v => ($"The answer to {a.Key}", v))
                )
            )
            .Concat(When.Kits.Where(k => !Route.Kits.Contains(k)).Select(k => ("The kit", k)));

    private Task Set<T>(HashSet<T> set, T code, ChangeEventArgs changed)
    {
        if ((bool)changed.Value!)
        {
            set.Add(code);
        }
        else
        {
            set.Remove(code);
        }

        return OnChanged.InvokeAsync();
    }

    private Task Forget(string code)
    {
        When.Uses.Remove(code);
        When.Hinges.Remove(code);
        When.Kits.Remove(code);
        foreach (var answers in When.Answers.Values)
        {
            answers.Remove(code);
        }

        return OnChanged.InvokeAsync();
    }

    private Task ClearAsync()
    {
        When.Clear();
        return OnChanged.InvokeAsync();
    }

    private static string Text(bool? choice) =>
        choice switch
        {
            true => "yes",
            false => "no",
            _ => "",
        };

    private static bool? Read(ChangeEventArgs changed) =>
        changed.Value switch
        {
            "yes" => true,
            "no" => false,
            _ => null,
        };
}
