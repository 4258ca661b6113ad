using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Application.Routing;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Workbench;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench.Saved;

/// <summary>A paper of figures that were saved with a job: the job's number, its car and the operation stand on it.</summary>
public sealed class PrintJobFigure(QueryRunner runner, IWorkbenchPapers papers, TimeProvider clock) : IUseCase
{
    public Task<Outcome<BenchFile>> RunAsync(
        JobFigureId id,
        string file,
        PaperSize? size,
        Actor actor,
        CancellationToken ct
    ) =>
        runner.RunAsync<BenchFile>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                if (await db.Set<JobFigure>().SingleOrDefaultAsync(f => f.Id == id, ct) is not { } figure)
                {
                    return Failure.Missing("figures");
                }

                if (figure.State != FigureState.InForce)
                {
                    return Failure.Because(
                        "figureEnded",
                        $"“{figure.Title}” is no longer worked by, so no paper is made of it. Look for the newer figures on the job's page."
                    );
                }

                if (Benches.Find(figure.Calculator) is not { } sheet)
                {
                    return Failure.Missing("calculator");
                }

                var job = (await ReadJobFigures.JobOfAsync(db, figure.JobId, ct))!;
                var car = await JobSubject.CarAsync(db, job, ct);
                var shop = await db.Shops.SingleAsync(ct);
                var operation = job.Operations.FirstOrDefault(o => o.Code == figure.Operation);
                var reference = string.Join(
                    " · ",
                    new[]
                    {
                        job.Number,
                        JobSubject.Title(job, car),
                        operation is null ? null : $"{operation.Code} {operation.Title}",
                        figure.Title,
                    }.OfType<string>()
                );
                return FigureInputs
                    .Of(figure)
                    .Then(values =>
                        BenchPapers.Make(
                            papers,
                            sheet,
                            values,
                            file,
                            shop.Name,
                            reference,
                            PaperHeads.SettingsOf(shop, size, clock.GetUtcNow())
                        )
                    )
                    .Then<BenchFile>(made => made with { FileName = $"{job.Number}-{made.FileName}" });
            },
            ct
        );
}

internal static class FigureInputs
{
    /// <summary>What was typed when the figures were saved.</summary>
    public static Outcome<BenchValues> Of(JobFigure figure) =>
        new BenchValues(
            figure.Unit,
            figure.Inputs.ToDictionary(i => i.Name, i => i.Text, StringComparer.Ordinal),
            figure.TapeDivisions
        );
}
