using System.Text.Json.Serialization;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Jobs;

/// <summary>The build-sequence check as a calculator: nothing is stored.</summary>
public sealed class SequenceCheckEndpoints : IApiEndpoints
{
    public sealed record Request(
        [property: AtMost(SequencePlan.MostWays)] IReadOnlyList<string?>? Ways = null,
        [property: AtMost(SequencePlan.MostOperations)] IReadOnlyList<OperationBody?>? Operations = null,
        [property: AtMost(SequencePlan.MostOperations)] IReadOnlyList<string?>? Done = null
    );

    public sealed record OperationBody(
        string? Id = null,
        IReadOnlyList<string?>? After = null,
        IReadOnlyList<string?>? NeedsOpen = null,
        IReadOnlyList<string?>? Closes = null,
        IReadOnlyList<string?>? Opens = null
    );

    /// <summary>Of the four, exactly one says more than "not known": an order, a dead end or a cycle.</summary>
    public sealed record Answer(
        bool? CanFinish,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<string>? Order,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] DeadEnd? DeadEnd,
        [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<string>? Cycle
    );

    public static void Map(RouteGroupBuilder api) =>
        api.MapPost("/calculators/sequence-check", Run)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Can the remaining operations still all be done, and in which order?")
            .Produces<Answer>();

    private static IResult Run(ApiCall call, Body<Request> body)
    {
        var errors = new FieldErrors();
        var plan = Read(body.Value, errors);
        if (errors.Any)
        {
            return errors.ToFailure().ToProblem();
        }

        var problems = plan.Problems();
        if (problems.Count > 0)
        {
            return ((Failure)new Failure.Invalid(problems)).ToProblem();
        }

        var result = SequenceCheck.Run(plan, cancellation: call.Cancellation);
        return Results.Ok(
            new Answer(
                result.CanFinish,
                result.CanFinish == true ? result.Order : null,
                result.DeadEnd,
                result.Cycle.Count > 0 ? result.Cycle : null
            )
        );
    }

    private static SequencePlan Read(Request request, FieldErrors errors)
    {
        errors.AddIf(
            request.Ways is null,
            "ways",
            "Name the ways that are open at the start; an empty list means none."
        );
        errors.AddIf(request.Operations is null, "operations", "Name the operations; an empty list means none.");
        var operations = request.Operations ?? [];
        errors.AddIf(
            operations.Count > SequencePlan.MostOperations,
            "operations",
            $"There are {operations.Count} operations; at most {SequencePlan.MostOperations} are checked."
        );
        if (errors.Any)
        {
            return new SequencePlan([], [], []);
        }

        var read = new List<SequenceOperation>();
        for (var i = 0; i < operations.Count; i++)
        {
            var path = $"operations[{i}]";
            if (operations[i] is not { } operation)
            {
                errors.Add(path, "An operation is an object with an id.");
                continue;
            }

            read.Add(
                new SequenceOperation(
                    Name(operation.Id, path + ".id", errors),
                    Names(operation.After, path + ".after", errors),
                    Names(operation.NeedsOpen, path + ".needsOpen", errors),
                    Names(operation.Closes, path + ".closes", errors),
                    Names(operation.Opens, path + ".opens", errors)
                )
            );
        }

        return new SequencePlan(Names(request.Ways, "ways", errors), read, Names(request.Done, "done", errors));
    }

    private static List<string> Names(IReadOnlyList<string?>? names, string path, FieldErrors errors)
    {
        if (names is { Count: > 1000 })
        {
            errors.Add(path, $"There are {names.Count} names; at most 1,000 are read.");
            return [];
        }

        return [.. (names ?? []).Select((n, i) => Name(n, $"{path}[{i}]", errors))];
    }

    /// <summary>Names are compared as they are; only their length is limited.</summary>
    private static string Name(string? name, string path, FieldErrors errors)
    {
        errors.AddIf(
            name is not { Length: > 0 and <= TextRules.ShortText },
            path,
            $"A name has 1 to {TextRules.ShortText} characters."
        );
        return name ?? "";
    }
}
