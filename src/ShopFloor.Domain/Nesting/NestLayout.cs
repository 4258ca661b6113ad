namespace ShopFloor.Domain.Nesting;

/// <summary>What lies in one bar: kinds of pieces (ascending) and how many of each.</summary>
public sealed record NestPattern(int Stock, IReadOnlyList<(int Kind, int Count)> Pieces)
{
    public long Weight(NestProblem problem) => Pieces.Sum(p => problem.Weights[p.Kind] * p.Count);
}

/// <summary>Bars with their contents, in the problem's kinds and stocks.</summary>
public sealed record NestLayout(IReadOnlyList<NestPattern> Bars)
{
    public long Cost(NestProblem problem) => Bars.Sum(b => problem.Costs[b.Stock]);

    /// <summary>Less stock first, then fewer bars.</summary>
    public bool IsBetterThan(NestLayout? other, NestProblem problem) =>
        other is null || (Cost(problem), Bars.Count).CompareTo((other.Cost(problem), other.Bars.Count)) < 0;

    /// <summary>In labels and millimetres: like bars beside each other, in each the longest piece first.</summary>
    public IReadOnlyList<NestBar> ToBars(NestProblem problem)
    {
        var request = problem.Request;
        var labels = problem
            .Lines.Select(lines => new Queue<NestPiece>(lines.SelectMany(l => Enumerable.Repeat(l, l.Quantity))))
            .ToArray();
        return
        [
            .. Bars.OrderByDescending(b => problem.Costs[b.Stock])
                .ThenBy(b => b.Pieces[0].Kind)
                .ThenBy(b => string.Join(',', b.Pieces), StringComparer.Ordinal)
                .Select(bar =>
                {
                    var cuts = bar
                        .Pieces.SelectMany(p => Enumerable.Range(0, p.Count).Select(_ => labels[p.Kind].Dequeue()))
                        .Select(p => new NestCut(p.Label, p.LengthMm))
                        .ToList();
                    var stock = problem.StockMm(problem.Costs[bar.Stock]);
                    return new NestBar(stock, cuts, Remnant(request, stock, cuts));
                }),
        ];
    }

    /// <summary>max(0, stock − trim − pieces − kerf × pieces): the last cut takes what is under a kerf.</summary>
    internal static decimal Remnant(NestRequest request, decimal stockMm, IReadOnlyList<NestCut> cuts) =>
        Math.Max(0, stockMm - request.EndTrimMm - cuts.Sum(c => c.LengthMm) - (request.KerfMm * cuts.Count));
}
