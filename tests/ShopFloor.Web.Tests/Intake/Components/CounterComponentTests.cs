using Bunit;
using Microsoft.AspNetCore.Components.Web;
using MudBlazor.Services;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Features.Cars;
using ShopFloor.Web.Features.DropOffs;
using ShopFloor.Web.Features.Shared;

namespace ShopFloor.Web.Tests.Intake.Components;

/// <summary>The parts of the counter's pages that decide something themselves.</summary>
public sealed class CounterComponentTests : BunitContext
{
    private static readonly DateTimeOffset At = new(2026, 5, 6, 12, 0, 0, TimeSpan.Zero);

    public CounterComponentTests()
    {
        System.Globalization.CultureInfo.CurrentCulture = System.Globalization.CultureInfo.InvariantCulture;
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddMudServices();
    }

    [Fact]
    public void None_is_lit_is_an_answer_and_unticking_it_takes_the_answer_back()
    {
        IReadOnlyList<WarningLight>? value = null;
        var cut = Render<WarningLightsField>(p => p.Bind(c => c.Value, value, v => value = v));

        cut.Find("input").Change(true);
        Assert.Empty(value!);
        cut.Find("input").Change(false);
        Assert.Null(value);
    }

    [Fact]
    public void A_lamp_that_is_ticked_replaces_none_is_lit()
    {
        IReadOnlyList<WarningLight>? value = [];
        var cut = Render<WarningLightsField>(p => p.Bind(c => c.Value, value, v => value = v));

        cut.FindAll("label").Single(l => l.TextContent.Trim() == "Airbag").QuerySelector("input")!.Change(true);

        Assert.Equal([WarningLight.Airbag], value);
    }

    [Fact]
    public void An_odometer_in_miles_is_handed_on_in_kilometres()
    {
        int? km = null;
        var cut = Odometer(true, v => km = v);

        Assert.Contains("Odometer, miles", cut.Markup, StringComparison.Ordinal);
        cut.Find("input").Input("50331");

        Assert.Equal(81_000, km);
    }

    [Theory]
    [InlineData("1,5")]
    [InlineData("2.9")]
    [InlineData("1e5")]
    public void A_count_that_cannot_be_read_keeps_the_form_from_being_saved(string typed)
    {
        int? km = null;
        var cut = Render<TypedFields>(p =>
            p.AddChildContent<WholeField>(o =>
                o.Add(c => c.Label, "Odometer").Add(c => c.InputId, "odometer").Add(c => c.ValueChanged, v => km = v)
            )
        );
        cut.Find("input").Input("178352");

        cut.Find("input").Input(typed);

        Assert.Equal(178_352, km);
        Assert.True(cut.Instance.Refuse());
        cut.Find("input").Input("178,353");
        Assert.False(cut.Instance.Refuse());
        Assert.Equal(178_353, km);
    }

    private IRenderedComponent<TypedFields> Odometer(bool inMiles, Action<int?> take) =>
        Render<TypedFields>(p =>
            p.AddChildContent<OdometerField>(o => o.Add(c => c.KmChanged, take).Add(c => c.StartInMiles, inMiles))
        );

    [Fact]
    public void Pointing_at_the_plan_gives_the_place_as_shares_of_its_sides()
    {
        PlanPlace? pointed = null;
        var cut = Render<CarPlan>(p => p.Add(c => c.CanPoint, true).Add(c => c.Pointed, place => pointed = place));

        cut.Find(".plan").Click(new MouseEventArgs { OffsetX = 57.5, OffsetY = 230 });

        Assert.Equal(new PlanPlace(0.25, 0.5), pointed);
    }

    [Fact]
    public void Pointing_means_nothing_while_no_photo_is_chosen()
    {
        PlanPlace? pointed = null;
        var cut = Render<CarPlan>(p => p.Add(c => c.Pointed, place => pointed = place));

        cut.Find(".plan").Click(new MouseEventArgs { OffsetX = 57.5, OffsetY = 230 });

        Assert.Null(pointed);
    }

    [Fact]
    public void Photos_stand_on_the_plan_as_buttons_that_say_what_they_show()
    {
        var photo = Ids.New<PhotoId>(At);
        CarPlan.Mark? chosen = null;
        var cut = Render<CarPlan>(p =>
            p.Add(c => c.Marks, [new CarPlan.Mark(3, new PlanPlace(0.1, 0.5), "Left door", true, photo)])
                .Add(c => c.MarkChosen, mark => chosen = mark)
        );

        var mark = cut.Find("button.mark");
        Assert.Equal("Photo 3: Left door", mark.GetAttribute("aria-label"));
        Assert.Equal("true", mark.GetAttribute("aria-pressed"));
        mark.Click();
        Assert.Equal(photo, chosen?.Photo);
    }

    [Fact]
    public void A_vin_offers_its_model_years_to_choose()
    {
        int? year = null;
        var cut = Render<VinCheck>(p => p.Add(c => c.Text, "1M8GDM9AXKP042788").Add(c => c.YearChosen, y => year = y));

        Assert.Contains("✓ Well-formed VIN", cut.Markup, StringComparison.Ordinal);
        cut.FindAll("button").Single(b => b.TextContent == "2019").Click();

        Assert.Equal(2019, year);
    }

    [Fact]
    public void A_short_chassis_number_is_no_fault()
    {
        var cut = Render<VinCheck>(p => p.Add(c => c.Text, "412-77"));

        Assert.Empty(cut.FindAll(".error"));
        Assert.Contains("are kept as they are", cut.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void The_rest_as_assumed_leaves_what_was_found_alone()
    {
        Dictionary<string, string?> found = new() { ["rust"] = "heavy" };
        var cut = RenderQuestions(found, null);

        cut.FindAll("button")
            .Single(b => b.TextContent.Contains("rest is as assumed", StringComparison.Ordinal))
            .Click();

        Assert.Equal("heavy", found["rust"]);
        Assert.Equal("sound", found["floor"]);
    }

    [Fact]
    public void A_difference_is_told_in_money_hours_and_sentences_and_asks_for_a_change_order()
    {
        var difference = new DifferenceView(
            false,
            1.5m,
            12_500,
            "EUR",
            [new AnswerDifference("rust", "light", "heavy", 1.5m, 12_500, "Rust: heavy found, light assumed.")],
            ["No plate on metal that cannot carry it."]
        );

        var cut = RenderQuestions(new Dictionary<string, string?> { ["rust"] = "heavy" }, difference);

        var told = cut.Find("[data-testid=difference]").TextContent;
        Assert.Contains("125.00 EUR more, 1.5 h more", told, StringComparison.Ordinal);
        Assert.Contains("Rust: heavy found, light assumed.", told, StringComparison.Ordinal);
        Assert.Contains("No plate on metal", told, StringComparison.Ordinal);
        Assert.Contains("change order", told, StringComparison.Ordinal);
        Assert.Contains("≠ Differs", cut.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void A_choice_is_told_by_its_radio_button()
    {
        bool? value = null;
        var cut = Render<Choice<bool?>>(p =>
            p.Add(c => c.Legend, "Now")
                .Add(
                    c => c.Options,
                    [new Choice<bool?>.Option(true, "Same"), new Choice<bool?>.Option(false, "Different")]
                )
                .Bind(c => c.Value, value, v => value = v)
        );

        Assert.DoesNotContain(cut.FindAll("input"), i => i.HasAttribute("checked"));
        cut.FindAll("input")[1].Change("on");
        Assert.False(value);
    }

    private IRenderedComponent<ConditionFields> RenderQuestions(
        Dictionary<string, string?> found,
        DifferenceView? difference
    ) =>
        Render<ConditionFields>(p =>
            p.Add(
                    c => c.Questions,
                    [
                        new AssumedAnswer(
                            "rust",
                            "Rust",
                            "light",
                            [
                                new AnswerChoice("none", "none"),
                                new AnswerChoice("light", "light"),
                                new AnswerChoice("heavy", "heavy"),
                            ]
                        ),
                        new AssumedAnswer(
                            "floor",
                            "Floor",
                            "sound",
                            [new AnswerChoice("sound", "sound"), new AnswerChoice("thin", "thin")]
                        ),
                    ]
                )
                .Add(c => c.Found, found)
                .Add(c => c.Difference, difference)
        );
}
