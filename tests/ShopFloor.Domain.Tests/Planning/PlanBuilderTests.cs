using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Tests.Routing;

namespace ShopFloor.Domain.Tests.Planning;

/// <summary>From a real route to a plan that keeps the rules.</summary>
public sealed class PlanBuilderTests
{
    private static readonly string[] Known = ["fitter", "welder", "painter", "inspector"];
    private static readonly PlanHand[] Hands =
    [
        new(JobShop.Mara, "Mara", Known, null),
        new(JobShop.Ivo, "Ivo", Known, null),
    ];

    [Fact]
    public void A_whole_route_is_planned_with_its_cures_and_ways()
    {
        var shop = new JobShop();
        var (question, result) = Plan(shop);

        Assert.Empty(result.LeftOut);
        Assert.Empty(PlanCheck.Run(result.Problem, result.Entries));
        Assert.Equal(shop.Job.Operations.Count, result.Entries.Count);

        // Twelve hours of cure lie between the paint and what comes after, by the clock.
        var axis = question.Problem.Axis;
        Assert.True(axis.StartOf(Of("180").Start) >= axis.EndOf(Of("160").End).AddMinutes(720));
        Assert.True(Of("100").Start >= Of("90").End);
        return;

        PlanEntry Of(string code) => result.Entries.Single(e => result.Problem.Tasks[e.Task].Code == code);
    }

    [Fact]
    public void What_waits_for_a_part_waits_for_the_day_after_it_is_due_and_unknown_days_are_said()
    {
        var shop = new JobShop();
        shop.Parts.Add(new CustomerPartFact("door-panels", "Door panels", new DateOnly(2026, 4, 1), false));
        var (question, result) = Plan(shop);
        var doors = result.Entries.Single(e => result.Problem.Tasks[e.Task].Code == "210");
        Assert.Equal(new DateOnly(2026, 4, 2), question.Problem.Axis.DayOf(doors.Start).Day);
        Assert.Empty(question.Granted);

        shop.Parts[0] = shop.Parts[0] with { DueOn = new DateOnly(2026, 2, 20) };
        var (late, _) = Plan(shop);
        Assert.Contains(
            "Its day has passed; taken as if it came tomorrow.",
            Assert.Single(late.Granted).Text,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Work_that_is_begun_goes_on_with_whoever_is_on_it_and_what_is_logged_counts()
    {
        var shop = new JobShop().Through("60");
        Assert.True(shop.Start("70", JobShop.Ivo).IsSuccess);
        shop.Pass(TimeSpan.FromHours(1));
        var (_, result) = Plan(shop, new Dictionary<string, decimal> { ["70"] = 3 });
        var entry = result.Entries.Single(e => result.Problem.Tasks[e.Task].Code == "70");
        Assert.Equal((0, 1, 8), (entry.Start, entry.Person, entry.End));
        Assert.DoesNotContain(result.Problem.Tasks, t => t.Code == "60");
        Assert.NotNull(result.Problem.Jobs[0].Bay);
    }

    [Fact]
    public void A_shop_without_hours_gives_a_reason_instead_of_a_plan()
    {
        var shop = new JobShop();
        var closed = ShopHours.Of(default);
        Assert.True(
            closed
                .Change(
                    new ShopHours.Details(
                        WeekHours.Usual.Texts,
                        [
                            new DaysOff(new DateOnly(2026, 1, 1), new DateOnly(2026, 12, 31), null),
                            new DaysOff(new DateOnly(2027, 1, 1), new DateOnly(2027, 12, 31), null),
                        ],
                        null,
                        null
                    ),
                    []
                )
                .IsSuccess
        );
        var (_, result) = Plan(shop, closed);
        Assert.Contains("finds no free time", result.LeftOut[0], StringComparison.Ordinal);
    }

    private static (PlanQuestion, DispatchResult) Plan(JobShop shop, Dictionary<string, decimal>? hours = null) =>
        Plan(shop, hours ?? [], ShopHours.Of(default));

    private static (PlanQuestion, DispatchResult) Plan(JobShop shop, ShopHours hours) => Plan(shop, [], hours);

    private static (PlanQuestion, DispatchResult) Plan(JobShop shop, Dictionary<string, decimal> hours, ShopHours open)
    {
        var question = PlanBuilder.Build(
            Shop,
            open,
            Hands,
            [
                new PlanOrder(
                    shop.Job,
                    "car",
                    shop.Job.Operations.ToDictionary(o => o.Code, o => hours.GetValueOrDefault(o.Code, 2)),
                    shop.Facts,
                    PlanWishes.Of(shop.Job.Id),
                    true,
                    null,
                    new Dictionary<string, DateTimeOffset>()
                ),
            ],
            shop.Now
        );
        return (question, DispatchPlan.Run(question.Problem));
    }

    private static Shop Shop { get; } =
        Domain
            .Common.Shop.Create(
                default,
                new Shop.Details("Test shop", null, null, null, null, null, null, "Etc/UTC", "mm", null, false),
                "EUR"
            )
            .Value;
}
