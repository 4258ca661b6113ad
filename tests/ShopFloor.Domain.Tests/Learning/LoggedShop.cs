using ShopFloor.Domain.Common;
using ShopFloor.Domain.Forecast;
using ShopFloor.Domain.Learning;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Learning;

/// <summary>A made-up shop whose true minutes are known: how far each standard and each answer is off, how much cars and operations differ.</summary>
internal sealed class LoggedShop(int seed, IReadOnlyDictionary<string, double> off)
{
    public static readonly GivenAnswer Rust = new("rust", "heavy");
    private readonly Dice dice = new(seed);
    private int car;

    public double CarSpread { get; init; } = 0.2;
    public double OperationSpread { get; init; } = 0.3;

    public IReadOnlyList<WorkEvidence> Cars(int count) => [.. Enumerable.Range(0, count).SelectMany(_ => Car())];

    /// <summary>One operation of each standard, one of the first two together, and every other car with the answer on the first standard.</summary>
    public IReadOnlyList<WorkEvidence> Car()
    {
        var id = JobId.From(new Guid(++car, 0, 0x7000, 0x80, 0, 0, 0, 0, 0, 0, 0));
        var factor = CarSpread * dice.Normal();
        var rusty = car % 2 == 0 && off.ContainsKey("rust");
        var codes = off.Keys.Where(c => c != "rust").Order(StringComparer.Ordinal).ToList();
        var all = codes.Select((c, i) => Worked($"{10 * (i + 1)}", [c])).ToList();
        if (codes.Count > 1)
        {
            all.Add(Worked("90", [codes[0], codes[1]]));
        }

        return all;

        WorkEvidence Worked(string operation, IReadOnlyList<string> standards)
        {
            var parts = standards
                .Select(s => new EvidencePart(s, 30 + (200 * dice.Share()), rusty && s == codes[0] ? [Rust] : []))
                .ToList();
            var right = parts.Sum(p =>
                p.EstimatedMinutes * off[p.StandardCode] * (p.Answers.Count > 0 ? off["rust"] : 1)
            );
            // The mean of the factor of car and operation is 1: hours that are right are right on average.
            var spread = (CarSpread * CarSpread) + (OperationSpread * OperationSpread);
            var took = right * Math.Exp(factor + (OperationSpread * dice.Normal()) - (spread / 2));
            return new WorkEvidence(id, operation, took, parts);
        }
    }
}
