using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Tests.Quoting;

public sealed class OutsideChecks
{
    // ISO 4217, list one (from memory): digits after the decimal sign.
    [Theory]
    [InlineData("JPY", 0)]
    [InlineData("KRW", 0)]
    [InlineData("EUR", 2)]
    [InlineData("USD", 2)]
    [InlineData("GBP", 2)]
    [InlineData("CAD", 2)]
    [InlineData("KWD", 3)]
    [InlineData("BHD", 3)]
    [InlineData("TND", 3)]
    public void Currencies_have_the_digits_of_the_standard(string code, int digits) =>
        Assert.Equal(digits, Currency.Of(code).Exponent);

    [Fact]
    public void Keys_sort_by_utf16_code_unit_as_in_the_canonical_json_standard()
    {
        // RFC 8785 section 3.2.3, its own sample of property names (from memory).
        var sample = new JsonObject
        {
            ["\u20ac"] = "Euro Sign",
            ["\r"] = "Carriage Return",
            ["\ufb33"] = "Hebrew Letter Dalet With Dagesh",
            ["1"] = "One",
            ["\ud83d\ude00"] = "Emoji: Grinning Face",
            ["\u0080"] = "Control",
            ["\u00f6"] = "Latin Small Letter O With Diaeresis",
        };

        var values = JsonNode.Parse(CanonicalJson.Write(sample))!.AsObject().Select(p => p.Value!.GetValue<string>());

        Assert.Equal(
            [
                "Carriage Return",
                "One",
                "Control",
                "Latin Small Letter O With Diaeresis",
                "Euro Sign",
                "Emoji: Grinning Face",
                "Hebrew Letter Dalet With Dagesh",
            ],
            values
        );
    }

    [Fact]
    public void Strings_are_escaped_as_in_the_canonical_json_standard()
    {
        // RFC 8785 section 3.2.2, string of its sample (from memory): €$ U+000F line feed A ' B " \ \ " /
        var sample = new JsonObject { ["string"] = "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"/" };

        Assert.Equal("{\"string\":\"\u20ac$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"}", CanonicalJson.Write(sample));
    }

    [Fact]
    public void Literals_and_nesting_have_no_white_space() =>
        Assert.Equal(
            """{"literals":[null,true,false],"numbers":[1,-2,0]}""",
            CanonicalJson.Write(JsonNode.Parse("""{ "numbers": [1, -2, 0], "literals": [ null, true, false ] }"""))
        );
}
