using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Routing;

/// <summary>Somebody is present at an operation that asks for a qualified or a second person.</summary>
public sealed class RecordPresence(JobChange change) : IUseCase
{
    /// <param name="Kind">qualifiedPerson or secondPerson.</param>
    /// <param name="Name">The qualified person; a second person is the one who is signed in.</param>
    /// <param name="Reference">The qualified person's certificate.</param>
    public sealed record Request(string? Kind, string? Name = null, string? Reference = null);

    public Task<Outcome<JobView>> RunAsync(
        JobId id,
        string code,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            Permission.OrderRework,
            id,
            new
            {
                id,
                code,
                request,
            },
            envelope,
            (scope, job) =>
            {
                var errors = new FieldErrors();
                GateKind? kind = request.Kind switch
                {
                    "qualifiedPerson" => GateKind.QualifiedPerson,
                    "secondPerson" => GateKind.SecondPerson,
                    _ => null,
                };
                errors.AddIf(kind is null, "kind", "The kind is qualifiedPerson or secondPerson.");
                var name = TextRules.Optional(request.Name, "name", "The name", TextRules.Name, errors);
                var reference = TextRules.Optional(
                    request.Reference,
                    "reference",
                    "The reference",
                    TextRules.ShortText,
                    errors
                );
                var earlier = job.Presences.LastOrDefault(p => p.Operation == code && p.Kind == kind);
                var outcome = errors.Any
                    ? errors.ToFailure()
                    : job.RecordPresence(
                        code,
                        kind!.Value,
                        Worker.Of(scope.Actor),
                        kind == GateKind.SecondPerson ? null : name,
                        reference,
                        scope.Now
                    );
                return Task.FromResult(
                    outcome.Then<EventDraft>(operation => new EventDraft(
                        "operation.personPresent",
                        "operation",
                        operation.Id.Value,
                        job.Id,
                        earlier is null ? null : new { earlier.Kind, at = earlier.At },
                        new
                        {
                            code,
                            kind,
                            at = scope.Now,
                        }
                    ))
                );
            },
            ct
        );
}

/// <summary>The owner lets an operation go on although the build-sequence check refuses it.</summary>
public sealed class OverrideSequence(OperationChange change) : IUseCase
{
    public sealed record Request(string? Reason);

    public Task<Outcome<OperationChanged>> RunAsync(
        JobId job,
        string code,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        change.RunAsync(
            Permission.DecideOnRoutes,
            job,
            code,
            new
            {
                job,
                code,
                request,
            },
            envelope,
            "operation.sequenceOverridden",
            a =>
            {
                var errors = new FieldErrors();
                var reason = TextRules.Required(request.Reason, "reason", "The reason", TextRules.ShortText, errors);
                return errors.Any ? errors.ToFailure() : a.Job.OverrideSequence(code, reason, a.Tap.Worker, a.Facts);
            },
            null,
            ct
        );
}

/// <summary>Puts rework on a job's route: an operation of its own that mends another.</summary>
public sealed class AddRework(JobChange change) : IUseCase
{
    /// <param name="Operation">Code of the operation that is mended.</param>
    /// <param name="Title">What is done.</param>
    /// <param name="Reason">Why; it becomes part of the instruction.</param>
    /// <param name="Code">Its number; absent for the next free one after the mended operation's.</param>
    /// <param name="Skill">Absent for the mended operation's.</param>
    /// <param name="Place">Absent for the mended operation's.</param>
    /// <param name="HotWork">Absent for the mended operation's.</param>
    /// <param name="PaintOrSolvent">Absent for the mended operation's: touching up paint again fumes as it did the first time.</param>
    /// <param name="NeedsOpen">Ways it needs; absent for the mended operation's.</param>
    /// <param name="Closes">Ways it closes; absent for none.</param>
    /// <param name="Opens">Ways it opens; absent for none.</param>
    /// <param name="After">What must be done before, besides the mended operation.</param>
    /// <param name="Before">What waits for it; absent for what comes straight after the mended operation and has not begun.</param>
    public sealed record Request(
        string? Operation,
        string? Title,
        string? Reason,
        string? Code = null,
        string? Skill = null,
        string? Place = null,
        bool? HotWork = null,
        IReadOnlyList<string?>? NeedsOpen = null,
        IReadOnlyList<string?>? Closes = null,
        IReadOnlyList<string?>? Opens = null,
        IReadOnlyList<string?>? After = null,
        IReadOnlyList<string?>? Before = null,
        bool? PaintOrSolvent = null
    );

    public Task<Outcome<JobView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        change.RunAsync(
            Permission.OrderRework,
            id,
            new { id, request },
            envelope,
            (scope, job) => Task.FromResult(Put(scope, job, request).Then<EventDraft>(put => put.Event)),
            ct
        );

    /// <summary>Within a command that has loaded the job: the new operation, and the event to record with it.</summary>
    internal static Outcome<(Operation Operation, EventDraft Event)> Put(CommandScope scope, Job job, Request request)
    {
        var errors = new FieldErrors();
        var mends = TextRules.Required(
            request.Operation,
            "operation",
            "The operation that is mended",
            TextRules.Code,
            errors
        );
        var mended = job.Operation(mends);
        errors.AddIf(mended is null && mends.Length > 0, "operation", $"There is no operation {mends} on this job.");
        var route = Read(request, mended?.Route, errors);
        var before = request.Before is null ? null : RouteInput.Codes(request.Before, "before", errors);
        var outcome = errors.Any ? errors.ToFailure() : job.AddRework(mends, route, before, scope.NewId<OperationId>);
        return outcome.Then<(Operation, EventDraft)>(operation =>
        {
            scope.Db.Add(operation);
            return (
                operation,
                new EventDraft(
                    "operation.reworkAdded",
                    "operation",
                    operation.Id.Value,
                    job.Id,
                    After: new
                    {
                        operation.Code,
                        mends,
                        operation.Route.NeedsOpen,
                        operation.Route.Closes,
                        operation.Route.Opens,
                        operation.Route.After,
                    }
                )
            );
        });
    }

    private static RouteOperation Read(Request request, RouteOperation? mended, FieldErrors errors)
    {
        var reason = TextRules.Required(request.Reason, "reason", "The reason", TextRules.ShortText, errors);
        var hot = request.HotWork ?? mended?.HotWork ?? false;
        var place = TextRules.Optional(request.Place, "place", "The place", TextRules.Code, errors);
        errors.AddIf(
            place is not null && place != mended?.Place && !ShopPlaces.Kinds.Contains(place),
            "place",
            $"The place is one of {string.Join(", ", ShopPlaces.Kinds)}."
        );
        return new RouteOperation
        {
            Code = TextRules.Optional(request.Code, "code", "The number", TextRules.Code, errors) ?? "",
            Title = TextRules.Required(request.Title, "title", "What is done", TextRules.ShortText, errors),
            Phase = mended?.Phase ?? Phase.FinalWeld,
            Skill =
                TextRules.Optional(request.Skill, "skill", "The skill", TextRules.Code, errors)
                ?? (mended is { Skill: not Domain.Routing.Operation.InspectorSkill } ? mended.Skill : "fitter"),
            Place = place ?? mended?.Place ?? "bay",
            HotWork = hot,
            PaintOrSolvent = request.PaintOrSolvent ?? mended?.PaintOrSolvent ?? false,
            NeedsOpen = request.NeedsOpen is null
                ? mended?.NeedsOpen ?? []
                : RouteInput.Codes(request.NeedsOpen, "needsOpen", errors),
            Closes = RouteInput.Codes(request.Closes, "closes", errors),
            Opens = RouteInput.Codes(request.Opens, "opens", errors),
            After = RouteInput.Codes(request.After, "after", errors),
            Instruction = RouteInput.Sentence(reason),
            Caution = hot ? mended?.Caution ?? Cautions.HotWork.Text : mended?.Caution,
        };
    }
}
