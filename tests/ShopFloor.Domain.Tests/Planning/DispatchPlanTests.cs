using ShopFloor.Domain.Planning;

namespace ShopFloor.Domain.Tests.Planning;

public sealed class DispatchPlanTests
{
    [Fact]
    public void Every_plan_of_the_plain_rule_keeps_the_rules()
    {
        var planned = 0;
        for (var seed = 0; seed < 200; seed++)
        {
            var problem = RandomShop.Make(seed, jobs: 1 + (seed % 6), operations: 3 + (seed % 9));
            var result = DispatchPlan.Run(problem);
            Assert.True(
                PlanCheck.Run(result.Problem, result.Entries, [.. result.LeftOut.Keys]) is { Count: 0 },
                $"seed {seed}: {string.Join(" ", PlanCheck.Run(result.Problem, result.Entries, [.. result.LeftOut.Keys]).Select(b => b.Text))}"
            );
            planned += result.Entries.Count;
        }

        Assert.True(planned > 3000, $"only {planned} operations were planned");
    }

    [Fact]
    public void Work_in_hand_goes_on_at_once_and_a_wished_beginning_is_kept()
    {
        var problem = RandomShop.Make(3, 3, 6);
        var begun = 0;
        var wished = problem.TasksByJob()[1].Last();
        problem = problem with
        {
            Tasks =
            [
                .. problem.Tasks.Select(
                    (t, i) =>
                        i == begun ? t with { Begun = true, People = [0], Earliest = 0 }
                        : i == wished ? t with { Fixed = problem.Axis.Days[30].FirstSlot + 4, Earliest = 0 }
                        : t
                ),
            ],
        };

        var result = DispatchPlan.Run(problem);

        Assert.Empty(result.GivenUp);
        Assert.Equal(0, result.Entries.Single(e => e.Task == begun).Start);
        Assert.Equal(problem.Axis.Days[30].FirstSlot + 4, result.Entries.Single(e => e.Task == wished).Start);
        Assert.Empty(PlanCheck.Run(result.Problem, result.Entries, [.. result.LeftOut.Keys]));
    }

    [Fact]
    public void A_wished_beginning_that_cannot_be_is_given_up_and_said()
    {
        var problem = RandomShop.Make(3, 2, 8);
        var last = problem.TasksByJob()[0].Last();
        problem = problem with { Tasks = [.. problem.Tasks.Select((t, i) => i == last ? t with { Fixed = 1 } : t)] };

        var result = DispatchPlan.Run(problem);

        Assert.Contains(
            "J-0 80 Work cannot begin when it was set to",
            Assert.Single(result.GivenUp),
            StringComparison.Ordinal
        );
        Assert.Null(result.Problem.Tasks[last].Fixed);
        Assert.Empty(PlanCheck.Run(result.Problem, result.Entries, [.. result.LeftOut.Keys]));
    }

    public static TheoryData<string, string> CannotBe() =>
        new()
        {
            { "nobody", "nobody who is at work in the coming weeks has the skill" },
            { "no hours", "finds no free time" },
            { "too long for a day", "is done within one day and takes 10 h, but the longest day has 8 h" },
            { "circle", "wait for one another in a circle" },
            { "no place", "the shop has no place for it" },
        };

    [Theory]
    [MemberData(nameof(CannotBe))]
    public void What_cannot_be_planned_is_left_out_with_the_reason_and_the_rest_is_planned(string what, string said)
    {
        var problem = RandomShop.Make(11, 3, 5);
        var at = problem.TasksByJob()[1].Skip(1).First();
        var task = problem.Tasks[at];
        problem = what switch
        {
            "nobody" => With(task with { People = [] }),
            "no place" => With(task with { Places = [] }),
            "too long for a day" => With(task with { InOneDay = true, Slots = 40 }),
            "circle" => With(task with { Before = [new PlanBefore(at + 1, 0)] }),
            _ => problem with
            {
                People = [.. problem.People.Select((p, i) => i == 0 ? p with { Away = [(0, problem.Axis.Slots)] } : p)],
                Tasks = [.. problem.Tasks.Select((t, i) => i == at ? t with { People = [0] } : t)],
            },
        };

        var result = DispatchPlan.Run(problem);

        Assert.Contains(said, result.LeftOut[1], StringComparison.Ordinal);
        Assert.Contains(result.Entries, e => problem.Tasks[e.Task].Job == 0);
        Assert.Empty(PlanCheck.Run(result.Problem, result.Entries, [.. result.LeftOut.Keys]));

        PlanProblem With(PlanTask changed) =>
            problem with
            {
                Tasks = [.. problem.Tasks.Select((t, i) => i == at ? changed : t)],
            };
    }
}
