using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Tests.Routing;

public sealed class RouteConditionWordsTests
{
    [Fact]
    public void Every_part_is_said_and_nothing_ticked_says_nothing()
    {
        Assert.Equal("", RouteConditionWords.Of(null));
        Assert.Equal("", RouteConditionWords.Of(new RouteCondition()));
        var words = RouteConditionWords.Of(
            new RouteCondition
            {
                Kits = ["six"],
                Uses = ["track", "street"],
                Doors = true,
                Hinges = ["pin"],
                Answers = new Dictionary<string, IReadOnlyList<string>> { ["tank"] = ["stays-fitted"] },
                Energy = [Energy.Hybrid, Energy.Electric],
                Airbags = [Airbags.FrontAndSide],
                Tank = [TankPosition.UnderRearSeat],
                RearSeatsUsed = false,
                CustomerBrings = ["seats"],
            },
            (sort, code) => code == "track" ? "Club track days" : code
        );
        Assert.Equal(
            "with the kit six and for Club track days or street and with a door bar and with the hinge option pin and with tank: stays-fitted "
                + "and for energy electric or hybrid and with airbags: front and side and with the tank in under rear seat "
                + "and where no rear seat is used and where the customer brings seats",
            words
        );
    }

    [Fact]
    public void The_order_of_ticks_is_no_difference_between_editions()
    {
        static RouteOperation With(params string[] answers) =>
            new()
            {
                Code = "10",
                Title = "Tank out",
                Phase = Phase.TrimOut,
                Skill = "fabricator",
                Place = "bay",
                When = new RouteCondition
                {
                    Answers = new Dictionary<string, IReadOnlyList<string>> { ["tank"] = answers },
                },
            };
        Assert.Empty(RouteDifferences.Between(With("a", "b"), With("b", "a"), w => w));
        Assert.Equal(
            "On the route was \"on jobs with tank: a or b\", is \"on jobs with tank: a\".",
            Assert.Single(RouteDifferences.Between(With("a", "b"), With("a"), w => w))
        );
    }
}
