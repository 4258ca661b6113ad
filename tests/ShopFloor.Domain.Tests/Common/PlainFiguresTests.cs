using System.Globalization;
using CsCheck;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Tests.Common;

public sealed class PlainFiguresTests
{
    [Fact]
    public void Numbers_are_written_as_the_framework_writes_them() =>
        Gen.OneOf(Gen.Decimal[-1e12m, 1e12m], Gen.Decimal[-10, 10], Gen.Int[-5000, 5000].Select(i => i / 8m))
            .Sample(value =>
                Assert.Equal(value.ToString("0.######", CultureInfo.InvariantCulture), PlainFigures.Number(value))
            );

    [Fact]
    public void Amounts_are_written_as_the_framework_writes_them() =>
        Gen.Select(Gen.Long, Gen.Int[0, 2].Select(i => new[] { "JPY", "EUR", "KWD" }[i]))
            .Sample(
                (minor, code) =>
                {
                    var currency = Currency.Of(code);
                    var exact = (decimal)minor / currency.MinorPerMajor;
                    var expected = exact.ToString("N" + currency.Exponent, CultureInfo.InvariantCulture) + " " + code;
                    Assert.Equal(expected, PlainFigures.Amount(minor, currency));
                }
            );
}
