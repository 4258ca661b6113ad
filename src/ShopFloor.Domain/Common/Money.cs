using System.Globalization;

namespace ShopFloor.Domain.Common;

/// <summary>An ISO 4217 currency: its three-letter code and how many digits its minor unit has (0, 2 or 3).</summary>
/// <remarks>Source of codes and exponents: ISO 4217 list one (from memory; the exponents of common currencies are checked in the tests). <c>default</c> is refused by <see cref="Code"/>.</remarks>
public readonly record struct Currency
{
    private static readonly Dictionary<string, int> Exponents = BuildExponents();
    private readonly string? code;

    private Currency(string code) => this.code = code;

    public string Code => code ?? throw new InvalidOperationException("A currency must be named.");

    /// <summary>Digits of the minor unit: JPY 0, EUR 2, KWD 3.</summary>
    public int Exponent => Exponents[Code];

    /// <summary>Minor units in one major unit: 1, 100 or 1000.</summary>
    public long MinorPerMajor =>
        Exponent switch
        {
            0 => 1,
            2 => 100,
            _ => 1000,
        };

    public static IReadOnlyCollection<string> Known => Exponents.Keys;

    /// <summary>Reads a code; only upper-case codes of ISO 4217 currencies in use are known.</summary>
    public static bool TryParse(string? text, out Currency currency)
    {
        var known = text is not null && Exponents.ContainsKey(text);
        currency = known ? new Currency(text!) : default;
        return known;
    }

    public static Currency Of(string code) =>
        TryParse(code, out var currency)
            ? currency
            : throw new ArgumentException($"Unknown currency '{code}'.", nameof(code));

    public override string ToString() => code ?? "?";

    private static Dictionary<string, int> BuildExponents()
    {
        const string two =
            "AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CNY COP CRC CUP CVE CZK "
            + "DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP "
            + "LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB "
            + "SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD UYU UZS VES WST XCD YER ZAR ZMW";
        var exponents = two.Split(' ').ToDictionary(c => c, _ => 2, StringComparer.Ordinal);
        foreach (var c in "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF".Split(' '))
        {
            exponents[c] = 0;
        }

        foreach (var c in "BHD IQD JOD KWD LYD OMR TND".Split(' '))
        {
            exponents[c] = 3;
        }

        return exponents;
    }
}

/// <summary>How a fraction of a minor unit is rounded.</summary>
public enum MoneyRounding
{
    HalfUp,
    HalfEven,
}

/// <summary>An amount in whole minor units of one currency; may be negative (a refund). Adding two currencies is a programmer's mistake.</summary>
public readonly record struct Money(long Minor, Currency Currency) : IComparable<Money>
{
    public static Money Zero(Currency currency) => new(0, currency);

    public static Money operator +(Money a, Money b) => new(checked(a.Minor + Same(a, b).Minor), a.Currency);

    public static Money operator -(Money a, Money b) => new(checked(a.Minor - Same(a, b).Minor), a.Currency);

    public static Money operator -(Money a) => new(checked(-a.Minor), a.Currency);

    public static bool operator <(Money a, Money b) => a.Minor < Same(a, b).Minor;

    public static bool operator >(Money a, Money b) => a.Minor > Same(a, b).Minor;

    public static bool operator <=(Money a, Money b) => a.Minor <= Same(a, b).Minor;

    public static bool operator >=(Money a, Money b) => a.Minor >= Same(a, b).Minor;

    public int CompareTo(Money other) => Minor.CompareTo(Same(this, other).Minor);

    /// <summary>Rounds an exact amount of minor units. Half up means away from zero at exactly one half.</summary>
    /// <exception cref="OverflowException">The amount does not fit 64 bits.</exception>
    public static long Round(decimal minor, MoneyRounding rounding) =>
        decimal.ToInt64(
            decimal.Round(
                minor,
                0,
                rounding == MoneyRounding.HalfUp ? MidpointRounding.AwayFromZero : MidpointRounding.ToEven
            )
        );

    /// <summary>Major units with the currency's digits and its code, e.g. <c>1,234.50 EUR</c>, in the given culture's separators.</summary>
    public string ToString(CultureInfo culture)
    {
        if (ReferenceEquals(culture, CultureInfo.InvariantCulture))
        {
            return PlainFigures.Amount(Minor, Currency);
        }

        var digits = Currency.Exponent.ToString(CultureInfo.InvariantCulture);
        return ((decimal)Minor / Currency.MinorPerMajor).ToString("N" + digits, culture) + " " + Currency.Code;
    }

    public override string ToString() => ToString(CultureInfo.InvariantCulture);

    private static Money Same(Money a, Money b) =>
        a.Currency == b.Currency
            ? b
            : throw new InvalidOperationException($"{a.Currency} and {b.Currency} do not add up.");
}
