using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Materials;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Application.Stock;

/// <summary>What sawing tells the jobs' papers.</summary>
internal static class SawnMaterial
{
    /// <summary>Writes the heats into the jobs' material, so that the papers know them.</summary>
    public static async Task<IReadOnlyList<string>> WriteAsync(CommandScope scope, SawPlan plan, StockItem item)
    {
        var notes = new List<string>();
        var pieces = plan.Bars.SelectMany(b => b.Pieces.Select(p => (Bar: b, Piece: p))).ToList();
        foreach (var job in pieces.GroupBy(p => (p.Piece.Job, p.Piece.JobNumber)))
        {
            var trace = await scope.Db.TraceAsync(job.Key.Job, scope.Cancellation);
            var isSigned = await scope
                .Db.Set<SignOff>()
                .AnyAsync(s => s.JobId == job.Key.Job && s.WithdrawnAt == null, scope.Cancellation);
            if (trace is null || isSigned)
            {
                notes.Add(
                    $"{job.Key.JobNumber} is signed off or keeps no material list: its heats are not written down there."
                );
                continue;
            }

            var hand = new Hand(scope.Actor.Person, scope.OccurredAt, scope.Now);
            foreach (var heat in job.GroupBy(p => p.Bar.Mark))
            {
                var entered = trace.Enter(
                    MaterialKind.Tube,
                    new JobMaterial.Details(
                        Cut(string.Join(", ", heat.Select(p => p.Piece.Label).Distinct()), TextRules.Name),
                        $"{StockWords.Count(item.OutsideDiameterMm!.Value)} × {StockWords.Count(item.WallMm!.Value)} mm",
                        item.Material is { } grade ? Cut(grade, TextRules.Code) : null,
                        heat.Key,
                        MaterialOrigin.Stock,
                        Cut(
                            $"{plan.Number}: {string.Join(", ", heat.Select(p => p.Bar.LotNumber).Distinct())}",
                            TextRules.Name
                        )
                    ),
                    hand
                );
                if (entered.Failure is { } full)
                {
                    notes.Add($"{job.Key.JobNumber}: {full.Sentence}");
                    continue;
                }

                scope.Db.Touch(trace);
                var material = entered.Value;
                scope.Record(
                    new EventDraft(
                        "material.entered",
                        "jobMaterial",
                        material.Id.Value,
                        job.Key.Job,
                        After: new
                        {
                            material.Kind,
                            material.Latest.Mark,
                            sawCard = plan.Number,
                        }
                    )
                );
            }
        }

        return notes;
    }

    private static string Cut(string text, int limit) => text.Length <= limit ? text : text[..(limit - 1)] + "…";
}
