using System.Text.Json.Serialization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Nesting;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Stock;

public enum SawPlanState
{
    /// <summary>Its bars are held for it.</summary>
    Planned,

    /// <summary>It is done: pieces are with their jobs, offcuts back in the store.</summary>
    Sawn,

    /// <summary>It will not be sawn; its bars are free again.</summary>
    Discarded,
}

/// <summary>A piece of a bar.</summary>
/// <param name="Line">Number of the job's cut line.</param>
public sealed record SawPiece(JobId Job, string JobNumber, int Line, string Label, decimal LengthMm)
{
    /// <summary>Written on the piece, so that those of several jobs are told apart.</summary>
    [JsonIgnore]
    public string Mark => $"{JobNumber} {Label}";
}

/// <summary>One bar under the saw.</summary>
/// <param name="LotNumber">On the bar's label.</param>
/// <param name="RemnantMm">What is left by calculation.</param>
public sealed record SawnBar(
    StockLotId Lot,
    string LotNumber,
    decimal StockMm,
    string? Mark,
    IReadOnlyList<SawPiece> Pieces,
    decimal RemnantMm
);

/// <summary>What came back of a bar, as somebody measured it.</summary>
/// <param name="Bar">From 1.</param>
/// <param name="LengthMm">0: nothing that is worth keeping.</param>
public sealed record MeasuredRemnant(int Bar, decimal? LengthMm);

/// <summary>Which pieces of one or several jobs are sawn from which sticks and offcuts of one tube.</summary>
public sealed class SawPlan : IVersioned
{
    /// <summary>Shorter remnants are scrap unless the shop says otherwise: common practice, no source.</summary>
    public const decimal UsualKeepMm = 300;
    public const int MostBars = 500;

    private SawPlan() { }

    public SawPlanId Id { get; private set; }
    public long Version { get; private set; }
    public string Number { get; private set; } = "";
    public StockItemId ItemId { get; private set; }
    public decimal KerfMm { get; private set; }
    public decimal EndTrimMm { get; private set; }

    /// <summary>Remnants from this length on go back to the store.</summary>
    public decimal KeepFromMm { get; private set; }
    public IReadOnlyList<SawnBar> Bars { get; private set; } = [];

    /// <summary>No nest from the same stock uses less.</summary>
    public decimal LowerBoundMm { get; private set; }
    public bool IsProven { get; private set; }
    public SawPlanState State { get; private set; }
    public PersonId? PlannedBy { get; private set; }
    public DateTimeOffset PlannedAt { get; private set; }
    public PersonId? EndedBy { get; private set; }
    public DateTimeOffset? EndedAt { get; private set; }
    public string? EndReason { get; private set; }

    public decimal StockUsedMm => Bars.Sum(b => b.StockMm);

    public IEnumerable<JobId> Jobs => Bars.SelectMany(b => b.Pieces).Select(p => p.Job).Distinct();

    /// <summary>How good the nest is, never better than it is.</summary>
    public string HowGood =>
        IsProven ? "Proven best: no nest from this stock uses less."
        : LowerBoundMm >= StockUsedMm ? "Least stock, proven; with fewer bars it may go."
        : FormattableString.Invariant(
            $"Within {Math.Ceiling(1000 * ((StockUsedMm / Math.Max(1, LowerBoundMm)) - 1)) / 10:0.0} % of the best possible."
        );

    /// <summary>Turns a nest into bars of the store and pieces of jobs.</summary>
    /// <param name="request">What was nested: its pieces are those of <paramref name="pieces"/>, one by one in any order.</param>
    /// <param name="lots">Lots with the pieces that are free, the ones to be used up first before the others.</param>
    public static Outcome<SawPlan> Make(
        SawPlanId id,
        string number,
        StockItem item,
        NestRequest request,
        NestAnswer answer,
        IReadOnlyList<SawPiece> pieces,
        IReadOnlyList<(StockLot Lot, int Free)> lots,
        decimal keepFromMm,
        StockHand hand
    )
    {
        ArgumentNullException.ThrowIfNull(item);
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(answer);
        var errors = new FieldErrors();
        errors
            .AddIf(answer.Bars.Count > MostBars, "jobs", $"A saw card has at most {MostBars} bars. Nest fewer jobs.")
            .AddIf(
                keepFromMm is < 0 or > StockItem.LongestStickMm,
                "keepFromMm",
                "Remnants are kept from a length of 0 to 20 m."
            );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var free = lots.Where(l => l.Free > 0).ToDictionary(l => l.Lot.Id, l => l.Free);
        var left = pieces.GroupBy(p => (p.Mark, p.LengthMm)).ToDictionary(g => g.Key, g => new Queue<SawPiece>(g));
        var bars = new List<SawnBar>();
        foreach (var bar in answer.Bars)
        {
            var lot = lots.FirstOrDefault(l =>
                l.Lot.LengthMm == bar.StockLengthMm && free.GetValueOrDefault(l.Lot.Id) > 0
            ).Lot;
            if (lot is null)
            {
                return Failure.Because(
                    "stockMoved",
                    "The stock was changed while the nest was worked out. Work it out again."
                );
            }

            free[lot.Id]--;
            bars.Add(
                new SawnBar(
                    lot.Id,
                    lot.Number,
                    bar.StockLengthMm,
                    lot.Mark,
                    [.. bar.Cuts.Select(c => left[(c.Label, c.LengthMm)].Dequeue())],
                    bar.RemnantMm
                )
            );
        }

        return new SawPlan
        {
            Id = id,
            Number = number,
            ItemId = item.Id,
            KerfMm = request.KerfMm,
            EndTrimMm = request.EndTrimMm,
            KeepFromMm = keepFromMm,
            Bars = bars,
            LowerBoundMm = answer.LowerBoundStockMm,
            IsProven = answer.IsProvenOptimal,
            PlannedBy = hand.Person,
            PlannedAt = hand.At,
        };
    }

    /// <summary>What sawing did.</summary>
    public sealed record Result(IReadOnlyList<StockLot> Offcuts, IReadOnlyList<JobStock> Uses);

    /// <summary>
    /// It is sawn: bars leave the store, offcuts come back into it, and the jobs take the rest. An offcut keeps the cost of its length; what is left of a bar's
    /// cost, saw dust and scrap with it, goes to its pieces by their length (common practice, no source).
    /// </summary>
    /// <param name="remnants">Lengths that differ from those by calculation; a bar that is not named has the calculated one.</param>
    /// <param name="newLot">Gives a fresh id and label number.</param>
    public Outcome<Result> Saw(
        IReadOnlyList<MeasuredRemnant> remnants,
        string? location,
        IReadOnlyDictionary<StockLotId, StockLot> lots,
        IReadOnlyDictionary<JobId, CutList> cutLists,
        Func<(StockLotId Id, string Number)> newLot,
        StockHand hand
    )
    {
        ArgumentNullException.ThrowIfNull(remnants);
        ArgumentNullException.ThrowIfNull(lots);
        ArgumentNullException.ThrowIfNull(cutLists);
        ArgumentNullException.ThrowIfNull(newLot);
        if (Ended() is { } ended)
        {
            return ended;
        }

        var errors = new FieldErrors();
        var place = TextRules.Optional(
            location,
            "location",
            "The place of the offcuts",
            StockLot.LongestLocation,
            errors
        );
        CheckRemnants(remnants, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        foreach (var bar in Bars.GroupBy(b => b.Lot))
        {
            if (lots[bar.Key].Pieces < bar.Count())
            {
                return Failure.Because(
                    "notThere",
                    $"By the book {StockWords.Count(lots[bar.Key].Pieces)} of {bar.First().LotNumber} are there, and this card takes {bar.Count()}. Count that lot first, or discard the card and nest again."
                );
            }
        }

        var measured = remnants.ToDictionary(r => r.Bar, r => r.LengthMm ?? 0);
        var (offcuts, uses) = (new List<StockLot>(), new List<JobStock>());
        for (var i = 0; i < Bars.Count; i++)
        {
            var bar = Bars[i];
            var lot = lots[bar.Lot];
            var value = lot.Saw(hand, Id);
            var isMeasured = measured.TryGetValue(i + 1, out var remnant);
            remnant = isMeasured ? remnant : Kept(bar.RemnantMm);
            var keeps = remnant == 0 ? 0 : StockLot.Share(value, remnant, bar.StockMm);
            if (remnant > 0)
            {
                var (id, number) = newLot();
                offcuts.Add(lot.Offcut(id, number, remnant, place ?? lot.Location, keeps, hand, Id));
            }

            uses.AddRange(Uses(bar, lot, remnant, value - keeps, hand));
        }

        foreach (var piece in Bars.SelectMany(b => b.Pieces).GroupBy(p => (p.Job, p.Line)))
        {
            cutLists[piece.Key.Job].Saw(piece.Key.Line, piece.Count());
        }

        End(SawPlanState.Sawn, hand, null);
        return new Result(offcuts, uses);
    }

    /// <summary>It will not be sawn.</summary>
    public Outcome<Done> Discard(string? reason, StockHand hand)
    {
        var errors = new FieldErrors();
        var why = TextRules.Required(reason, "reason", "The reason", TextRules.ShortText, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (Ended() is { } ended)
        {
            return ended;
        }

        End(SawPlanState.Discarded, hand, why);
        return Outcome.Ok;
    }

    /// <summary>A remnant that is worth keeping, to a tenth of a millimetre; 0: scrap.</summary>
    public decimal Kept(decimal remnantMm)
    {
        var rounded = Math.Floor(remnantMm * 10) / 10;
        return rounded > 0 && rounded >= KeepFromMm ? rounded : 0;
    }

    private void CheckRemnants(IReadOnlyList<MeasuredRemnant> remnants, FieldErrors errors)
    {
        if (remnants.Count > Bars.Count)
        {
            errors.Add("remnants", $"{Number} has {Bars.Count} bars; {remnants.Count} remnants are named.");
            return;
        }

        for (var i = 0; i < remnants.Count; i++)
        {
            var (number, length) = remnants[i];
            var path = $"remnants[{i}]";
            if (number < 1 || number > Bars.Count)
            {
                errors.Add(path + ".bar", $"{Number} has bars 1 to {Bars.Count}.");
                continue;
            }

            var bar = Bars[number - 1];
            var most = bar.StockMm - bar.Pieces.Sum(p => p.LengthMm);
            errors
                .AddIf(remnants.Take(i).Any(r => r.Bar == number), path + ".bar", $"Bar {number} is named twice.")
                .AddIf(
                    length is null or < 0 || length > most || decimal.Round(length.Value, 3) != length,
                    path + ".lengthMm",
                    $"What is left of bar {number} is between 0 and {StockWords.Count(most)} mm."
                );
        }
    }

    private static IEnumerable<JobStock> Uses(
        SawnBar bar,
        StockLot lot,
        decimal remnant,
        long valueMinor,
        StockHand hand
    )
    {
        var jobs = bar.Pieces.GroupBy(p => p.Job).ToList();
        // In thousandths of a millimetre, as lengths are kept.
        long[] lengths = [.. jobs.Select(g => (long)(g.Sum(p => p.LengthMm) * 1000))];
        var values = Shares.Split(valueMinor, lengths);
        var gone = bar.StockMm - remnant;
        var all = bar.Pieces.Sum(p => p.LengthMm);
        return jobs.Select(
            (g, i) =>
                JobStock.Of(g.Key, lot, decimal.Round(gone * g.Sum(p => p.LengthMm) / all, 3), values[i], What(g), hand)
        );
    }

    /// <summary>What was sawn, cut to what is kept of a text.</summary>
    private static string What(IEnumerable<SawPiece> pieces)
    {
        var text = string.Join(
            ", ",
            pieces.GroupBy(p => p.Label).Select(g => g.Count() == 1 ? g.Key : $"{g.Count()} × {g.Key}")
        );
        return text.Length <= TextRules.ShortText ? text : text[..(TextRules.ShortText - 1)] + "…";
    }

    private Failure? Ended() =>
        State switch
        {
            SawPlanState.Sawn => Failure.Because("sawn", $"{Number} is sawn already."),
            SawPlanState.Discarded => Failure.Because("discarded", $"{Number} was discarded. Nest the pieces again."),
            _ => null,
        };

    private void End(SawPlanState state, StockHand hand, string? reason) =>
        (State, EndedBy, EndedAt, EndReason) = (state, hand.Person, hand.At, reason);
}
