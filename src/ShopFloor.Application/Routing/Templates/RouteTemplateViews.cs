using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>A route template in the list.</summary>
/// <param name="Edition">The edition in force; null where there is only a draft.</param>
/// <param name="DraftEdition">The edition that is being written; null where none is.</param>
/// <param name="OpenJobs">Open jobs built by any edition of it.</param>
public sealed record RouteTemplateRow(
    string Code,
    string Title,
    int? Edition,
    int Operations,
    IReadOnlyList<string> Kits,
    int? DraftEdition,
    int OpenJobs
);

/// <summary>One edition in the history of a template.</summary>
/// <param name="ByName">Who put it in force (or began the draft); null where the program did it.</param>
public sealed record RouteEditionRow(int Edition, string State, DateTimeOffset At, string? ByName, int Jobs);

/// <summary>An inspection line that belongs to an operation.</summary>
public sealed record TemplateLine(string Code, string Operation, string What, bool IsHold);

/// <summary>One edition whole.</summary>
/// <param name="Lines">Inspection lines of its kits.</param>
/// <param name="Order">One order that finishes everything; empty where the check found none.</param>
public sealed record RouteTemplateView(
    RouteTemplate Template,
    string State,
    DateTimeOffset At,
    string? ByName,
    IReadOnlyList<RouteEditionRow> Editions,
    IReadOnlyList<TemplateLine> Lines,
    IReadOnlyList<string> Order
);

/// <summary>The draft of a template.</summary>
/// <param name="Problems">What stands in the way of putting it in force.</param>
/// <param name="Changes">What differs from the edition it began from.</param>
/// <param name="Choices">What the editor offers.</param>
public sealed record RouteDraftView(
    long Version,
    int FromEdition,
    DateTimeOffset BegunAt,
    string? BegunByName,
    DateTimeOffset ChangedAt,
    string? ChangedByName,
    RouteTemplate Template,
    IReadOnlyList<FieldError> Problems,
    IReadOnlyList<RouteChange> Changes,
    IReadOnlyList<TemplateLine> Lines,
    RouteChoices Choices
);

/// <summary>Codes that a route may name: from the price book in force and the inspection plans.</summary>
public sealed record RouteChoices(
    IReadOnlyList<string> Skills,
    IReadOnlyList<string> Standards,
    IReadOnlyList<string> Kits
)
{
    /// <summary>What conditions may ask for.</summary>
    public IReadOnlyList<RouteChoice> Uses { get; init; } = [];

    public IReadOnlyList<RouteChoice> Hinges { get; init; } = [];

    public IReadOnlyList<RouteQuestion> Questions { get; init; } = [];

    /// <summary>Codes as people read them, for <see cref="RouteConditionWords"/>.</summary>
    public string TitleOf(string sort, string code) =>
        sort switch
        {
            "use" => Uses.FirstOrDefault(u => u.Code == code)?.Title,
            "hinge" => Hinges.FirstOrDefault(h => h.Code == code)?.Title,
            "question" => Questions.FirstOrDefault(q => q.Code == code)?.Title,
            _ => Questions
                .FirstOrDefault(q => sort == $"answer of {q.Code}")
                ?.Answers.FirstOrDefault(a => a.Code == code)
                ?.Title,
        } ?? code;
}

/// <summary>A code with its title.</summary>
public sealed record RouteChoice(string Code, string Title);

/// <summary>A question about the car's condition with its answers.</summary>
public sealed record RouteQuestion(string Code, string Title, IReadOnlyList<RouteChoice> Answers);

/// <summary>What a document would change in the draft.</summary>
public sealed record RouteImportPreview(
    long DraftVersion,
    IReadOnlyList<RouteChange> Changes,
    IReadOnlyList<FieldError> Problems
);
