using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Goods;

/// <summary>How goods went out, as shown.</summary>
public sealed record GoodsOutView(
    GoodsOutId Id,
    long Version,
    JobId JobId,
    GoodsWay Way,
    DateOnly On,
    DateTimeOffset RecordedAt,
    int Parcels,
    string? Carrier,
    string? ConsignmentNumber,
    decimal? MassKg,
    string? SentTo,
    string? Note,
    SignatureKind? SignatureKind,
    string? SignedBy,
    IReadOnlyList<IReadOnlyList<int>> Strokes,
    long BalanceMinor,
    string Currency
)
{
    public static GoodsOutView Of(GoodsOut g) =>
        new(
            g.Id,
            g.Version,
            g.JobId,
            g.Way,
            g.On,
            g.RecordedAt,
            g.Parcels,
            g.Carrier,
            g.ConsignmentNumber,
            // Stored with three decimals; the zeros behind say nothing.
            g.MassKg / 1.000m,
            g.SentTo,
            g.Note,
            g.Signature?.Kind,
            g.Signature?.SignedBy,
            g.Signature?.Strokes ?? [],
            g.BalanceMinor,
            g.BalanceCurrency
        );
}
