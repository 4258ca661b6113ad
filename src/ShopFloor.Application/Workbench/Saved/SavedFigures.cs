using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Workbench.Saved;

/// <summary>Figures saved with a job.</summary>
/// <param name="Operation">At which they are wanted; null for the job as a whole.</param>
/// <param name="OperationTitle">Null where there is none, or the operation is no longer on the job's route.</param>
/// <param name="Calculator">Its code.</param>
/// <param name="CalculatorTitle">Its name on the workbench; the code where this version knows no such calculator.</param>
/// <param name="Unit">mm or in: of lengths typed without a unit.</param>
/// <param name="Inputs">What was typed, by field.</param>
/// <param name="Papers">What can be printed of them; empty once they are no longer in force.</param>
/// <param name="EndReason">Why they were withdrawn.</param>
public sealed record JobFigureView(
    JobFigureId Id,
    long Version,
    JobId JobId,
    string? Operation,
    string? OperationTitle,
    string Calculator,
    string CalculatorTitle,
    string Title,
    string? Note,
    string Unit,
    int TapeDivisions,
    IReadOnlyDictionary<string, string> Inputs,
    IReadOnlyList<FigureLine> Results,
    IReadOnlyList<string> Warnings,
    FigureState State,
    string? SavedBy,
    DateTimeOffset SavedAt,
    JobFigureId? Replaces,
    JobFigureId? ReplacedBy,
    string? EndedBy,
    DateTimeOffset? EndedAt,
    string? EndReason,
    IReadOnlyList<BenchPaperName> Papers
)
{
    [System.Text.Json.Serialization.JsonIgnore]
    public bool IsInForce => State == FigureState.InForce;
}

/// <summary>All figures of a job: those in force by operation, then the earlier ones, newest first.</summary>
public sealed record JobFigures(
    JobId JobId,
    string JobNumber,
    string Car,
    bool IsOpen,
    IReadOnlyList<JobFigureView> InForce,
    IReadOnlyList<JobFigureView> Earlier
);

/// <summary>Reads the figures that were saved with jobs.</summary>
public sealed class ReadJobFigures(QueryRunner queries) : IUseCase
{
    public Task<Outcome<JobFigures>> OfJobAsync(JobId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<JobFigures>(
            Permission.SeeFloor,
            actor,
            async db =>
                await JobOfAsync(db, id, ct) is { } job
                    ? await FigureViews.OfJobAsync(db, job, ct)
                    : Failure.Missing("job"),
            ct
        );

    public Task<Outcome<JobFigureView>> OneAsync(JobFigureId id, Actor actor, CancellationToken ct) =>
        queries.RunAsync<JobFigureView>(
            Permission.SeeFloor,
            actor,
            async db =>
                await db.Set<JobFigure>().SingleOrDefaultAsync(f => f.Id == id, ct) is { } figure
                    ? await FigureViews.OneAsync(db, figure, (await JobOfAsync(db, figure.JobId, ct))!, ct)
                    : Failure.Missing("figures"),
            ct
        );

    internal static Task<Job?> JobOfAsync(ShopDbContext db, JobId id, CancellationToken ct) =>
        db.JobsWhole().SingleOrDefaultAsync(j => j.Id == id, ct);
}

internal static class FigureViews
{
    public static async Task<JobFigures> OfJobAsync(ShopDbContext db, Job job, CancellationToken ct)
    {
        var figures = await db.Set<JobFigure>()
            .Where(f => f.JobId == job.Id)
            .OrderByDescending(f => f.SavedAt)
            .ThenByDescending(f => f.Id)
            .ToListAsync(ct);
        var names = await NamesAsync(db, figures, ct);
        var views = figures.Select(f => Of(f, job, names)).ToList();
        var places = job.Operations.Select((o, i) => (o.Code, i)).ToDictionary(o => o.Code, o => o.i);
        var car = await JobSubject.CarAsync(db, job, ct);
        return new JobFigures(
            job.Id,
            job.Number,
            JobSubject.Title(job, car),
            job.State == JobState.Open,
            [
                .. views
                    .Where(v => v.IsInForce)
                    .OrderBy(v => v.Operation is null ? -1 : places.GetValueOrDefault(v.Operation, int.MaxValue))
                    .ThenBy(v => v.Title, StringComparer.Ordinal),
            ],
            [.. views.Where(v => !v.IsInForce)]
        );
    }

    public static async Task<JobFigureView> OneAsync(
        ShopDbContext db,
        JobFigure figure,
        Job job,
        CancellationToken ct
    ) => Of(figure, job, await NamesAsync(db, [figure], ct));

    private static JobFigureView Of(JobFigure f, Job job, Dictionary<Guid, string> names)
    {
        var sheet = Benches.Find(f.Calculator);
        return new JobFigureView(
            f.Id,
            f.Version,
            f.JobId,
            f.Operation,
            job.Operations.FirstOrDefault(o => o.Code == f.Operation)?.Title,
            f.Calculator,
            sheet?.Title ?? f.Calculator,
            f.Title,
            f.Note,
            f.Unit == LengthUnit.Inch ? "in" : "mm",
            f.TapeDivisions,
            f.Inputs.ToDictionary(i => i.Name, i => i.Text, StringComparer.Ordinal),
            f.Results,
            f.Warnings,
            f.State,
            Name(f.SavedBy, names),
            f.SavedAt,
            f.Replaces,
            f.ReplacedBy,
            Name(f.EndedBy, names),
            f.EndedAt,
            f.EndReason,
            f.State == FigureState.InForce ? sheet?.Papers ?? [] : []
        );
    }

    private static string? Name(PersonId? person, Dictionary<Guid, string> names) =>
        person is { } id ? names.GetValueOrDefault(id.Value, "Somebody who has left") : null;

    private static async Task<Dictionary<Guid, string>> NamesAsync(
        ShopDbContext db,
        IReadOnlyCollection<JobFigure> figures,
        CancellationToken ct
    )
    {
        var people = figures
            .SelectMany(f => new[] { f.SavedBy, f.EndedBy })
            .OfType<PersonId>()
            .Select(p => p.Value)
            .ToHashSet();
        return await db
            .Users.AsNoTracking()
            .Where(u => people.Contains(u.Id))
            .ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
    }
}
