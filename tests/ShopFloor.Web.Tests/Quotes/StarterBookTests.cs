using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Web.Tests.Quotes;

/// <summary>The shipped price book and the shipped routes fit together.</summary>
public sealed class StarterBookTests
{
    private static readonly RouteLibrary Routes = new();
    private static readonly PriceBook Book = StarterPriceBook.For(Currency.Of("EUR"));

    public static TheoryData<string> Kits => [.. Book.Kits.Select(k => k.Code)];

    private static JobScope Scope(string kit, params (string Question, string Answer)[] condition) =>
        new(
            kit,
            "street",
            [],
            Book.FindKit(kit)!.HasDoorBars ? [new(DoorSide.Left, "swing-out-pin"), new(DoorSide.Right, "fixed")] : [],
            condition.ToDictionary(c => c.Question, c => c.Answer),
            Car.UnknownFacts
        );

    private static PricedQuote Price(JobScope scope) =>
        PriceEngine
            .Price(Book, new PriceInput(scope, Routes.For(scope), Discount.None, 0, new DateOnly(2026, 5, 4)))
            .Value;

    [Theory]
    [MemberData(nameof(Kits))]
    public void Every_answer_to_every_question_can_be_priced(string kit)
    {
        foreach (var question in Book.Questions)
        {
            foreach (var answer in question.Answers)
            {
                Assert.True(Price(Scope(kit, (question.Code, answer.Code))).TotalMinor > 0);
            }
        }
    }

    // What makes the work harder costs more: common practice, no source.
    [Theory]
    [InlineData("floor", "thin")]
    [InlineData("floor", "patched")]
    [InlineData("seam-filler", "heavy")]
    [InlineData("deadening", "foam")]
    [InlineData("rust", "light")]
    [InlineData("rust", "heavy")]
    [InlineData("undercoat", "wax")]
    [InlineData("undercoat", "bitumen")]
    [InlineData("tank", "stays-fitted")]
    [InlineData("old-repair", "present")]
    public void Harder_work_takes_longer_and_costs_more(string question, string answer)
    {
        foreach (var kit in Book.Kits)
        {
            var (usual, harder) = (Price(Scope(kit.Code)), Price(Scope(kit.Code, (question, answer))));
            Assert.True(harder.Hours.P50 > usual.Hours.P50, kit.Code);
            Assert.True(harder.TotalMinor > usual.TotalMinor, kit.Code);
        }
    }

    [Theory]
    [MemberData(nameof(Kits))]
    public void Tank_that_stays_is_assessed_gated_and_watched(string kit)
    {
        var priced = Price(Scope(kit, ("tank", "stays-fitted")));

        Assert.Contains(priced.Operations, o => o is { OperationCode: "25", Skill: "inspector" });
        Assert.Contains(priced.Operations, o => o is { OperationCode: "170", Skill: "fitter", Hours: >= 4 });
        Assert.NotEmpty(priced.Gates);
        var route = Routes.RouteOf(Scope(kit, ("tank", "stays-fitted")))!;
        Assert.All(
            // The bar's joints are welded off the car.
            route.Operations.Where(o => o.HotWork && o.Code != "140"),
            o => Assert.Contains(o.Gates, g => g.Operation == "25")
        );
    }

    [Fact]
    public void Kinds_of_sale_without_a_kit_or_a_car_have_their_routes()
    {
        foreach (var kind in new[] { SaleKind.Shipped, SaleKind.Bench, SaleKind.ReturnVisit })
        {
            Assert.NotNull(Routes.RouteOf(Scope("four-point-half-bar") with { Kind = kind }));
        }
    }

    [Fact]
    public void Kits_weigh_what_their_tubes_and_plates_weigh()
    {
        // 45 x 2.5 mm is 2.62 kg/m and 40 x 2 mm 1.87 kg/m in tube tables (from memory): the hoop alone has 3.8 m.
        Assert.InRange(Book.FindKit("four-point-half-bar")!.MassKg, (3.8m * 2.62m) + (2.7m * 1.87m), 20);
        Assert.InRange(Book.FindKit("six-point-weld-in")!.MassKg, 22, 35);
    }
}
