using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Tests.Routing;

namespace ShopFloor.Domain.Tests.HotWork;

/// <summary>A shop with several bays: permits and the paint rule go by the bay, and where nobody has said which, by all of them.</summary>
public sealed class ShopPlacesTests
{
    private static readonly ShopPlaces TwoBays = ShopPlaces.Of([
        new("bay-1", "bay 1", "bay"),
        new("bay-2", "bay 2", "bay"),
        new("bench", "the bench", "bench"),
        new("paint", "the paint place", "paint"),
        new("office", "the office", "office"),
    ]);

    [Fact]
    public void Routes_kind_is_one_place_where_there_is_one_and_any_of_its_kind_until_somebody_says()
    {
        var nothingSaid = new Dictionary<string, string>();
        Assert.Equal(["bench"], TwoBays.Possible(nothingSaid, "bench"));
        Assert.Equal(["bay-1", "bay-2"], TwoBays.Possible(nothingSaid, "bay"));
        Assert.Equal(["bay-2"], TwoBays.Possible(new Dictionary<string, string> { ["bay"] = "bay-2" }, "bay"));
        Assert.Equal(["bay-1", "bay-2"], TwoBays.Possible(new Dictionary<string, string> { ["bay"] = "gone" }, "bay"));
        Assert.Equal(["bay"], ShopPlaces.Usual.Possible(nothingSaid, "bay"));
    }

    [Fact]
    public void Permit_covers_hot_work_in_its_own_bay_only_and_none_while_nobody_has_said_which()
    {
        var shop = new JobShop(Energy.Petrol, Step(isHot: true));
        var permit = HotWorkShop.Open(shop.Now, shop.Job.Id, "bay-2");
        shop.HotWork = Facts([permit]);
        Assert.Equal("permit", JobShop.Refusal(shop.Start("10")).Code);
        Assert.Contains("nobody has said where this car is: bay 1 or bay 2", JobShop.Refusal(shop.Start("10")).Text);

        Assert.True(shop.Job.PutIn(TwoBays.Find("bay-1")!, Facts([])).IsSuccess);
        Assert.Contains("no permit is open for bay 1", JobShop.Refusal(shop.Start("10")).Text);

        Assert.True(shop.Job.PutIn(TwoBays.Find("bay-2")!, Facts([])).IsSuccess);
        Assert.True(shop.Start("10").IsSuccess);
    }

    [Fact]
    public void Paint_is_kept_from_sparks_of_its_own_bay_and_from_all_while_nobody_has_said_which()
    {
        var shop = new JobShop(Energy.Petrol, Step(isHot: false));
        shop.HotWork = Facts([HotWorkShop.Open(shop.Now, null, "bay-1")]);
        Assert.Equal("fireWatch", JobShop.Refusal(shop.Start("10")).Code);

        Assert.True(shop.Job.PutIn(TwoBays.Find("bay-1")!, shop.HotWork).IsSuccess);
        Assert.Equal("fireWatch", JobShop.Refusal(shop.Start("10")).Code);

        Assert.True(shop.Job.PutIn(TwoBays.Find("bay-2")!, shop.HotWork).IsSuccess);
        Assert.True(shop.Start("10").IsSuccess);
    }

    [Fact]
    public void Car_stays_where_it_is_until_its_permit_is_closed_and_its_paint_is_stopped()
    {
        var shop = new JobShop(Energy.Petrol, Step(isHot: false));
        Assert.True(shop.Job.PutIn(TwoBays.Find("bay-1")!, Facts([])).IsSuccess);
        var permit = HotWorkShop.Open(shop.Now, shop.Job.Id, "bay-1");
        Assert.Equal("permit", Code(shop.Job.PutIn(TwoBays.Find("bay-2")!, Facts([permit]))));
        // The same place again is no move.
        Assert.True(shop.Job.PutIn(TwoBays.Find("bay-1")!, Facts([permit])).IsSuccess);

        shop.HotWork = Facts([]);
        Assert.True(shop.Start("10").IsSuccess);
        Assert.Equal("inWork", Code(shop.Job.PutIn(TwoBays.Find("bay-2")!, Facts([]))));
        Assert.Equal("bay-1", shop.Job.Places["bay"]);
    }

    [Fact]
    public void List_names_each_place_once_and_one_of_each_kind_at_least()
    {
        var errors = Errors(
            ShopPlaces.ReadList([
                new("bay-1", "bay 1", "bay"),
                new("bay-1", "Bay 1", "bay"),
                new("paint", "the booth", "bay"),
                new("Bay 3", "bay 3", "garden"),
                new("bench", "", "bench"),
            ])
        );
        Assert.Contains("places[1].code", errors);
        Assert.Contains("places[1].title", errors);
        Assert.Contains("places[2].kind", errors);
        Assert.Contains("places[3].code", errors);
        Assert.Contains("places[3].kind", errors);
        Assert.Contains("places[4].title", errors);
        Assert.Equal(2, errors.Count(e => e == "places"));
        Assert.True(ShopPlaces.ReadList(TwoBays.All).IsSuccess);
    }

    private static RouteOperation Step(bool isHot) =>
        new()
        {
            Code = "10",
            Title = isHot ? "Tack the plates" : "Touch-up paint",
            Phase = Phase.FinalWeld,
            Skill = "welder",
            Place = "bay",
            HotWork = isHot,
            PaintOrSolvent = !isHot,
            Caution = "Sparks.",
        };

    private static HotWorkFacts Facts(IReadOnlyList<HotWorkPermit> unclosed) => new(unclosed, []) { Places = TwoBays };

    private static string Code(Outcome<Done> outcome) => ((Failure.Refused)outcome.Failure!).Reasons[0].Code;

    private static List<string> Errors(Outcome<IReadOnlyList<ShopPlace>> outcome) =>
        [.. ((Failure.Invalid)outcome.Failure!).Errors.Select(e => e.Path)];
}
