using CsCheck;
using ShopFloor.Domain.Intake;
using Xunit;

namespace ShopFloor.Domain.Tests.Intake;

public class VinTests
{
    private const string Alphabet = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ";

    private static readonly Gen<string> AnyVin = Gen.Char[Alphabet].Array[17].Select(c => new string(c));

    private static readonly string[] SameValue = ["AJ1", "BKS2", "CLT3", "DMU4", "ENV5", "FW6", "GPX7", "HY8", "RZ9"];

    [Theory]
    // Sample number of 49 CFR 565, Table V (edition 2002).
    [InlineData("1G4AH59H45G118341", '4')]
    // Widely published example number; sum 351, remainder 10.
    [InlineData("1M8GDM9AXKP042788", 'X')]
    // Widely published: with every character 1 the weights of 49 CFR 565 Table IV add up to 89, remainder 1.
    [InlineData("11111111111111111", '1')]
    // Made up; worked by hand from Tables III and IV: sums 265, 204, 215, 240, 275, 274.
    [InlineData("1X9TEST01RT000001", '1')]
    [InlineData("1X9TEST06ST000002", '6')]
    [InlineData("1X9TEST06TT000003", '6')]
    [InlineData("1X9TE12A95T000004", '9')]
    [InlineData("1X9TEST00RT000006", '0')]
    [InlineData("1X9TEST0XRT000014", 'X')]
    public void Published_and_worked_numbers_have_the_check_digit_of_49_CFR_565(string text, char expected)
    {
        var report = VinReport.For(text);

        Assert.True(report.IsWellFormed);
        Assert.Equal(expected, report.CheckDigitExpected);
        Assert.True(report.CheckDigitMatches);
        Assert.Empty(report.Problems);
    }

    [Theory]
    [InlineData("1M8GDM9A1KP042788", 'X', '1')]
    [InlineData("1G4AH59H45G118342", '6', '4')]
    public void A_wrong_check_digit_is_a_problem_but_the_number_stays_well_formed(
        string text,
        char expected,
        char found
    )
    {
        var report = VinReport.For(text);

        Assert.True(report.IsWellFormed);
        Assert.False(report.CheckDigitMatches);
        Assert.Equal(expected, report.CheckDigitExpected);
        Assert.Equal(found, report.CheckDigitFound);
        Assert.Contains($"ask for {expected}", Assert.Single(report.Problems), StringComparison.Ordinal);
    }

    [Theory]
    // 49 CFR 565, Table VII: one code, two cycles of thirty years.
    [InlineData('A', 1980, 2010)]
    [InlineData('H', 1987, 2017)]
    [InlineData('J', 1988, 2018)]
    [InlineData('K', 1989, 2019)]
    [InlineData('P', 1993, 2023)]
    [InlineData('R', 1994, 2024)]
    [InlineData('T', 1996, 2026)]
    [InlineData('V', 1997, 2027)]
    [InlineData('Y', 2000, 2030)]
    [InlineData('1', 2001, 2031)]
    [InlineData('9', 2009, 2039)]
    public void Position_10_names_two_model_years(char code, int first, int second)
    {
        Assert.True(Vin.TryParse($"1X9TEST01{code}T000001", out var vin));
        Assert.Equal([first, second], vin.ModelYearCandidates);
    }

    [Theory]
    [InlineData('U')]
    [InlineData('Z')]
    [InlineData('0')]
    public void U_Z_and_0_in_position_10_stand_for_no_model_year(char code)
    {
        var report = VinReport.For($"1X9TEST01{code}T000001");

        Assert.True(report.IsWellFormed);
        Assert.Empty(report.ModelYearCandidates);
        Assert.Contains(report.Problems, p => p.Contains("no model year", StringComparison.Ordinal));
    }

    [Fact]
    public void Every_year_from_1980_to_2039_has_exactly_one_code()
    {
        var years = Alphabet.SelectMany(c =>
            Vin.TryParse($"1X9TEST01{c}T000001", out var vin) ? vin.ModelYearCandidates : []
        );

        Assert.Equal(Enumerable.Range(1980, 60), years.Order());
    }

    [Theory]
    [InlineData("1X9TEST01RT000001", 2024)]
    [InlineData("1X9TE12A95T000004", 2005)]
    public void Position_7_tells_the_cycle_of_a_light_vehicle(string text, int year)
    {
        Assert.True(Vin.TryParse(text, out var vin));
        Assert.Equal(year, vin.LightVehicleModelYear);
        Assert.Contains(
            year.ToString(System.Globalization.CultureInfo.InvariantCulture),
            Assert.Single(VinReport.For(text).Notes),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Lower_case_spaces_and_hyphens_are_how_people_write()
    {
        Assert.True(Vin.TryParse(" 1m8gdm9a-xkp0 42788 ", out var vin));
        Assert.Equal("1M8GDM9AXKP042788", vin.Text);
    }

    [Theory]
    [InlineData("1M8GDM9AXKPO42788", "1M8GDM9AXKP042788")]
    [InlineData("IM8GDM9AXKP042788", "1M8GDM9AXKP042788")]
    [InlineData("1M8GDM9AXKPQ42788", "1M8GDM9AXKP042788")]
    public void I_O_and_Q_are_refused_with_a_suggestion_in_words_only(string text, string suggestion)
    {
        var report = VinReport.For(text);

        Assert.False(report.IsWellFormed);
        Assert.Null(report.CheckDigitExpected);
        Assert.Null(report.CheckDigitFound);
        Assert.Null(report.CheckDigitMatches);
        Assert.Empty(report.ModelYearCandidates);
        Assert.Contains(suggestion, Assert.Single(report.Problems), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("1M8GDM9AXKP04278")]
    [InlineData("1M8GDM9AXKP0427889")]
    [InlineData("1M8GDM9AXKP04278Ä")]
    [InlineData("1M8GDM9AXKP04278*")]
    public void Other_lengths_and_characters_are_no_VIN(string text)
    {
        var report = VinReport.For(text);

        Assert.False(report.IsWellFormed);
        Assert.NotEmpty(report.Problems);
    }

    [Fact]
    public void One_digit_mistyped_as_another_is_always_caught() =>
        Gen.Select(AnyVin.Select(WithRightCheckDigit), Gen.Int[0, 16], Gen.Char["0123456789"])
            .Sample(
                (vin, at, digit) =>
                {
                    if (at == 8 || !char.IsAsciiDigit(vin[at]) || vin[at] == digit)
                    {
                        return;
                    }

                    Assert.True(Vin.TryParse(Replace(vin, at, digit), out var mistyped));
                    Assert.False(mistyped.CheckDigitMatches);
                }
            );

    [Fact]
    public void A_character_of_the_same_value_is_never_caught() =>
        Gen.Select(AnyVin.Select(WithRightCheckDigit), Gen.Int[0, 16], Gen.Int[0, 4])
            .Sample(
                (vin, at, pick) =>
                {
                    if (
                        at == 8
                        || SameValue.FirstOrDefault(g => g.Contains(vin[at], StringComparison.Ordinal)) is not { } group
                    )
                    {
                        return;
                    }

                    Assert.True(Vin.TryParse(Replace(vin, at, group[pick % group.Length]), out var swapped));
                    Assert.True(swapped.CheckDigitMatches);
                }
            );

    [Fact]
    public void Two_neighbours_of_different_value_changing_places_are_caught() =>
        Gen.Select(AnyVin.Select(WithRightCheckDigit), Gen.Int[0, 15])
            .Sample(
                (vin, at) =>
                {
                    if (at is 7 or 8 || AreSameValue(vin[at], vin[at + 1]))
                    {
                        return;
                    }

                    var swapped = Replace(Replace(vin, at, vin[at + 1]), at + 1, vin[at]);
                    Assert.True(Vin.TryParse(swapped, out var wrong));
                    Assert.False(wrong.CheckDigitMatches);
                }
            );

    private static string WithRightCheckDigit(string text)
    {
        Assert.True(Vin.TryParse(text, out var vin));
        return Replace(text, 8, vin.CheckDigitExpected);
    }

    private static string Replace(string text, int at, char c) => text[..at] + c + text[(at + 1)..];

    private static bool AreSameValue(char a, char b) =>
        a == b
        || SameValue.Any(g => g.Contains(a, StringComparison.Ordinal) && g.Contains(b, StringComparison.Ordinal));
}
