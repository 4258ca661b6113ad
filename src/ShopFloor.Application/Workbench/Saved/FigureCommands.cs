using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Workbench.Saved;

/// <summary>Saves figures of the workbench with a job. They are figured here from what was typed: nobody can save a result that the calculator did not give.</summary>
public sealed class SaveJobFigure(CommandRunner runner) : IUseCase
{
    /// <param name="Calculator">Its code.</param>
    /// <param name="Operation">At which they are wanted; absent: the job as a whole.</param>
    /// <param name="Title">What they are for: which tube, which end.</param>
    /// <param name="Unit">mm (also when absent) or in.</param>
    /// <param name="TapeDivisions">16 (also when absent) or 32.</param>
    /// <param name="Inputs">What was typed, by field; absent fields are as the calculator starts.</param>
    /// <param name="Replaces">Earlier figures of the same job whose place they take.</param>
    public sealed record Request(
        string? Calculator = null,
        string? Operation = null,
        string? Title = null,
        string? Note = null,
        string? Unit = null,
        int? TapeDivisions = null,
        IReadOnlyDictionary<string, string?>? Inputs = null,
        Guid? Replaces = null
    );

    public Task<Outcome<JobFigureView>> RunAsync(JobId id, Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<JobFigureView>(
            Permission.KeepFigures,
            envelope,
            new { id, request },
            async scope =>
            {
                if (!Work(request).TryGet(out var worked, out var failure))
                {
                    return failure;
                }

                if (!(await FigureJob.OpenAsync(scope, id)).TryGet(out var job, out failure))
                {
                    return failure;
                }

                var operation = string.IsNullOrEmpty(request.Operation) ? null : request.Operation;
                if (operation is not null && job.Operations.All(o => o.Code != operation))
                {
                    return Failure.Field("operation", $"{job.Number} has no such operation.");
                }

                if (!(await OlderAsync(scope, id, request.Replaces)).TryGet(out var older, out failure))
                {
                    return failure;
                }

                var kept = await scope
                    .Db.Set<JobFigure>()
                    .CountAsync(f => f.JobId == id && f.State == FigureState.InForce, ct);
                if (older.Figure is null && kept >= JobFigure.MostOfJob)
                {
                    return Failure.Because(
                        "tooManyFigures",
                        $"{JobFigure.MostOfJob} figures are saved with this job; withdraw those that are no longer worked by."
                    );
                }

                var saved = JobFigure.Save(
                    scope.NewId<JobFigureId>(),
                    id,
                    new JobFigure.Details(request.Title, request.Note, operation),
                    worked,
                    older.Figure,
                    FigureJob.Hand(scope)
                );
                if (!saved.TryGet(out var figure, out failure))
                {
                    return failure;
                }

                scope.Db.Add(figure);
                scope.Record(
                    new EventDraft(
                        older.Figure is null ? "figure.saved" : "figure.replaced",
                        "figure",
                        figure.Id.Value,
                        id,
                        older.Figure is { } before ? new { figure = before.Id.Value } : null,
                        new { calculator = figure.Calculator, operation = figure.Operation }
                    )
                );
                await scope.SaveAsync();
                return await FigureViews.OneAsync(scope.Db, figure, job, ct);
            },
            ct
        );

    /// <summary>The older figures, or none: a type of its own, as an outcome holds no null.</summary>
    private readonly record struct Older(JobFigure? Figure);

    private static async Task<Outcome<Older>> OlderAsync(CommandScope scope, JobId job, Guid? replaces)
    {
        if (replaces is not { } wanted)
        {
            return new Older(null);
        }

        var id = new JobFigureId(wanted);
        return
            await scope.Db.Set<JobFigure>().SingleOrDefaultAsync(f => f.Id == id && f.JobId == job, scope.Cancellation)
                is { } figure
            ? new Older(figure)
            : Failure.Field("replaces", "These are no figures of this job.");
    }

    private static Outcome<JobFigure.Worked> Work(Request request)
    {
        if (Benches.Find(request.Calculator) is not { } sheet)
        {
            return Failure.Field("calculator", "The workbench has no such calculator.");
        }

        var errors = new FieldErrors();
        errors.AddIf(request.Unit is not (null or "mm" or "in"), "unit", "The unit is mm or in.");
        errors.AddIf(
            request.TapeDivisions is { } parts && !BenchLengths.Tapes.Contains(parts),
            "tapeDivisions",
            "A tape has 16 or 32 parts in an inch here."
        );
        var inputs = request.Inputs ?? new Dictionary<string, string?>();
        foreach (var name in inputs.Keys.Where(k => sheet.Fields.All(f => f.Name != k)).Take(5))
        {
            errors.Add("inputs." + name[..Math.Min(name.Length, 60)], $"{sheet.Title} has no such field.");
        }

        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var read = BenchValues.Read(
            sheet,
            LengthUnit.Millimetre,
            name =>
                name switch
                {
                    BenchValues.UnitName => request.Unit,
                    BenchValues.TapeName => request.TapeDivisions?.ToString(CultureInfo.InvariantCulture),
                    _ => inputs.GetValueOrDefault(name),
                }
        );
        return read.Then(values =>
        {
            var outcome = sheet.Answer(values);
            if (!outcome.TryGet(out var answer, out _))
            {
                errors.Take(outcome, "inputs.");
                return errors.Any ? errors.ToFailure() : outcome.Failure!;
            }

            return Outcome<JobFigure.Worked>.Success(
                new JobFigure.Worked(
                    sheet.Code,
                    values.Unit,
                    values.Divisions,
                    [.. sheet.Fields.Select(f => new FigureInput(f.Name, values[f.Name] ?? ""))],
                    answer.Lines,
                    answer.Warnings
                )
            );
        });
    }
}

/// <summary>Figures are not to be worked by any more.</summary>
public sealed class WithdrawJobFigure(CommandRunner runner) : IUseCase
{
    public sealed record Request(string? Reason = null);

    public Task<Outcome<JobFigureView>> RunAsync(
        JobFigureId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<JobFigureView>(
            Permission.KeepFigures,
            envelope,
            new { id, request },
            async scope =>
            {
                if (await scope.Db.Set<JobFigure>().SingleOrDefaultAsync(f => f.Id == id, ct) is not { } figure)
                {
                    return Failure.Missing("figures");
                }

                if (!(await FigureJob.OpenAsync(scope, figure.JobId)).TryGet(out var job, out var failure))
                {
                    return failure;
                }

                if ((scope.Stale(figure) ?? figure.Withdraw(request.Reason, FigureJob.Hand(scope)).Failure) is { } no)
                {
                    return no;
                }

                scope.Record(
                    new EventDraft(
                        "figure.withdrawn",
                        "figure",
                        id.Value,
                        figure.JobId,
                        After: new { calculator = figure.Calculator, operation = figure.Operation }
                    )
                );
                await scope.SaveAsync();
                return await FigureViews.OneAsync(scope.Db, figure, job, ct);
            },
            ct
        );
}

/// <summary>What saving and withdrawing have in common.</summary>
internal static class FigureJob
{
    public static JobFigure.Hand Hand(CommandScope scope) => new(scope.Actor.Person, scope.OccurredAt, scope.Now);

    /// <summary>The job, while work is done on it.</summary>
    public static async Task<Outcome<Job>> OpenAsync(CommandScope scope, JobId id) =>
        await ReadJobFigures.JobOfAsync(scope.Db, id, scope.Cancellation) is not { } job ? Failure.Missing("job")
        : job.State != JobState.Open
            ? Failure.Because("jobOver", $"{job.Number} is over; the figures saved with it stay as they are.")
        : job;
}
