using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Goods;

/// <summary>How goods went out, as sent. Fields as in <see cref="GoodsOutDetails"/>.</summary>
public sealed record GoodsOutInput(
    GoodsWay? Way = null,
    DateOnly? On = null,
    int? Parcels = null,
    string? Carrier = null,
    string? ConsignmentNumber = null,
    decimal? MassKg = null,
    string? SentTo = null,
    string? Note = null,
    SignatureDetails? Signature = null
)
{
    internal GoodsOutDetails Details =>
        new(Way, On, Parcels, Carrier, ConsignmentNumber, MassKg, SentTo, Note, Signature);
}
