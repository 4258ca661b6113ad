using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Domain.Routing;

/// <summary>When something applies to a job. Every part that is given must hold; within a part one match is enough; an empty condition always holds.</summary>
public sealed record RouteCondition
{
    public IReadOnlyList<string> Kits { get; init; } = [];

    public IReadOnlyList<string> Uses { get; init; } = [];

    /// <summary>True: some door has a bar. False: none has.</summary>
    public bool? Doors { get; init; }

    /// <summary>Some door has one of these hinge options.</summary>
    public IReadOnlyList<string> Hinges { get; init; } = [];

    /// <summary>Question code to the answers that match; each question must match.</summary>
    public IReadOnlyDictionary<string, IReadOnlyList<string>> Answers { get; init; } =
        new Dictionary<string, IReadOnlyList<string>>();

    public IReadOnlyList<Energy> Energy { get; init; } = [];

    public IReadOnlyList<Airbags> Airbags { get; init; } = [];

    public IReadOnlyList<TankPosition> Tank { get; init; } = [];

    public bool? RearSeatsUsed { get; init; }

    /// <summary>The customer brings a part of one of these codes.</summary>
    public IReadOnlyList<string> CustomerBrings { get; init; } = [];

    /// <summary>Does it hold for this job? The defaults answer the questions that the scope leaves out; the last argument has the codes of the parts the customer brings.</summary>
    public bool Holds(
        JobScope scope,
        IReadOnlyDictionary<string, string> defaults,
        IReadOnlyCollection<string> customerBrings
    ) =>
        Any(Kits, scope.KitCode ?? "")
        && Any(Uses, scope.UseCode)
        && (Doors is null || Doors == scope.Doors.Count > 0)
        && (Hinges.Count == 0 || scope.Doors.Any(d => Hinges.Contains(d.HingeOptionCode)))
        && Answers.All(a => AnswerOf(scope, defaults, a.Key) is { } answer && a.Value.Contains(answer))
        && Any(Energy, scope.Car.Energy)
        && Any(Airbags, scope.Car.Airbags)
        && Any(Tank, scope.Car.TankPosition)
        && (RearSeatsUsed is null || RearSeatsUsed == scope.Car.RearSeatsUsed)
        && (CustomerBrings.Count == 0 || CustomerBrings.Any(customerBrings.Contains));

    /// <summary>How many doors have a bar of the named hinge options (of any, where none is named).</summary>
    public static int DoorsMatching(RouteCondition? condition, JobScope scope) =>
        scope.Doors.Count(d =>
            condition is null || condition.Hinges.Count == 0 || condition.Hinges.Contains(d.HingeOptionCode)
        );

    private static string? AnswerOf(JobScope scope, IReadOnlyDictionary<string, string> defaults, string question) =>
        scope.Condition.TryGetValue(question, out var answer) ? answer : defaults.GetValueOrDefault(question);

    private static bool Any<T>(IReadOnlyList<T> wanted, T actual) => wanted.Count == 0 || wanted.Contains(actual);
}
