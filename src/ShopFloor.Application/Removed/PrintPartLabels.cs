using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Papers;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Removed;

/// <summary>Prints the labels of what is out of a car.</summary>
public sealed class PrintPartLabels(QueryRunner runner, PaperHeads heads, IPapers papers, TimeProvider clock) : IUseCase
{
    /// <param name="jobId">The job.</param>
    /// <param name="partsUrl">Address of the job's page of removed parts; each label's code leads to its part there.</param>
    /// <param name="size">Absent: the shop's usual sheet.</param>
    /// <param name="actor">Who prints.</param>
    /// <param name="ct">Gives up.</param>
    public Task<Outcome<PrintedPaper>> RunAsync(
        JobId jobId,
        string partsUrl,
        PaperSize? size,
        Actor actor,
        CancellationToken ct
    ) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var job = await db.Set<Job>().SingleOrDefaultAsync(j => j.Id == jobId, ct);
                if (job is null)
                {
                    return Failure.Missing("job");
                }

                var things = await PartViews.ThingsAsync(db, job, ct);
                var shop = await db.Shops.SingleAsync(ct);
                var paper = new PartLabelsPaper(
                    await heads.LetterheadAsync(shop, ct),
                    job.Number,
                    things.CarTitle,
                    [
                        .. things
                            .Parts.Where(p => p.IsUnaccounted)
                            .Select(p => new PartLabel(
                                p.Label,
                                p.What,
                                p.TakenFrom,
                                p.Fasteners,
                                p.Place,
                                $"{partsUrl}#part-{p.Number}"
                            )),
                    ]
                );
                return new PrintedPaper(
                    papers.PartLabels(paper, PaperHeads.SettingsOf(shop, size, clock.GetUtcNow())),
                    $"{job.Number}-part-labels.pdf"
                );
            },
            ct
        );
}
