using ShopFloor.Application.Intake.HandOvers;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Returns;

/// <summary>The return as sent. Fields as in <see cref="CarReturnDetails"/>.</summary>
/// <param name="SettleLater">The car goes although the shop owes the customer a refund. What the customer owes is for the owner to decide.</param>
public sealed record CarReturnInput(
    int? OdometerKm = null,
    IReadOnlyList<WarningLight>? WarningLights = null,
    int? FuelPercent = null,
    int? KeysReturned = null,
    IReadOnlyList<LookInput>? Looks = null,
    IReadOnlyList<PartBackInput>? PartsBack = null,
    IReadOnlyList<RemovedPartInput>? RemovedParts = null,
    string? LeftOpen = null,
    string? Note = null,
    SignatureDetails? Signature = null,
    bool SettleLater = false
)
{
    internal Outcome<CarReturnDetails> Details()
    {
        var errors = new FieldErrors();
        for (var i = 0; i < (PartsBack?.Count ?? 0); i++)
        {
            errors.AddIf(PartsBack![i]?.PartId is null, $"partsBack[{i}].partId", "Name the part's id.");
        }

        for (var i = 0; i < (RemovedParts?.Count ?? 0); i++)
        {
            errors.AddIf(RemovedParts![i] is null, $"removedParts[{i}]", "An entry of the removed parts is empty.");
        }

        return errors.Any
            ? errors.ToFailure()
            : new CarReturnDetails(
                OdometerKm,
                WarningLights,
                FuelPercent,
                KeysReturned,
                LookInput.DetailsOf(Looks),
                PartsBack is null
                    ? null
                    : [.. PartsBack.Select(p => new PartBack(p.PartId!.Value, p.IsBack ?? false, p.Note))],
                RemovedParts is null ? null : [.. RemovedParts.Select(p => new RemovedPart(p.What, p.Place))],
                LeftOpen,
                Note,
                Signature
            );
    }
}

/// <summary>One part of the customer's. Fields as in <see cref="PartBack"/>.</summary>
public sealed record PartBackInput(CustomerPartId? PartId = null, bool? IsBack = null, string? Note = null);

/// <summary>One part of the car. Fields as in <see cref="RemovedPart"/>.</summary>
public sealed record RemovedPartInput(string? What = null, RemovedPartPlace? Place = null);
