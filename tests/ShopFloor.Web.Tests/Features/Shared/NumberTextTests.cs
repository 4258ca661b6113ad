using System.Globalization;
using CsCheck;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Tests.Features.Shared;

/// <summary>Typed figures. That a point and a comma are both used before decimals, and both to group thousands, is common practice; the cultures say which is usual where.</summary>
public sealed class NumberTextTests
{
    [Theory]
    [InlineData("5,5", 4, "en-GB", "5.5")]
    [InlineData("5.5", 4, "de-DE", "5.5")]
    [InlineData("1,5", 6, "en-GB", "1.5")]
    [InlineData("0,125", 6, "en-GB", "0.125")]
    [InlineData(",5", 2, "en-GB", "0.5")]
    [InlineData("1.500", 3, "en-GB", "1.500")]
    [InlineData("1,500", 3, "de-DE", "1.500")]
    [InlineData("1,500", 2, "en-GB", "1500")]
    [InlineData("1.500", 2, "de-DE", "1500")]
    [InlineData("1,500.25", 3, "en-GB", "1500.25")]
    [InlineData("12,345,678", 2, "en-GB", "12345678")]
    [InlineData("1 250,5", 2, "fr-FR", "1250.5")]
    [InlineData("7", 0, "en-GB", "7")]
    public void Figures_are_read_as_people_type_them(string typed, int decimals, string culture, string expected)
    {
        var reading = NumberText.Read(typed, decimals, CultureInfo.GetCultureInfo(culture), out var number);

        Assert.Equal(NumberReading.Fine, reading);
        Assert.Equal(decimal.Parse(expected, CultureInfo.InvariantCulture), number);
    }

    [Theory]
    [InlineData("1,500", 3, "en-GB", NumberReading.Ambiguous)]
    [InlineData("1.500", 6, "de-DE", NumberReading.Ambiguous)]
    [InlineData("1,2,3", 2, "en-GB", NumberReading.NoNumber)]
    [InlineData("1,23,456", 2, "en-GB", NumberReading.NoNumber)]
    [InlineData("1.234,5.6", 2, "en-GB", NumberReading.NoNumber)]
    [InlineData("-5", 2, "en-GB", NumberReading.NoNumber)]
    [InlineData("--5", 2, "en-GB", NumberReading.NoNumber)]
    [InlineData("+5", 2, "en-GB", NumberReading.NoNumber)]
    [InlineData("5e2", 2, "en-GB", NumberReading.NoNumber)]
    [InlineData("٥", 2, "en-GB", NumberReading.NoNumber)]
    [InlineData(".", 2, "en-GB", NumberReading.NoNumber)]
    [InlineData("5.555", 2, "en-GB", NumberReading.TooManyDecimals)]
    [InlineData("5.5", 0, "en-GB", NumberReading.TooManyDecimals)]
    [InlineData("99999999999999999999", 2, "en-GB", NumberReading.Fine)]
    [InlineData("999999999999999999999999999999", 2, "en-GB", NumberReading.NoNumber)]
    public void What_cannot_be_read_is_never_guessed(
        string typed,
        int decimals,
        string culture,
        NumberReading expected
    ) => Assert.Equal(expected, NumberText.Read(typed, decimals, CultureInfo.GetCultureInfo(culture), out _));

    [Fact]
    public void A_whole_number_with_decimals_gets_its_own_sentence()
    {
        Assert.False(NumberWords.TryRead("2.9", 0, CultureInfo.GetCultureInfo("en-GB"), out _, out var sentence));
        Assert.Equal("'2.9' is no whole number; write digits alone, such as 1250.", sentence);
        Assert.True(NumberWords.TryRead("178,352", 0, CultureInfo.GetCultureInfo("en-GB"), out var km, out _));
        Assert.Equal(178_352, km);
        Assert.False(NumberWords.TryRead("1,5", 0, CultureInfo.GetCultureInfo("en-GB"), out _, out _));
    }

    [Theory]
    [InlineData("en-GB")]
    [InlineData("de-DE")]
    [InlineData("fr-FR")]
    [InlineData("de-CH")]
    public void What_the_program_writes_it_reads_back(string culture)
    {
        var info = CultureInfo.GetCultureInfo(culture);
        Gen.Select(Gen.Long[0, 9_999_999], Gen.Int[0, 6])
            .Sample(
                (scaled, decimals) =>
                {
                    var number = scaled / (decimal)Math.Pow(10, decimals);
                    var text = number.ToString("0.######", info);
                    return NumberText.Read(text, 6, info, out var read) == NumberReading.Fine && read == number;
                }
            );
    }
}
