namespace ShopFloor.Domain.Nesting;

/// <summary>Judges a nest by the request alone, in exact decimals, however it was found; knows nothing of the solver.</summary>
public static class NestCheck
{
    /// <summary>Sentences of what is wrong; empty when the nest holds.</summary>
    public static IReadOnlyList<string> Faults(NestRequest request, NestAnswer answer)
    {
        var faults = new List<string>();
        for (var b = 0; b < answer.Bars.Count; b++)
        {
            var (bar, name) = (answer.Bars[b], $"Bar {b + 1}");
            Add(bar.Cuts.Count == 0, $"{name} has no pieces.");
            var needed = bar.Cuts.Sum(c => c.LengthMm) + (request.KerfMm * (bar.Cuts.Count - 1));
            Add(needed > bar.StockLengthMm - request.EndTrimMm, $"{name} is too short for its pieces.");
            var left =
                bar.StockLengthMm
                - request.EndTrimMm
                - bar.Cuts.Sum(c => c.LengthMm)
                - (request.KerfMm * bar.Cuts.Count);
            Add(bar.RemnantMm != Math.Max(0, left), $"{name} says a wrong remnant.");
        }

        foreach (var used in answer.Bars.GroupBy(b => b.StockLengthMm))
        {
            var lines = request.Stock.Where(s => s.LengthMm == used.Key).ToList();
            Add(lines.Count == 0, $"There is no stock of {used.Key} mm.");
            Add(
                lines.TrueForAll(s => s.Quantity is not null) && used.Count() > lines.Sum(s => (long)s.Quantity!.Value),
                $"There are not so many bars of {used.Key} mm."
            );
        }

        var asked = request
            .Pieces.GroupBy(p => (p.Label, p.LengthMm))
            .ToDictionary(g => g.Key, g => g.Sum(p => p.Quantity));
        var cut = answer
            .Bars.SelectMany(b => b.Cuts)
            .GroupBy(c => (c.Label, c.LengthMm))
            .ToDictionary(g => g.Key, g => g.Count());
        foreach (var piece in asked.Keys.Union(cut.Keys))
        {
            var (want, have) = (asked.GetValueOrDefault(piece), cut.GetValueOrDefault(piece));
            Add(want != have, $"{piece.Label} of {piece.LengthMm} mm is needed {want} times and cut {have} times.");
        }

        Add(answer.LowerBoundStockMm > answer.StockUsedMm, "The bound on the stock is above what is used.");
        Add(answer.LowerBoundBars > answer.BarsUsed, "The bound on the bars is above what is used.");
        Add(
            answer.IsProvenOptimal && answer.LowerBoundStockMm != answer.StockUsedMm,
            "The nest is called the best, but its bound does not say so."
        );
        return faults;

        void Add(bool isWrong, string text)
        {
            if (isWrong)
            {
                faults.Add(text);
            }
        }
    }
}
