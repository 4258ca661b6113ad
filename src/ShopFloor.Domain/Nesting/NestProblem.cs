using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Domain.Nesting;

/// <summary>
/// A request that was found to be in order, in whole numbers. A piece weighs its length and one kerf; a bar holds its length less the trim and, because
/// the last piece needs no cut of its own where the bar ends, one kerf more. So "the pieces fit" is "their weights are at most what the bar holds".
/// Pieces of one length are one kind, bars of one length are one stock; weights are divided by their greatest common divisor.
/// </summary>
public sealed class NestProblem
{
    public const int MostPieces = 10_000;
    public const int MostStocks = 1_000;

    /// <summary>Bars of one length that a shop can have; more is a slip of the pen.</summary>
    public const int MostBars = 1_000_000;
    public const int MostDecimals = 4;

    /// <summary>Ten-thousandths of a millimetre.</summary>
    private const long TicksPerMm = 10_000;

    private readonly long stockDivisor;

    private NestProblem(NestRequest request)
    {
        Request = request;
        var (kerf, trim) = (Ticks(request.KerfMm), Ticks(request.EndTrimMm));
        var kinds = request
            .Pieces.GroupBy(p => Ticks(p.LengthMm))
            .OrderByDescending(g => g.Key)
            .Select(g => (Length: g.Key, Lines: g.ToList()))
            .ToList();
        var weightDivisor = Math.Max(1, Divisor(kinds.Select(k => k.Length + kerf)));
        PieceCount = request.Pieces.Sum(p => p.Quantity);
        var lightest = kinds.Count == 0 ? 0 : kinds[^1].Length;
        var stocks = request
            .Stock.GroupBy(s => Ticks(s.LengthMm))
            .Select(g =>
                (
                    Length: g.Key,
                    Count: g.Any(s => s.Quantity is null)
                        ? PieceCount
                        : (int)Math.Min(PieceCount, g.Sum(s => (long)s.Quantity!.Value)),
                    IsLimited: g.All(s => s.Quantity is not null) && g.Sum(s => (long)s.Quantity!.Value) < PieceCount
                )
            )
            .Where(s => s.Count > 0 && s.Length - trim >= lightest)
            .OrderByDescending(s => s.Length)
            .ToList();
        Weights = [.. kinds.Select(k => (k.Length + kerf) / weightDivisor)];
        Demands = [.. kinds.Select(k => k.Lines.Sum(l => l.Quantity))];
        Lines = [.. kinds.Select(k => (IReadOnlyList<NestPiece>)k.Lines)];
        stockDivisor = Math.Max(1, Divisor(stocks.Select(s => s.Length)));
        Capacities = [.. stocks.Select(s => (s.Length - trim + kerf) / weightDivisor)];
        Costs = [.. stocks.Select(s => s.Length / stockDivisor)];
        Limits = [.. stocks.Select(s => s.Count)];
        IsLimited = [.. stocks.Select(s => s.IsLimited)];
    }

    public NestRequest Request { get; }
    public int PieceCount { get; }

    /// <summary>By kind of piece, the heaviest first.</summary>
    public IReadOnlyList<long> Weights { get; }

    /// <summary>By kind of piece, how many are needed; at least 1.</summary>
    public IReadOnlyList<int> Demands { get; }

    /// <summary>By kind of piece, the lines of the request that ask for it.</summary>
    public IReadOnlyList<IReadOnlyList<NestPiece>> Lines { get; }

    /// <summary>By stock, the longest first, in the unit of the weights.</summary>
    public IReadOnlyList<long> Capacities { get; }

    /// <summary>By stock, its length in a unit of its own: what is to be least in sum.</summary>
    public IReadOnlyList<long> Costs { get; }

    /// <summary>By stock, bars that there are; never more than pieces.</summary>
    public IReadOnlyList<int> Limits { get; }

    /// <summary>By stock, whether the limit can bind at all.</summary>
    public IReadOnlyList<bool> IsLimited { get; }

    /// <summary>No nest needs fewer bars: all weights by what the longest bar holds.</summary>
    public long PlainBarsBound => PieceCount == 0 ? 0 : Up(AllWeight, Capacities.Max());

    /// <summary>No nest costs less: all weights at the cheapest room that there is.</summary>
    public long PlainStockBound =>
        PieceCount == 0 ? 0 : Enumerable.Range(0, Costs.Count).Min(k => Up(AllWeight * Costs[k], Capacities[k]));

    private Int128 AllWeight =>
        Enumerable.Range(0, Weights.Count).Aggregate((Int128)0, (sum, i) => sum + ((Int128)Weights[i] * Demands[i]));

    private static long Up(Int128 value, long by) => (long)((value + by - 1) / by);

    /// <summary>Stock length in millimetres of so much cost.</summary>
    public decimal StockMm(long cost) => cost * stockDivisor / (decimal)TicksPerMm;

    public static Outcome<NestProblem> Create(NestRequest request)
    {
        var errors = new FieldErrors();
        errors.AddIf(request.Stock.Count == 0, "stock", "Name at least one length of stock to cut from.");
        errors.AddIf(
            request.Stock.Count > MostStocks,
            "stock",
            $"There are {request.Stock.Count} lines of stock; at most {MostStocks} are taken."
        );
        var count = request.Pieces.Sum(p => (long)Math.Max(0, p.Quantity));
        errors.AddIf(
            request.Pieces.Count > MostPieces || count > MostPieces,
            "pieces",
            $"There are {Math.Max(count, request.Pieces.Count)} pieces; at most {MostPieces} are nested at once."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        CheckEach(request, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        CheckTogether(request, errors);
        return errors.Any ? errors.ToFailure() : new NestProblem(request);
    }

    /// <summary>Said where the stock that there is cannot hold the pieces, however they are laid.</summary>
    public static Failure TooLittleStock() =>
        Failure.Field(
            "stock",
            "The stock cannot hold all the pieces, however they are laid: add bars, or take pieces out of the list."
        );

    private static void CheckEach(NestRequest request, FieldErrors errors)
    {
        for (var i = 0; i < request.Stock.Count; i++)
        {
            CheckLength(
                request.Stock[i].LengthMm,
                $"stock[{i}].lengthMm",
                "The stock's length",
                isZeroRight: false,
                errors
            );
            errors.AddIf(
                request.Stock[i].Quantity is < 0 or > MostBars,
                $"stock[{i}].quantity",
                $"The number of bars is 0 to {MostBars}; leave it out where there are as many as you need."
            );
        }

        for (var i = 0; i < request.Pieces.Count; i++)
        {
            var (piece, path) = (request.Pieces[i], $"pieces[{i}]");
            errors.AddIf(
                piece.Label is not { Length: > 0 and <= TextRules.ShortText },
                path + ".label",
                $"A label has 1 to {TextRules.ShortText} characters."
            );
            CheckLength(piece.LengthMm, path + ".lengthMm", "The piece's length", isZeroRight: false, errors);
            errors.AddIf(piece.Quantity < 1, path + ".quantity", "The number of pieces is 1 or more.");
        }

        CheckLength(request.KerfMm, "kerfMm", "The kerf", isZeroRight: true, errors);
        CheckLength(request.EndTrimMm, "endTrimMm", "The end trim", isZeroRight: true, errors);
    }

    private static void CheckLength(decimal mm, string path, string label, bool isZeroRight, FieldErrors errors)
    {
        var isSize = isZeroRight
            ? FigureRules.IsSizeOrNone((double)mm, path, label, errors)
            : FigureRules.IsSize((double)mm, path, label, errors);
        errors.AddIf(
            isSize && mm * TicksPerMm != decimal.Truncate(mm * TicksPerMm),
            path,
            $"{label} has at most {MostDecimals} decimals."
        );
    }

    private static void CheckTogether(NestRequest request, FieldErrors errors)
    {
        var longest = request.Stock.Where(s => s.Quantity != 0).Select(s => s.LengthMm).DefaultIfEmpty(0).Max();
        for (var i = 0; i < request.Pieces.Count; i++)
        {
            errors.AddIf(
                request.Pieces[i].LengthMm > longest - request.EndTrimMm,
                $"pieces[{i}].lengthMm",
                $"The piece {request.Pieces[i].Label} of {request.Pieces[i].LengthMm:0.####} mm is longer than the longest bar leaves: {Math.Max(0, longest - request.EndTrimMm):0.####} mm after the end trim."
            );
        }

        if (errors.Any || request.Stock.Any(s => s.Quantity is null))
        {
            return;
        }

        var shortest = request.Pieces.Select(p => p.LengthMm).DefaultIfEmpty(0).Min();
        var room = request
            .Stock.Where(s => s.LengthMm - request.EndTrimMm >= shortest)
            .Sum(s => (s.LengthMm - request.EndTrimMm + request.KerfMm) * s.Quantity!.Value);
        var needed = request.Pieces.Sum(p => (p.LengthMm + request.KerfMm) * p.Quantity);
        if (room < needed && TooLittleStock() is Failure.Invalid invalid)
        {
            errors.Add(invalid.Errors[0].Path, invalid.Errors[0].Text);
        }
    }

    private static long Ticks(decimal mm) => decimal.ToInt64(mm * TicksPerMm);

    private static long Divisor(IEnumerable<long> values) => values.Aggregate(0L, Gcd);

    private static long Gcd(long a, long b) => b == 0 ? a : Gcd(b, a % b);
}
