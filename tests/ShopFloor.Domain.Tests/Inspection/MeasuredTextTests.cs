using System.Globalization;
using System.Numerics;
using CsCheck;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;

namespace ShopFloor.Domain.Tests.Inspection;

public sealed class MeasuredTextTests
{
    /// <summary>1 3/4 in is 44.45 mm, 1 5/8 in 41.275 mm, 3/8 in 9.525 mm: 25.4 mm to the inch by the yard and pound agreement of 1959.</summary>
    [Theory]
    [InlineData("1 3/4", "44.45")]
    [InlineData("1-3/4\"", "44.45")]
    [InlineData("1 3/4 in", "44.45")]
    [InlineData("1.75 in", "44.45")]
    [InlineData("44.45 mm", "44.45")]
    [InlineData("44,45", "44.45")]
    [InlineData("44.45", "44.45")]
    [InlineData("1 5/8\"", "41.275")]
    [InlineData("3/8", "9.525")]
    [InlineData("0.095 in", "2.413")]
    [InlineData("1/128", "0.1984375")]
    [InlineData("-1/64", "-0.396875")]
    [InlineData("2", "2")]
    public void A_length_is_read_as_it_is_typed_into_exact_millimetres(string text, string millimetres) =>
        Assert.Equal(Number(millimetres), Read(text, "mm"));

    [Theory]
    [InlineData("12.5", "12.5")]
    [InlineData("12,5°", "12.5")]
    [InlineData("-1.5 °", "-1.5")]
    public void Degrees_are_read_with_their_sign_or_without(string text, string degrees) =>
        Assert.Equal(Number(degrees), Read(text, "°"));

    [Theory]
    [InlineData("a bit", "is no value in mm")]
    [InlineData("1,045", "is no value in mm")]
    [InlineData("1/3", "is on no tape")]
    [InlineData("1/256", "is on no tape")]
    [InlineData("1.0000001", "finer than an instrument shows")]
    [InlineData("12345678", "finer than an instrument shows")]
    [InlineData("1/0", "is no value in mm")]
    public void What_cannot_be_a_reading_is_refused_with_a_sentence(string text, string sentence)
    {
        var errors = new FieldErrors();
        Assert.Null(MeasuredText.Read(text, "mm", "entered", errors));
        Assert.Contains(
            sentence,
            Assert.IsType<Failure.Invalid>(errors.ToFailure()).Errors.Single().Text,
            StringComparison.Ordinal
        );
    }

    /// <summary>Against whole-number fractions: value × 128 × 10 = (whole × denominator + numerator) × 254 × 128 / denominator, without any rounding.</summary>
    [Fact]
    public void Every_fraction_of_a_tape_agrees_with_exact_rational_arithmetic()
    {
        var typed = Gen.Select(Gen.Int[0, 9_999], Gen.Int[1, 7], Gen.Int[0, 1_000], Gen.Int[0, 3], Gen.Bool);
        typed.Sample(
            (whole, power, over, form, isNegative) =>
            {
                var under = 1 << power;
                var numerator = over % under;
                var gap = form is 0 or 1 ? " " : "-";
                var unit =
                    form is 0 or 2 ? ""
                    : form == 1 ? " in"
                    : "\"";
                var fraction = whole == 0 ? $"{numerator}/{under}" : $"{whole}{gap}{numerator}/{under}";
                var value = Read((isNegative ? "-" : "") + fraction + unit, "mm");

                var exactOver = ((new BigInteger(whole) * under) + numerator) * 254 * (isNegative ? -1 : 1);
                var exactUnder = new BigInteger(under) * 10;
                var (readOver, readUnder) = Rational(value);
                Assert.Equal(exactOver * readUnder, readOver * exactUnder);
            }
        );
    }

    /// <summary>The same for decimals: what was typed is what is kept.</summary>
    [Fact]
    public void Every_decimal_is_kept_as_typed() =>
        Gen.Select(Gen.Int[0, 999_999], Gen.Int[0, 999_999], Gen.Bool)
            .Sample(
                (whole, decimals, isComma) =>
                {
                    // With all six decimals a comma is never taken for thousands.
                    var text = string.Create(
                        CultureInfo.InvariantCulture,
                        $"{whole}{(isComma ? ',' : '.')}{decimals:000000} mm"
                    );
                    var (over, under) = Rational(Read(text, "mm"));
                    Assert.Equal(((new BigInteger(whole) * 1_000_000) + decimals) * under, over * 1_000_000);
                }
            );

    private static (BigInteger Over, BigInteger Under) Rational(decimal value)
    {
        var bits = decimal.GetBits(value);
        var over = unchecked(
            new BigInteger((uint)bits[0])
            + (new BigInteger((uint)bits[1]) << 32)
            + (new BigInteger((uint)bits[2]) << 64)
        );
        var scale = (bits[3] >> 16) & 0xFF;
        return (bits[3] < 0 ? -over : over, BigInteger.Pow(10, scale));
    }

    private static decimal Read(string text, string unit)
    {
        var errors = new FieldErrors();
        var value = MeasuredText.Read(text, unit, "entered", errors);
        Assert.False(errors.Any, text);
        return value!.Value;
    }

    private static decimal Number(string text) => decimal.Parse(text, CultureInfo.InvariantCulture);
}
