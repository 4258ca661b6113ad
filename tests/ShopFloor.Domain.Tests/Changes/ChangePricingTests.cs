using CsCheck;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Tests.Accounts;
using ShopFloor.Domain.Tests.Quoting;
using ShopFloor.Domain.Tests.Routing;

namespace ShopFloor.Domain.Tests.Changes;

public sealed class ChangePricingTests
{
    private static readonly string[] Rust = ["none", "light", "heavy"];
    private static readonly string[] Filler = ["some", "none"];

    [Fact]
    public void Further_work_is_priced_at_its_operation_without_minimum_and_deposit()
    {
        var shop = new JobShop();
        var terms = Terms() with { Work = [new("50", "fitter", "seam-m", 4)] };

        var price = ChangePricing
            .FurtherWork(
                TestBook.Book with
                {
                    Minimum = new MinimumCharge(1_000_000, ["t"]),
                },
                shop.Job,
                terms,
                TestBook.Today,
                isTaxExempt: false
            )
            .Value;

        // 4 m at half an hour are 2 h of fitting at 60.00, and 10 % tax.
        Assert.Equal((13_200, 0), (price.Priced.TotalMinor, price.Priced.DepositMinor));
        Assert.Equal(("50", 2m), (price.Priced.Operations[0].OperationCode, price.Priced.Operations[0].Hours));
    }

    [Fact]
    public void Work_on_a_done_operation_is_refused()
    {
        var shop = new JobShop().Through("20");

        var refused = ChangePricing.FurtherWork(
            TestBook.Book,
            shop.Job,
            Terms() with
            {
                Work = [new("20", "fitter", "seam-m", 4)],
            },
            TestBook.Today,
            isTaxExempt: false
        );

        var error = Assert.Single(Assert.IsType<Failure.Invalid>(refused.Failure).Errors);
        Assert.Equal("work[0].operation", error.Path);
        Assert.Contains("add a new operation", error.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Quote_and_difference_make_the_price_found_to_the_last_unit_and_the_charge_is_sound() =>
        Gen.Select(Gen.Int[0, 2], Gen.Int[0, 1], Gen.Int[0, 2], Gen.Int[0, 1])
            .Sample(
                (r1, f1, r2, f2) =>
                {
                    var (rustAgreed, fillerAgreed, rustFound, fillerFound) = (
                        Rust[r1],
                        Filler[f1],
                        Rust[r2],
                        Filler[f2]
                    );
                    var agreed = TestBook.With(("rust", rustAgreed), ("filler", fillerAgreed));
                    var difference = QuoteDifference
                        .Between(
                            TestBook.Book,
                            agreed,
                            new Dictionary<string, string> { ["rust"] = rustFound, ["filler"] = fillerFound },
                            _ => TestBook.Content
                        )
                        .Value;
                    var price = ChangePricing.ConditionFound(difference);
                    var change = Draft(Terms() with { Basis = ChangeBasis.ConditionFound }, price);
                    var charge = ChangeCharge.Of(change);

                    Assert.Equal(
                        difference.Found.TotalMinor,
                        TestBook.Price(agreed).TotalMinor + price.Priced.TotalMinor
                    );
                    Assert.Equal(price.Priced.TotalMinor, charge.TotalMinor);
                    Assert.Equal(price.Priced.SubtotalMinor, price.Priced.Lines.Sum(l => l.NetMinor));
                    Assert.Empty(charge.Differences());
                    Assert.Equal(
                        charge.TotalMinor,
                        ChangeCharge.Done(change, AllDone, AllUsed(price)).Value.TotalMinor
                    );
                }
            );

    [Fact]
    public void Job_total_is_the_accepted_quote_and_the_approved_changes()
    {
        var papers = TestPapers.Open();
        var less = LessFiller();
        var quoted = papers.Account.ChargedMinor;

        Assert.True(papers.Account.Charge(TestPapers.Stamp, "CO-2026-0001", less).IsSuccess);

        Assert.True(less.TotalMinor < 0);
        Assert.Equal(quoted + less.TotalMinor, papers.Account.ChargedMinor);
        Assert.True(papers.Issue(new BillPart(Percent: 40)).IsSuccess);
        Assert.True(papers.Issue().IsSuccess);
        Assert.Equal(quoted + less.TotalMinor, papers.Account.InvoicedMinor);
        papers.AssertSound();
    }

    private static readonly Dictionary<string, decimal> AllDone = TestBook.Content.ToDictionary(
        w => w.OperationCode,
        _ => 1m
    );

    private static HashSet<string> AllUsed(ChangePrice price) =>
        [.. price.Found!.Lines.Concat(price.Agreed!.Lines).Select(l => l.Code)];

    private static InvoiceContent LessFiller()
    {
        var difference = QuoteDifference
            .Between(
                TestBook.Book,
                TestBook.Input,
                new Dictionary<string, string> { ["filler"] = "none" },
                _ => TestBook.Content
            )
            .Value;
        return ChangeCharge.Of(
            Draft(Terms() with { Basis = ChangeBasis.ConditionFound }, ChangePricing.ConditionFound(difference))
        );
    }

    internal static ChangeTerms Terms() =>
        new(
            ChangeBasis.FurtherWork,
            "The sill is cracked.",
            [],
            [],
            [],
            [],
            Discount.None,
            PriceExtras.None,
            new Dictionary<string, string>(),
            new Dictionary<string, string>(),
            null,
            null,
            [],
            false
        );

    internal static ChangeOrder Draft(ChangeTerms terms, ChangePrice price) =>
        ChangeOrder.Draft(
            Ids.New<ChangeOrderId>(TestBook.Clock),
            "CO-2026-0001",
            Ids.New<JobId>(TestBook.Clock),
            terms,
            TestBook.BookId,
            price,
            JobShop.Mara,
            TestBook.Clock.GetUtcNow()
        );
}
