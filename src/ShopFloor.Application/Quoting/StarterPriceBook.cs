using System.Text.Json;
using System.Text.Json.Serialization;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Quoting;

/// <summary>The price book that a new shop may start with: invented prices, meant to be replaced.</summary>
public static class StarterPriceBook
{
    private const string Resource = "StarterData/price-book.json";

    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

    /// <summary>The starter book in the shop's currency.</summary>
    public static PriceBook For(Currency currency)
    {
        using var stream = typeof(StarterPriceBook).Assembly.GetManifestResourceStream(Resource)!;
        return Scaled(JsonSerializer.Deserialize<PriceBook>(stream, Options)!, currency);
    }

    /// <summary>Reads a price book written as the starter's file is, amounts in the shop's own minor units.</summary>
    public static PriceBook Read(Stream json, Currency currency) =>
        JsonSerializer.Deserialize<PriceBook>(json, Options)! with
        {
            CurrencyCode = currency.Code,
        };

    /// <summary>The file's amounts are hundredths. A currency with thousandths gets ten times as many; one without a minor unit takes the same number, since its unit is about as small as a hundredth elsewhere.</summary>
    private static PriceBook Scaled(PriceBook book, Currency currency)
    {
        var factor = currency.Exponent == 3 ? 10 : 1;
        return PriceBookScale.By(book, factor) with { CurrencyCode = currency.Code };
    }
}
