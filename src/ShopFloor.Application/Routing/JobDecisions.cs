using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>Operations of a job wait for stock or for work sent out.</summary>
public sealed class AwaitThing(JobChange change) : IUseCase
{
    /// <param name="Kind">stock or sentOut.</param>
    /// <param name="What">What is awaited.</param>
    /// <param name="Code">Of the gate of the route that it answers, if there is one.</param>
    /// <param name="From">Supplier, or where it was sent.</param>
    /// <param name="DueOn">The day it should be there.</param>
    /// <param name="Operations">Which operations wait, besides those with a gate of that code.</param>
    public sealed record Request(
        string? Kind,
        string? What,
        string? Code = null,
        string? From = null,
        DateOnly? DueOn = null,
        IReadOnlyList<string?>? Operations = null
    );

    public Task<Outcome<JobView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            id,
            new { id, request },
            envelope,
            async (scope, job) =>
            {
                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var errors = new FieldErrors();
                var what = TextRules.Required(request.What, "what", "What is awaited", TextRules.ShortText, errors);
                var code = TextRules.Optional(request.Code, "code", "The code", TextRules.Code, errors);
                var from = TextRules.Optional(request.From, "from", "From whom", TextRules.Name, errors);
                var operations = RouteInput.Codes(request.Operations, "operations", errors);
                AwaitedKind? kind = request.Kind switch
                {
                    "stock" => AwaitedKind.Stock,
                    "sentOut" => AwaitedKind.SentOut,
                    _ => null,
                };
                errors.AddIf(kind is null, "kind", "The kind is stock or sentOut.");
                errors.AddIf(
                    request.DueOn is { } day && (day < today.AddDays(-366) || day > today.AddDays(JobOpener.MostDays)),
                    "dueOn",
                    "The due day lies within the last year or the next five."
                );
                return errors.Any
                    ? errors.ToFailure()
                    : job.Await(
                            kind!.Value,
                            what,
                            code,
                            from,
                            request.DueOn,
                            operations,
                            Worker.Of(scope.Actor),
                            scope.Now
                        )
                        .Then<EventDraft>(thing => new EventDraft(
                            "job.awaiting",
                            "job",
                            job.Id.Value,
                            job.Id,
                            After: Facts(thing)
                        ));
            },
            ct
        );

    /// <summary>What the history keeps: no names of firms or people.</summary>
    internal static object Facts(AwaitedThing thing) =>
        new
        {
            thing.Number,
            kind = thing.Kind,
            thing.Code,
            thing.DueOn,
            operations = thing.Operations,
            state = thing.State,
        };
}

/// <summary>What was awaited is there, back, or no longer needed.</summary>
public sealed class EndWait(JobChange change) : IUseCase
{
    /// <param name="State">reserved, received, returned or dropped.</param>
    public sealed record Request(string? State);

    public Task<Outcome<JobView>> RunAsync(
        JobId id,
        int number,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            id,
            new
            {
                id,
                number,
                request,
            },
            envelope,
            (scope, job) =>
            {
                AwaitedState? state = request.State switch
                {
                    "reserved" => AwaitedState.Reserved,
                    "received" => AwaitedState.Received,
                    "returned" => AwaitedState.Returned,
                    "dropped" => AwaitedState.Dropped,
                    _ => null,
                };
                var outcome = state is { } wanted
                    ? job.EndWait(number, wanted, Worker.Of(scope.Actor), scope.Now)
                    : Failure.Field("state", "The state is reserved, received, returned or dropped.");
                return Task.FromResult(
                    outcome.Then<EventDraft>(thing => new EventDraft(
                        "job.waitEnded",
                        "job",
                        job.Id.Value,
                        job.Id,
                        AwaitThing.Facts(thing with { State = AwaitedState.Open }),
                        AwaitThing.Facts(thing)
                    ))
                );
            },
            ct
        );
}

/// <summary>The owner stops a job, or some of its operations.</summary>
public sealed class StopJobByOwner(JobChange change) : IUseCase
{
    /// <param name="Reason">Why; everybody reads it.</param>
    /// <param name="Operations">Only these; absent or empty for all.</param>
    public sealed record Request(string? Reason, IReadOnlyList<string?>? Operations = null);

    public Task<Outcome<JobView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.DecideOnRoutes,
            id,
            new { id, request },
            envelope,
            (scope, job) =>
            {
                var errors = new FieldErrors();
                var reason = TextRules.Required(request.Reason, "reason", "The reason", TextRules.ShortText, errors);
                var operations = RouteInput.Codes(request.Operations, "operations", errors);
                var outcome = errors.Any
                    ? errors.ToFailure()
                    : job.StopByOwner(RouteInput.Sentence(reason), operations, Worker.Of(scope.Actor), scope.Now);
                return Task.FromResult(
                    outcome.Then<EventDraft>(hold => new EventDraft(
                        "job.stoppedByOwner",
                        "job",
                        job.Id.Value,
                        job.Id,
                        After: new { hold.Number, operations = hold.Operations }
                    ))
                );
            },
            ct
        );
}

/// <summary>The owner lets a job go on.</summary>
public sealed class LiftOwnerHold(JobChange change) : IUseCase
{
    public Task<Outcome<JobView>> RunAsync(JobId id, int number, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.DecideOnRoutes,
            id,
            new { id, number },
            envelope,
            (scope, job) =>
                Task.FromResult(
                    job.LiftOwnerHold(number, Worker.Of(scope.Actor), scope.Now)
                        .Then<EventDraft>(hold => new EventDraft(
                            "job.ownerHoldLifted",
                            "job",
                            job.Id.Value,
                            job.Id,
                            new
                            {
                                hold.Number,
                                since = hold.Since,
                                operations = hold.Operations,
                            },
                            new { hold.Number, until = hold.Until }
                        ))
                ),
            ct
        );
}

/// <summary>Reading of what the route's calls have in common.</summary>
internal static class RouteInput
{
    /// <summary>A list of codes, each within its limit, without repeats.</summary>
    public static IReadOnlyList<string> Codes(IReadOnlyList<string?>? given, string path, FieldErrors errors)
    {
        if (given is { Count: > RouteTemplate.MostOperations })
        {
            errors.Add(path, $"At most {RouteTemplate.MostOperations} can be listed.");
            return [];
        }

        return
        [
            .. (given ?? [])
                .Select((c, i) => TextRules.Required(c, $"{path}[{i}]", "The code", TextRules.Code, errors))
                .Distinct(StringComparer.Ordinal),
        ];
    }

    /// <summary>With a full stop, where there is none.</summary>
    public static string Sentence(string text) => text.Length > 0 && text[^1] is '.' or '!' or '?' ? text : text + ".";
}
