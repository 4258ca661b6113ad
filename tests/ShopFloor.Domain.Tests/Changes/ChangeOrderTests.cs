using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Tests.Quoting;
using ShopFloor.Domain.Tests.Routing;

namespace ShopFloor.Domain.Tests.Changes;

public sealed class ChangeOrderTests
{
    private static readonly Dictionary<string, string> NoCondition = [];

    [Fact]
    public void Offered_change_stays_as_it_is_and_its_hash_outlives_the_erasure_of_names()
    {
        var change = Offered();
        var hash = change.ContentHash!;

        Assert.False(change.Edit(change.Terms, change.PriceBookId, change.Price).IsSuccess);
        Approve(change, hash);
        change.ForgetPerson();

        Assert.True(ChangeSnapshot.IsIntact(change.Snapshot!, hash));
        Assert.DoesNotContain("sill", change.Snapshot!, StringComparison.Ordinal);
        Assert.Equal(("(erased)", "(erased)"), (change.ApprovedBy, change.Terms.Reason));
    }

    [Fact]
    public void Approval_needs_name_hash_and_way_and_comes_once()
    {
        var change = Offered();

        var bare = Assert.IsType<Failure.Invalid>(
            change.Approve(" ", null, null, NoCondition, null, TestBook.Clock.GetUtcNow()).Failure
        );
        Assert.Equal(["approvedBy", "contentHash", "how"], bare.Errors.Select(e => e.Path));
        Assert.Equal("contentHash", ReasonOf(Try(change, new string('0', 64))));
        Approve(change, change.ContentHash!);
        Assert.Equal("closed", ReasonOf(Try(change, change.ContentHash!)));
        Assert.Equal("closed", ReasonOf(change.Decline("No", null, TestBook.Clock.GetUtcNow())));
        Assert.Equal("closed", ReasonOf(change.Withdraw("No", null, TestBook.Clock.GetUtcNow())));
    }

    [Fact]
    public void Draft_is_neither_approved_nor_declined()
    {
        var change = Draft();

        Assert.Equal("notOffered", ReasonOf(Try(change, "x")));
        Assert.Equal("notOffered", ReasonOf(change.Decline("No", null, TestBook.Clock.GetUtcNow())));
    }

    [Fact]
    public void Difference_priced_before_another_change_of_the_condition_is_not_approved()
    {
        var change = Draft(t =>
            t with
            {
                Basis = ChangeBasis.ConditionFound,
                ConditionAgreed = new Dictionary<string, string> { ["rust"] = "none" },
            }
        );
        Assert.True(change.Offer(null, TestBook.Today, TestBook.Clock.GetUtcNow()).IsSuccess);

        var outcome = change.Approve(
            "Ada",
            change.ContentHash,
            ApprovalWay.InWriting,
            new Dictionary<string, string> { ["rust"] = "light" },
            null,
            TestBook.Clock.GetUtcNow()
        );

        Assert.Equal("conditionMoved", ReasonOf(outcome));
    }

    [Fact]
    public void Gate_holds_what_is_not_begun_or_what_is_named_and_nothing_when_it_is_lifted()
    {
        var shop = new JobShop();
        Assert.True(shop.Start("10").IsSuccess);
        var open = new OpenChange("CO-2026-0001", new DateOnly(2026, 3, 2), true, []);

        IReadOnlyList<string> Held(params OpenChange[] changes) =>
            [
                .. shop
                    .Job.Operations.Where(o =>
                        shop.Job.Gates(o, shop.Facts with { OpenChanges = changes })
                            .Any(g => g.Kind == GateKind.ChangeOrder)
                    )
                    .Select(o => o.Code),
            ];

        Assert.Equal(shop.Job.Operations.Skip(1).Select(o => o.Code), Held(open));
        Assert.Equal(["10", "30"], Held(open with { Holds = ["10", "30"] }));
        Assert.Empty(Held());
        Assert.Contains(
            shop.Job.Blockers(shop.Job.Operation("20")!, shop.Facts with { OpenChanges = [open] }),
            r =>
                r.Code == "changeOrder"
                && r.Text.StartsWith(
                    "Waits for the customer: change order CO-2026-0001 of Monday 2 Mar",
                    StringComparison.Ordinal
                )
        );
    }

    [Fact]
    public void Added_operation_stands_by_its_number_and_later_ones_wait_for_it()
    {
        var shop = new JobShop();

        var added = shop.Job.Add([Added("55", after: ["50"], before: ["60"])], shop.NewId<OperationId>);

        Assert.True(added.IsSuccess, added.Failure?.Sentence);
        var codes = shop.Job.Operations.Select(o => o.Code).ToList();
        Assert.Equal("55", codes[codes.IndexOf("50") + 1]);
        Assert.Contains("55", shop.Job.Operation("60")!.Route.After);
        Assert.Equal(Enumerable.Range(0, codes.Count), shop.Job.Operations.Select(o => o.Position));
        shop.Through(codes[^1]);
        Assert.True(shop.Job.AllOver);
    }

    [Fact]
    public void Operation_that_shuts_a_way_needed_later_is_refused_and_the_job_stays_as_it_was()
    {
        var shop = new JobShop();
        var way = shop.Job.OpenWays.First(w =>
            shop.Job.Operations.Any(o => o.Route.NeedsOpen.Contains(w))
            && !shop.Job.Operations.Any(o => o.Route.Opens.Contains(w))
        );
        var one = Added("5", after: [], before: ["10"]);
        var before = shop.Job.Operations.Count;

        var outcome = shop.Job.Add([one with { Route = one.Route with { Closes = [way] } }], shop.NewId<OperationId>);

        var reason = Assert.Single(Assert.IsType<Failure.Refused>(outcome.Failure).Reasons);
        Assert.Equal("buildSequence", reason.Code);
        Assert.Equal(before, shop.Job.Operations.Count);
    }

    [Fact]
    public void Operation_cannot_come_before_one_that_has_begun()
    {
        var shop = new JobShop();
        Assert.True(shop.Start("10").IsSuccess);

        var failure = shop.Job.RefuseAdded([Added("5", after: [], before: ["10"])]);

        Assert.Equal("operations[0].before[0]", Assert.Single(Assert.IsType<Failure.Invalid>(failure).Errors).Path);
    }

    private static AddedOperation Added(string code, string[] after, string[] before) =>
        new(
            new RouteOperation
            {
                Code = code,
                Title = "Sill patched",
                Phase = Phase.SeamPrep,
                Skill = "welder",
                Place = "bay",
                After = after,
            },
            before
        );

    private static ChangeOrder Draft(Func<ChangeTerms, ChangeTerms>? change = null) =>
        ChangePricingTests.Draft(
            (change ?? (t => t))(ChangePricingTests.Terms()),
            new ChangePrice(TestBook.Price(TestBook.Input), null, null, [])
        );

    private static ChangeOrder Offered()
    {
        var change = Draft();
        Assert.True(change.Offer(new DateOnly(2026, 6, 1), TestBook.Today, TestBook.Clock.GetUtcNow()).IsSuccess);
        return change;
    }

    private static Outcome<Done> Try(ChangeOrder change, string hash) =>
        change.Approve("Ada", hash, ApprovalWay.AtTheCounter, NoCondition, null, TestBook.Clock.GetUtcNow());

    private static void Approve(ChangeOrder change, string hash) => Assert.True(Try(change, hash).IsSuccess);

    private static string ReasonOf(Outcome<Done> outcome) =>
        Assert.Single(Assert.IsType<Failure.Refused>(outcome.Failure).Reasons).Code;
}
