using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Changes;

/// <summary>The change order as frozen when it is offered: canonical JSON, decimals as strings, without the shop's own costs and without free text that may name people (its hash stands there), so that the hash outlives an erasure.</summary>
public static class ChangeSnapshot
{
    public const int Schema = 1;

    internal static string Write(ChangeOrder change)
    {
        var terms = change.Terms;
        return CanonicalJson.Write(
            new
            {
                Schema,
                change.Number,
                ChangeOrderId = change.Id.Value,
                JobId = change.JobId.Value,
                PriceBookId = change.PriceBookId.Value,
                terms.Basis,
                ReasonSha256 = CanonicalJson.Sha256(terms.Reason),
                PhotoIds = terms.PhotoIds.Select(p => p.Value),
                terms.Work,
                terms.Operations,
                terms.InspectionLines,
                terms.Discount,
                Extras = terms.Extras with
                {
                    Lines = [.. terms.Extras.Lines.Select(l => l with { UnitCostMinor = null })],
                },
                terms.ConditionAgreed,
                terms.ConditionFound,
                terms.PromiseDays,
                terms.PromiseOn,
                terms.Holds,
                change.PromisedBefore,
                PromisedAfter = terms.PromiseAfter(change.PromisedBefore),
                change.OfferedAt,
                change.Price.Sentences,
                Priced = change.Price.Priced with
                {
                    Cost = null,
                },
            },
            FrozenJson.Options
        );
    }

    /// <summary>Whether a stored snapshot still has its hash.</summary>
    public static bool IsIntact(string snapshot, string contentHash) =>
        string.Equals(CanonicalJson.Sha256(snapshot), contentHash, StringComparison.Ordinal);
}
