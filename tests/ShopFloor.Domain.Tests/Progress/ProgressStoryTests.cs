using ShopFloor.Domain.Common;
using ShopFloor.Domain.Progress;

namespace ShopFloor.Domain.Tests.Progress;

public sealed class ProgressStoryTests
{
    [Fact]
    public void The_car_is_in_the_first_phase_that_is_not_done()
    {
        var story = ProgressStory.Tell([
            new(Phase.Intake, true, true),
            new(Phase.TrimOut, true, true),
            new(Phase.TrimOut, false, true),
            new(Phase.SeamPrep, false, false),
        ]);
        Assert.Equal([PhaseStand.Done, PhaseStand.Now, PhaseStand.Coming], story.Phases.Select(p => p.Stand));
        Assert.Equal(Phase.TrimOut, story.Now!.Phase);
        Assert.Equal(Phase.SeamPrep, story.Next!.Phase);
    }

    [Fact]
    public void When_all_is_done_nothing_is_under_way_and_nothing_comes()
    {
        var story = ProgressStory.Tell([new(Phase.Intake, true, true), new(Phase.SignOff, true, true)]);
        Assert.Null(story.Now);
        Assert.Null(story.Next);
    }

    [Fact]
    public void A_later_phase_done_early_stays_done_while_an_earlier_one_is_under_way()
    {
        var story = ProgressStory.Tell([
            new(Phase.PlateFit, false, true),
            new(Phase.MockUp, true, true),
            new(Phase.FinalWeld, false, false),
        ]);
        Assert.Equal([PhaseStand.Now, PhaseStand.Done, PhaseStand.Coming], story.Phases.Select(p => p.Stand));
        Assert.Equal(Phase.FinalWeld, story.Next!.Phase);
    }
}
