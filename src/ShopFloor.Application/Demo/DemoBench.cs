using ShopFloor.Application.Workbench.Dies;
using ShopFloor.Application.Workbench.Saved;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Demo;

/// <summary>What the fabricators worked out: the bender's dies, and figures saved with cars.</summary>
internal sealed record DemoBenchData(IReadOnlyList<DemoDieData> Dies, IReadOnlyList<DemoFigureData> Figures);

internal sealed record DemoDieData(
    int Day,
    string By,
    string Name,
    double OutsideDiameterMm,
    double CentrelineRadiusMm,
    double MarkOffsetMm,
    double ClampMm,
    IReadOnlyList<SpringbackReading> Trials,
    string Note
);

/// <param name="Replaces">Title of the job's earlier figures whose place these take.</param>
internal sealed record DemoFigureData(
    int Day,
    string By,
    string Job,
    string Operation,
    string Calculator,
    string Title,
    IReadOnlyDictionary<string, string?> Inputs,
    string? Note = null,
    string? Replaces = null
);

/// <summary>The fabricators at the workbench.</summary>
internal sealed class DemoBench(DemoWorld world, IReadOnlyList<DemoJob> jobs)
{
    private readonly Dictionary<(string Job, string Title), JobFigureView> saved = [];

    public async IAsyncEnumerable<DateTimeOffset> KeepDiesAsync(DemoBenchData bench)
    {
        foreach (var die in bench.Dies.OrderBy(d => d.Day))
        {
            yield return world.Calendar.At(die.Day, 9);
            var request = new KeepBenderDies.Request(
                die.Name,
                die.OutsideDiameterMm,
                die.CentrelineRadiusMm,
                die.MarkOffsetMm,
                die.ClampMm,
                die.Trials,
                die.Note
            );
            await DemoWorld.DoAsync(world.Use<KeepBenderDies>().AddAsync(request, world.By(die.By), default), die.Name);
        }
    }

    public async IAsyncEnumerable<DateTimeOffset> SaveFiguresAsync(DemoBenchData bench)
    {
        foreach (var figure in bench.Figures.OrderBy(f => f.Day))
        {
            yield return world.Calendar.At(figure.Day, 15, 30);
            var request = new SaveJobFigure.Request(
                figure.Calculator,
                figure.Operation,
                figure.Title,
                figure.Note,
                Inputs: figure.Inputs,
                Replaces: figure.Replaces is { } title ? saved[(figure.Job, title)].Id.Value : null
            );
            var job = jobs.Single(j => j.Data.Key == figure.Job).Id!.Value;
            saved[(figure.Job, figure.Title)] = await DemoWorld.DoAsync(
                world.Use<SaveJobFigure>().RunAsync(job, request, world.By(figure.By), default),
                $"{figure.Job}, {figure.Title}"
            );
        }
    }
}
