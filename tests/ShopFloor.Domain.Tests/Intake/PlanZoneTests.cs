using ShopFloor.Domain.Intake;

namespace ShopFloor.Domain.Tests.Intake;

public class PlanZoneTests
{
    [Fact]
    public void Every_zone_is_the_nearest_to_its_own_middle() =>
        Assert.All(PlanZone.All, zone => Assert.Equal(zone, PlanZone.Nearest(zone.Place)));

    [Fact]
    public void A_walk_round_asks_for_nose_sides_tail_inside_and_instruments() =>
        Assert.Equal(
            ["nose", "instruments", "leftSide", "rightSide", "inside", "tail"],
            PlanZone.NotShown([]).Select(z => z.Code)
        );

    [Fact]
    public void A_photo_placed_in_a_zone_takes_it_off_the_list() =>
        Assert.DoesNotContain(PlanZone.NotShown([new PlanPlace(0.08, 0.47)]), z => z.Code == "leftSide");
}
