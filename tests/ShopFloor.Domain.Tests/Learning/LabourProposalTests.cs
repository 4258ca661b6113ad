using ShopFloor.Domain.Common;
using ShopFloor.Domain.Forecast;
using ShopFloor.Domain.Learning;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Tests.Quoting;
using ShopFloor.Domain.Tests.Routing;

namespace ShopFloor.Domain.Tests.Learning;

/// <summary>From priced work to a proposal, and from accepted proposals to a price book.</summary>
public sealed class LabourProposalTests
{
    private static readonly PriceBook Book = TestBook.Book;

    [Fact]
    public void A_jobs_estimate_is_taken_apart_as_the_price_engine_puts_it_together()
    {
        var input = TestBook.With(("rust", "heavy"), ("filler", "none"));
        var parts = WorkBreakdown.Of(Book, input.Scope, input.Content).Value;

        var priced = TestBook.Price(input).HoursByOperation;
        Assert.Equal(
            priced,
            parts
                .GroupBy(p => p.OperationCode)
                .ToDictionary(g => g.Key, g => decimal.Round(g.Sum(p => p.MeanMinutes) / 60, 4))
        );
        var seam = parts.Single(p => p.StandardCode == "seam-m");
        Assert.Equal([new GivenAnswer("rust", "heavy"), new GivenAnswer("filler", "none")], seam.Answers);
        Assert.Empty(parts.Single(p => p.StandardCode == "weld-mm").Answers);
        // 4 m at 20, 30 and 40 minutes, doubled and halved.
        Assert.Equal(new MinutesRange(80, 120, 160), seam.Minutes);
        Assert.Equal(LogNormal.SpreadOf(120, 80 / 6.0), TaskSpread.ByOperation(parts)["50"], 1e-12);

        var evidence = WorkEvidence.Of(default, "50", 150, parts);
        Assert.Equal((120.0, 150.0), (evidence.EstimatedMinutes, evidence.LoggedMinutes));
        Assert.False(
            WorkBreakdown.Of(Book, input.Scope, [input.Content[0] with { StandardCode = "no longer known" }]).IsSuccess
        );
    }

    [Fact]
    public void A_jobs_timed_operations_are_its_evidence()
    {
        var shop = new JobShop().Through("60");
        Assert.True(shop.Start("70", JobShop.Ivo).IsSuccess);
        shop.Pass(TimeSpan.FromHours(1));
        Assert.True(shop.Finish("70", JobShop.Ivo).IsSuccess);
        var parts = shop
            .Job.Operations.Select(o => new WorkPart(o.Code, "plate", new MinutesRange(60, 60, 60), []))
            .ToList();

        var evidence = WorkEvidence.Of(shop.Job, parts, shop.Now);

        // The operations before it were finished by one tap, without time.
        var only = Assert.Single(evidence);
        Assert.Equal(
            (shop.Job.Id, "70", 60.0, 60.0),
            (only.Job, only.Operation, only.LoggedMinutes, only.EstimatedMinutes)
        );
        // What nobody has estimated says nothing.
        Assert.Empty(WorkEvidence.Of(shop.Job, [], shop.Now));
        // Nor does an operation whose work a change order altered: its time holds what the estimate does not.
        Assert.Empty(WorkEvidence.Of(shop.Job, parts, shop.Now, new HashSet<string> { "70" }));
    }

    [Fact]
    public void A_standard_that_takes_longer_is_proposed_with_its_evidence_and_a_sentence()
    {
        var proposal = Assert.IsType<StandardProposal>(Assert.Single(Propose("seam-m", 1.15, cars: 20)));

        Assert.Equal(20, proposal.Effect.Cars);
        Assert.Equal(40, proposal.Effect.Operations);
        Assert.All(proposal.Effect.Rows, r => Assert.Equal((1, 1), (r.Share, r.Weight)));
        Assert.All(proposal.Effect.Rows, r => Assert.Equal(115, r.Evidence.LoggedMinutes, 1e-9));
        Assert.False(proposal.IsBounded);
        var ratio = (decimal)proposal.Effect.Ratio;
        Assert.Equal(decimal.Round(20 * ratio, 1), proposal.To.LowMinutes);
        Assert.Equal(decimal.Round(30 * ratio, 1), proposal.To.LikelyMinutes);
        Assert.Equal(decimal.Round(40 * ratio, 1), proposal.To.HighMinutes);
        Assert.Matches(
            @"^Seam to bare metal takes \d+ % longer than estimated, by 40 operations of 20 cars \(95 % range: \d+ to \d+ % longer\)\. Proposed: [\d.]+, [\d.]+ and [\d.]+ minutes per m instead of 20, 30 and 40\.$",
            proposal.Text
        );
    }

    [Fact]
    public void One_step_changes_by_a_quarter_at_most_and_says_so()
    {
        var slower = Assert.IsType<StandardProposal>(Assert.Single(Propose("plate", 2, cars: 30)));
        Assert.True(slower.IsBounded);
        Assert.Equal((37.5m, 75m, 150m), (slower.To.LowMinutes, slower.To.LikelyMinutes, slower.To.HighMinutes));
        Assert.EndsWith("one step changes by at most 25 %.", slower.Text, StringComparison.Ordinal);

        var faster = Assert.IsType<StandardProposal>(Assert.Single(Propose("plate", 0.4, cars: 30)));
        Assert.Equal((22.5m, 45m, 90m), (faster.To.LowMinutes, faster.To.LikelyMinutes, faster.To.HighMinutes));
        Assert.Contains("less time than estimated, by 60 operations of 30 cars", faster.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Few_cars_and_small_changes_make_no_proposal()
    {
        Assert.Empty(Propose("seam-m", 1.5, cars: 2));
        Assert.Empty(Propose("not in the book", 1.3, cars: 20));
        var noisy = new LoggedShop(21, new Dictionary<string, double> { ["plate"] = 1 }).Cars(12);
        Assert.Empty(LabourProposals.Of(LabourModel.Learn(noisy), Book));
    }

    [Fact]
    public void A_worthwhile_change_is_proposed_when_its_direction_is_sure_enough()
    {
        LearnedEffect Effect(double log, double deviation) =>
            new(
                new LearnedThing("plate", null),
                log,
                deviation,
                6,
                [.. Enumerable.Range(0, 6).Select(i => new EvidenceRow(new WorkEvidence(Job(i), "10", 1, []), 1, 1))]
            );
        Assert.True(LabourProposals.IsWorthIt(Effect(0.15, 0.1)));
        Assert.False(LabourProposals.IsWorthIt(Effect(0.15, 0.15)));
        Assert.False(LabourProposals.IsWorthIt(Effect(0.08, 0.05)));
        Assert.True(LabourProposals.IsWorthIt(Effect(0.08, 0.03)));
        Assert.True(LabourProposals.IsWorthIt(Effect(-0.08, 0.03)));
        Assert.False(LabourProposals.IsWorthIt(Effect(0.01, 0.001)));
    }

    [Fact]
    public void An_answers_factors_are_proposed_together_and_standards_are_left_alone()
    {
        // Plates are right without rust and take a third longer with it, beyond the factor.
        var evidence = Enumerable
            .Range(0, 40)
            .Select(i => new WorkEvidence(
                Job(i),
                "70",
                i % 2 == 0 ? 130 : 100,
                [new EvidencePart("plate", 100, i % 2 == 0 ? [LoggedShop.Rust] : [])]
            ))
            .ToList();
        var proposals = LabourProposals.Of(LabourModel.Learn(evidence), Book);
        var factor = Assert.Single(proposals.OfType<FactorProposal>());

        Assert.Equal(["seam-m", "plate"], factor.To.Select(f => f.StandardCode));
        Assert.All(
            factor.From.Zip(factor.To),
            p => Assert.Equal(decimal.Round(p.First.Multiplier * (decimal)factor.Change, 2), p.Second.Multiplier)
        );
        Assert.StartsWith("Rust: heavy takes", factor.Text, StringComparison.Ordinal);

        var changed = ApplyProposals.To(Book, [factor]).Value;
        Assert.Equal(factor.To, changed.FindQuestion("rust")!.Answers.Single(a => a.Code == "heavy").Factors);
        Assert.Equal(Book.Standards, changed.Standards);
    }

    [Fact]
    public void Accepted_proposals_change_the_book_just_so_and_it_keeps_the_rules()
    {
        var proposals = (Propose("seam-m", 1.15, 20), Propose("plate", 0.8, 20));
        LabourProposal[] accepted = [.. proposals.Item1, .. proposals.Item2];
        var changed = ApplyProposals.To(Book, accepted).Value;

        Assert.True(PriceBookRules.Check(changed).IsSuccess);
        Assert.Equal(
            [.. accepted.Cast<StandardProposal>().Select(p => p.To), Book.FindStandard("weld-mm")!],
            changed.Standards.OrderBy(s => s.Code == "weld-mm").ThenBy(s => s.Code == "plate")
        );
        // All else is as it was.
        Assert.Equal(Book.Questions.Select(q => q.Answers.Count), changed.Questions.Select(q => q.Answers.Count));
        Assert.Equivalent(Book, changed with { Standards = Book.Standards }, strict: true);
    }

    [Fact]
    public void Short_runs_are_changed_in_their_seconds()
    {
        var runs = new LabourStandard("plate", "Short runs", "mm", 0, 0, 0)
        {
            Runs = new ShortRuns(9.5m, new SecondsRange(2, 3, 4), new SecondsRange(10, 15, 30)),
        };
        var book = Book with { Standards = [.. Book.Standards.Select(s => s.Code == "plate" ? runs : s)] };
        var proposal = Assert.IsType<StandardProposal>(Assert.Single(Propose("plate", 3, 30, book)));

        Assert.Equal(
            new ShortRuns(9.5m, new SecondsRange(2.5m, 3.75m, 5), new SecondsRange(12.5m, 18.8m, 37.5m)),
            proposal.To.Runs
        );
        Assert.Contains("seconds of arc", proposal.Text, StringComparison.Ordinal);
        Assert.Equal(proposal.To, ApplyProposals.To(book, [proposal]).Value.FindStandard("plate"));
    }

    [Fact]
    public void A_proposal_for_figures_that_have_changed_meanwhile_is_refused()
    {
        var proposal = Assert.Single(Propose("seam-m", 1.15, 20));
        var changed = ApplyProposals.To(Book, [proposal]).Value;

        Assert.Contains(
            "look at the proposals anew",
            ApplyProposals.To(changed, [proposal]).Failure!.Sentence,
            StringComparison.Ordinal
        );
        Assert.Contains(
            "taken once",
            ApplyProposals.To(Book, [proposal, proposal]).Failure!.Sentence,
            StringComparison.Ordinal
        );
        Assert.False(ApplyProposals.To(Book, []).IsSuccess);
    }

    private static IReadOnlyList<LabourProposal> Propose(
        string standard,
        double ratio,
        int cars,
        PriceBook? book = null
    ) =>
        LabourProposals.Of(
            LabourModel.Learn(
                Enumerable
                    .Range(0, 2 * cars)
                    .Select(i => new WorkEvidence(
                        Job(i / 2),
                        $"{i}",
                        100 * ratio,
                        [new EvidencePart(standard, 100, [])]
                    ))
            ),
            book ?? Book
        );

    private static JobId Job(int car) => JobId.From(new Guid(car + 1, 0, 0x7000, 0x80, 0, 0, 0, 0, 0, 0, 0));
}
