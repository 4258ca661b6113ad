using System.Text.Json;
using System.Text.Json.Serialization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Demo;

/// <summary>The demo shop as its data files tell it; days are working days before (negative) or after today.</summary>
internal sealed record DemoStory(
    DemoShopData Shop,
    IReadOnlyList<DemoPersonData> People,
    IReadOnlyList<DemoCustomerData> Customers,
    IReadOnlyList<DemoCarData> Cars,
    IReadOnlyList<DemoJobData> Jobs,
    IReadOnlyList<DemoBookData> PriceBook,
    DemoMoneyData Money,
    DemoBenchData Workbench,
    DemoMaterialData Materials,
    DemoDiaryData Diary,
    DemoStockData Stock
)
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

    public static DemoStory Read() =>
        new(
            Read<DemoShopData>("shop"),
            Read<List<DemoPersonData>>("people"),
            Read<List<DemoCustomerData>>("customers"),
            Read<List<DemoCarData>>("cars"),
            Read<List<DemoJobData>>("jobs"),
            Read<List<DemoBookData>>("price-book"),
            Read<DemoMoneyData>("money"),
            Read<DemoBenchData>("workbench"),
            Read<DemoMaterialData>("materials"),
            Read<DemoDiaryData>("diary"),
            Read<DemoStockData>("stock")
        );

    private static T Read<T>(string name)
    {
        using var stream =
            typeof(DemoStory).Assembly.GetManifestResourceStream($"demo-seed/{name}.json")
            ?? throw new InvalidOperationException($"demo-seed/{name}.json is not embedded.");
        return JsonSerializer.Deserialize<T>(stream, Options)!;
    }
}

internal sealed record DemoShopData(
    string Name,
    string LegalName,
    string Address,
    string TaxRegistration,
    string Email,
    string Phone,
    string OpeningHours,
    string Currency,
    string TimeZone,
    string LengthUnit,
    IReadOnlyDictionary<string, int> Stands,
    int CarsAtOnce
);

internal sealed record DemoPersonData(string Key, string Name, string Email, IReadOnlyList<string> Roles);

internal sealed record DemoCustomerData(
    string Key,
    string Name,
    IReadOnlyList<string> AddressLines,
    string Email,
    string Phone,
    string? TaxNumber = null,
    string? Language = null,
    PayerDetails? Payer = null
);

internal sealed record DemoCarData(
    string Key,
    string Customer,
    string Make,
    string Model,
    int ModelYear,
    string Vin,
    string Registration,
    int OdometerKm,
    CarFacts Facts
);

/// <param name="Car">Null for a kit that is sent; then <paramref name="Customer"/> says to whom.</param>
/// <param name="Kit">Null for a return visit; then <paramref name="Bench"/> says what is done.</param>
/// <param name="ReturnOf">Key of the earlier job of a return visit.</param>
/// <param name="FreeReason">Why a return visit costs nothing.</param>
/// <param name="PaysOnDay">When the rest is paid, where that is not just before the sign-off.</param>
internal sealed record DemoJobData(
    string Key,
    string? Car,
    string? Kit,
    string Use,
    IReadOnlyList<string> RuleSets,
    IReadOnlyDictionary<string, string> Doors,
    IReadOnlyDictionary<string, string> Assumed,
    DemoQuoteData Quote,
    IReadOnlyDictionary<string, string>? Found = null,
    DemoDepositData? Deposit = null,
    DemoDropOffData? DropOff = null,
    IReadOnlyList<DemoPartData>? Parts = null,
    DemoWorkData? Work = null,
    DemoHandOverData? HandOver = null,
    bool ProgressLink = false,
    SaleKind Kind = SaleKind.Fitted,
    string? Customer = null,
    IReadOnlyList<BenchItem>? Bench = null,
    string? ReturnOf = null,
    string? FreeReason = null,
    string? FreightZone = null,
    DemoGoodsOutData? GoodsOut = null,
    int? PaysOnDay = null
);

/// <param name="Answer"><c>accepted</c>, <c>declined</c>, or null while it waits.</param>
/// <param name="Revisions">More than 1: the first was sent without discount and exchange and then revised.</param>
internal sealed record DemoQuoteData(
    int Day,
    string? Answer = null,
    int AnswerDay = 0,
    string? AnswerBy = null,
    decimal? DiscountPercent = null,
    long? TradeCreditMinor = null,
    string? Note = null,
    int Revisions = 1
);

internal sealed record DemoDepositData(int Day, int Percent, string Method);

internal sealed record DemoDropOffData(
    int Day,
    int OdometerKm,
    int FuelPercent,
    int Keys,
    IReadOnlyList<string> StaysFitted,
    IReadOnlyList<string> InTheCar,
    PhotoConsent PhotoConsent,
    bool Authorise = true
);

internal sealed record DemoPartData(string Code, string What, int DueDay, int? ArrivesDay = null);

/// <param name="Until">Code of the last operation that is done.</param>
internal sealed record DemoWorkData(
    string Fabricator,
    int Day,
    string Until,
    DemoNowData? Now = null,
    IReadOnlyList<DemoHoldData>? Holds = null,
    IReadOnlyList<DemoFailureData>? Failures = null
);

/// <summary>How the operation after <see cref="DemoWorkData.Until"/> stands today.</summary>
/// <param name="State"><c>inWork</c> or <c>onHold</c>.</param>
internal sealed record DemoNowData(string Operation, string State, string? Reason = null);

internal sealed record DemoHoldData(string Operation, string Reason, int Hours);

/// <summary>The first line of an operation that failed before it passed.</summary>
internal sealed record DemoFailureData(string Operation, string Note, string Disposition, FaultCause Cause);

internal sealed record DemoHandOverData(int Day, int OdometerKm, string Method);

internal sealed record DemoGoodsOutData(
    int Day,
    string Carrier,
    string ConsignmentNumber,
    int Parcels,
    decimal MassKg,
    string Method
);
