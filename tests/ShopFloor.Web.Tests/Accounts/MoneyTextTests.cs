using System.Globalization;
using ShopFloor.Web.Features.Account;

namespace ShopFloor.Web.Tests.Accounts;

public sealed class MoneyTextTests
{
    [Theory]
    [InlineData("-12.50", -1_250L)]
    [InlineData("\u22120.5", -50L)]
    [InlineData("12.50", 1_250L)]
    public void Amount_below_zero_is_read_where_more_may_go_out_than_come_in(string typed, long minor)
    {
        Assert.True(MoneyText.TryRead(typed, "EUR", CultureInfo.InvariantCulture, out var read, out _, true));
        Assert.Equal(minor, read);
        Assert.Equal(minor > 0, MoneyText.TryRead(typed, "EUR", CultureInfo.InvariantCulture, out _, out _));
    }

    [Theory]
    [InlineData("1250", "EUR", 125_000)]
    [InlineData("1250.5", "EUR", 125_050)]
    [InlineData("1250,50", "EUR", 125_050)]
    [InlineData("1,250.50", "EUR", 125_050)]
    [InlineData("1.250,50", "EUR", 125_050)]
    [InlineData("1,250", "EUR", 125_000)]
    [InlineData(" 12 000 ", "EUR", 1_200_000)]
    [InlineData("1250", "JPY", 1_250)]
    [InlineData("1.234", "KWD", 1_234)]
    [InlineData("1,234,567", "EUR", 123_456_700)]
    [InlineData("5,5", "EUR", 550)]
    [InlineData("0,5", "EUR", 50)]
    public void Amounts_are_read_as_people_type_them(string typed, string currency, long minor)
    {
        Assert.True(MoneyText.TryRead(typed, currency, CultureInfo.InvariantCulture, out var read, out _));
        Assert.Equal(minor, read);
    }

    [Theory]
    [InlineData("12.345", "EUR")]
    [InlineData("12.3456", "EUR")]
    [InlineData("1.5", "JPY")]
    [InlineData("-5", "EUR")]
    [InlineData("1,2,3", "EUR")]
    [InlineData("1.2.3", "EUR")]
    [InlineData("12,34,567", "EUR")]
    [InlineData("1,234.5,6", "EUR")]
    [InlineData("1,234", "KWD")]
    [InlineData("1e3", "EUR")]
    [InlineData("a lot", "EUR")]
    [InlineData("99999999999999999", "EUR")]
    public void What_is_no_amount_gets_a_sentence(string typed, string currency)
    {
        Assert.False(MoneyText.TryRead(typed, currency, CultureInfo.InvariantCulture, out _, out var sentence));
        Assert.NotEmpty(sentence);
    }

    [Fact]
    public void Blank_means_no_amount()
    {
        Assert.True(MoneyText.TryRead("  ", "EUR", CultureInfo.InvariantCulture, out var read, out _));
        Assert.Null(read);
    }
}
