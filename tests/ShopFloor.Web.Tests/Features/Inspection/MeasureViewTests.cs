using System.Globalization;
using AngleSharp.Dom;
using Bunit;
using ShopFloor.Web.Features.Inspection;

namespace ShopFloor.Web.Tests.Features.Inspection;

public sealed class MeasureViewTests : BunitContext
{
    [Fact]
    public void A_value_within_its_limits_lies_on_the_band_and_says_passed_in_word_and_glyph()
    {
        var cut = Show(lower: -1, upper: 1, value: 0.5m, passed: true);
        var (from, to, mark) = Places(cut);
        Assert.InRange(mark, from, to);
        Assert.Contains("✓", cut.Find("figcaption").TextContent, StringComparison.Ordinal);
        Assert.Contains("0.5 ° passed", cut.Find("figcaption").TextContent, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("-1.2")]
    [InlineData("7")]
    public void A_value_out_of_its_limits_lies_beside_the_band_and_says_failed(string text)
    {
        var value = decimal.Parse(text, CultureInfo.InvariantCulture);
        var cut = Show(lower: -1, upper: 1, value: value, passed: false);
        var (from, to, mark) = Places(cut);
        Assert.True(mark < from || mark > to, $"{mark} lies between {from} and {to}");
        Assert.Contains($"{text} ° failed", cut.Find("figcaption").TextContent, StringComparison.Ordinal);
        Assert.Equal("failed", cut.Find("figure").GetAttribute("data-result"));
    }

    [Fact]
    public void A_value_that_failed_within_its_limits_is_not_drawn_as_passed()
    {
        var cut = Show(lower: -1, upper: 1, value: 0, passed: false);
        Assert.NotEmpty(cut.FindAll(".measure-bad"));
        Assert.Empty(cut.FindAll(".measure-good"));
    }

    [Fact]
    public void With_one_limit_only_the_band_runs_to_the_end_of_the_scale()
    {
        var atLeast = Show(lower: 80, upper: null, value: 95, passed: true);
        var (_, to, mark) = Places(atLeast);
        Assert.Equal(296, to);
        Assert.True(mark < to);
        Assert.Single(atLeast.FindAll(".measure-limit"));
    }

    [Fact]
    public void Before_it_is_measured_the_scale_shows_its_limits_and_says_so()
    {
        var cut = Show(lower: -1, upper: 1, value: null, passed: false);
        Assert.Empty(cut.FindAll(".measure-mark"));
        Assert.Equal(["-1", "1"], cut.FindAll("text").Select(t => t.TextContent));
        Assert.Contains("Not measured yet", cut.Find("figcaption").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void A_screen_reader_hears_line_value_result_and_limits()
    {
        var label = Show(lower: -1, upper: 1, value: 2, passed: false).Find("svg").GetAttribute("aria-label");
        Assert.Equal("Hoop upright: 2 °, failed; limits -1 to 1 °", label);
    }

    [Fact]
    public void Earlier_readings_stay_visible()
    {
        var cut = Render<MeasureView>(p =>
            p.Add(v => v.Lower, -1)
                .Add(v => v.Upper, 1)
                .Add(v => v.Unit, "°")
                .Add(v => v.What, "Hoop upright")
                .Add(v => v.LimitsInWords, "-1 to 1 °")
                .Add(v => v.Value, 0)
                .Add(v => v.Passed, true)
                .Add(v => v.Earlier, [3m, 2m])
        );
        Assert.Equal(2, cut.FindAll(".measure-earlier").Count);
    }

    [Theory]
    [InlineData(null, null)]
    [InlineData("5", null)]
    [InlineData("0", "0")]
    [InlineData("-3", "12.5")]
    public void The_scale_always_has_a_width_and_holds_its_limits(string? lower, string? upper)
    {
        decimal? Read(string? text) => text is null ? null : decimal.Parse(text, CultureInfo.InvariantCulture);
        var (low, high) = (Read(lower), Read(upper));
        var scale = MeasureScale.Of(low, high, null, []);
        Assert.True(scale.From < scale.To);
        Assert.All(new[] { low, high }.OfType<decimal>(), l => Assert.InRange(l, scale.From, scale.To));
    }

    private IRenderedComponent<MeasureView> Show(decimal? lower, decimal? upper, decimal? value, bool passed) =>
        Render<MeasureView>(p =>
            p.Add(v => v.Lower, lower)
                .Add(v => v.Upper, upper)
                .Add(v => v.Unit, "°")
                .Add(v => v.What, "Hoop upright")
                .Add(v => v.LimitsInWords, "-1 to 1 °")
                .Add(v => v.Value, value)
                .Add(v => v.Passed, passed)
        );

    private static (double From, double To, double Mark) Places(IRenderedComponent<MeasureView> cut)
    {
        var band = cut.Find(".measure-band");
        var from = Number(band, "x");
        var d = cut.Find(".measure-mark").GetAttribute("d")!.Split(' ');
        return (from, from + Number(band, "width"), double.Parse(d[1], CultureInfo.InvariantCulture));
    }

    private static double Number(IElement element, string name) =>
        double.Parse(element.GetAttribute(name)!, CultureInfo.InvariantCulture);
}
