using System.Globalization;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>How goods or a part leave the shop.</summary>
public enum GoodsWay
{
    /// <summary>Given to a carrier.</summary>
    Sent,

    /// <summary>Taken along by the customer or somebody for them.</summary>
    Collected,
}

/// <summary>How goods went out; <see cref="GoodsOut"/> checks it.</summary>
/// <param name="Way">Needed.</param>
/// <param name="On">The local day; needed, from the job's first day to today.</param>
/// <param name="Parcels">How many pieces went; needed.</param>
/// <param name="Carrier">Who carries it; needed where it is sent.</param>
/// <param name="ConsignmentNumber">The carrier's number; needed where it is sent.</param>
/// <param name="MassKg">Mass of all parcels, kg, up to 3 decimals; needed where it is sent.</param>
/// <param name="SentTo">Name and place on the label; needed where it is sent.</param>
/// <param name="Note">Anything else.</param>
/// <param name="Signature">Of whoever collects; needed where it is collected.</param>
public sealed record GoodsOutDetails(
    GoodsWay? Way,
    DateOnly? On,
    int? Parcels,
    string? Carrier,
    string? ConsignmentNumber,
    decimal? MassKg,
    string? SentTo,
    string? Note,
    SignatureDetails? Signature
);

/// <summary>What the shop sold without a car leaves it: a kit that is sent, or a part that goes back. It closes the job as the hand-over closes that of a car.</summary>
public sealed class GoodsOut : IVersioned
{
    public const int MostParcels = 500;

    /// <summary>Of all parcels together, kg.</summary>
    public const decimal MostMassKg = 10_000m;

    private GoodsOut() { }

    public GoodsOutId Id { get; private set; }

    public JobId JobId { get; private set; }

    public GoodsWay Way { get; private set; }

    /// <summary>The local day.</summary>
    public DateOnly On { get; private set; }

    public DateTimeOffset RecordedAt { get; private set; }

    public int Parcels { get; private set; }

    /// <summary>Null where it was collected.</summary>
    public string? Carrier { get; private set; }

    /// <summary>Null where it was collected.</summary>
    public string? ConsignmentNumber { get; private set; }

    /// <summary>All parcels, kg; null where nobody weighed what was collected.</summary>
    public decimal? MassKg { get; private set; }

    /// <summary>Name and place; personal data. Null where it was collected.</summary>
    public string? SentTo { get; private set; }

    public string? Note { get; private set; }

    /// <summary>Of whoever collected it; null where it was sent.</summary>
    public Signature? Signature { get; private set; }

    /// <summary>What the customer still owed, minor units; negative where the shop owes.</summary>
    public long BalanceMinor { get; private set; }

    /// <summary>ISO 4217 code of the balance.</summary>
    public string BalanceCurrency { get; private set; } = "";

    public long Version { get; private set; }

    /// <summary>Checks what was filled in.</summary>
    /// <param name="id">New id.</param>
    /// <param name="jobId">The job that it closes.</param>
    /// <param name="details">As recorded.</param>
    /// <param name="firstDay">The local day on which the job was opened.</param>
    /// <param name="today">The local day now.</param>
    /// <param name="balance">What the customer owes.</param>
    /// <param name="at">Now.</param>
    public static Outcome<GoodsOut> Record(
        GoodsOutId id,
        JobId jobId,
        GoodsOutDetails details,
        DateOnly firstDay,
        DateOnly today,
        Money balance,
        DateTimeOffset at
    )
    {
        var errors = new FieldErrors();
        errors.AddIf(details.Way is null, "way", "Say whether it was sent or collected.");
        errors.AddIf(details.On is null, "on", "Name the day on which it left.");
        errors.AddIf(
            details.On > today || details.On < firstDay,
            "on",
            string.Create(
                CultureInfo.InvariantCulture,
                $"It left between {firstDay:yyyy-MM-dd}, when the job was opened, and today."
            )
        );
        errors.AddIf(details.Parcels is null, "parcels", "Count the parcels or pieces.");
        errors.AddIf(
            details.Parcels is < 1 or > MostParcels,
            "parcels",
            $"{details.Parcels} is outside 1 to {MostParcels} parcels or pieces."
        );
        CheckMass(details.MassKg, errors);
        var goods = new GoodsOut
        {
            Id = id,
            JobId = jobId,
            Way = details.Way ?? default,
            On = details.On ?? default,
            RecordedAt = at,
            Parcels = details.Parcels ?? 0,
            MassKg = details.MassKg,
            Note = TextRules.Optional(details.Note, "note", "The note", TextRules.Note, errors),
            BalanceMinor = balance.Minor,
            BalanceCurrency = balance.Currency.Code,
        };
        if (details.Way == GoodsWay.Sent)
        {
            goods.TakeCarrier(details, errors);
        }
        else if (details.Way == GoodsWay.Collected)
        {
            goods.TakeCollector(details, at, errors);
        }

        return errors.Any ? errors.ToFailure() : goods;
    }

    /// <summary>Forgets what leads to a person: address, signature, note. Carrier and number stay with the books.</summary>
    public void ErasePersonalData()
    {
        SentTo = SentTo is null ? null : Customer.ErasedName;
        Signature = Signature?.Erased();
        Note = null;
    }

    private void TakeCarrier(GoodsOutDetails details, FieldErrors errors)
    {
        Carrier = TextRules.Required(details.Carrier, "carrier", "The carrier's name", TextRules.Name, errors);
        ConsignmentNumber = TextRules.Required(
            details.ConsignmentNumber,
            "consignmentNumber",
            "The consignment number",
            TextRules.Code,
            errors
        );
        SentTo = TextRules.Required(
            details.SentTo,
            "sentTo",
            "Where it was sent (name and place)",
            TextRules.Note,
            errors
        );
        errors.AddIf(details.MassKg is null, "massKg", "Weigh the parcels: the mass is needed.");
        errors.AddIf(
            details.Signature is not null,
            "signature",
            "What is sent is not signed for here; leave the signature out."
        );
    }

    private void TakeCollector(GoodsOutDetails details, DateTimeOffset at, FieldErrors errors)
    {
        var signature = Signature.Take(details.Signature, "signature", at);
        errors.Take(signature);
        Signature = signature.IsSuccess ? signature.Value : null;
        foreach (
            var (path, text) in new[]
            {
                ("carrier", details.Carrier),
                ("consignmentNumber", details.ConsignmentNumber),
                ("sentTo", details.SentTo),
            }
        )
        {
            errors.AddIf(
                !string.IsNullOrWhiteSpace(text),
                path,
                "What is collected has no carrier: leave this out, or say that it was sent."
            );
        }
    }

    private static void CheckMass(decimal? massKg, FieldErrors errors)
    {
        errors.AddIf(
            massKg is <= 0 or > MostMassKg,
            "massKg",
            string.Create(CultureInfo.InvariantCulture, $"The mass {massKg} kg is outside 0.001 to {MostMassKg} kg.")
        );
        errors.AddIf(
            massKg is > 0 and <= MostMassKg && decimal.Round(massKg.Value, 3) != massKg,
            "massKg",
            "The mass has at most 3 decimals, which is grams."
        );
    }
}
