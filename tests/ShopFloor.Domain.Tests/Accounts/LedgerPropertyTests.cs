using CsCheck;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Tests.Quoting;

namespace ShopFloor.Domain.Tests.Accounts;

/// <summary>What must hold after any sequence of commands, allowed and refused ones mixed, in every way of pricing and in currencies of 0, 2 and 3 digits.</summary>
public sealed class LedgerPropertyTests
{
    [Fact]
    public void Any_sequence_of_commands_leaves_ledger_and_papers_sound() =>
        Gen.Select(RandomJobs.Contents, RandomJobs.Steps)
            .Sample(
                (content, steps) =>
                {
                    var job = RandomJobs.Open(content);
                    foreach (var step in steps)
                    {
                        RandomJobs.Do(job, step, content);
                        Assert.All(job.Account.Entries, e => Assert.Equal(0, e.Postings.Sum(p => p.Minor)));
                        job.AssertSound();
                    }

                    var account = job.Account;
                    Assert.Equal(
                        account.ChargedMinor - account.PaidMinor - account.TradeCreditMinor,
                        account.BalanceMinor
                    );
                    Assert.Equal(account.Charges.Sum(c => c.Counted.TotalMinor), account.ChargedMinor);
                    Assert.Equal(job.All.Sum(p => p.Sign * p.TotalMinor), account.InvoicedMinor);
                    Assert.Equal(job.All.Sum(p => p.Sign * p.Content.TaxMinor), -job.SumOf(LedgerAccount.Tax));
                    Assert.Equal(0, Enum.GetValues<LedgerAccount>().Sum(job.SumOf));
                },
                iter: 600
            );

    [Fact]
    public void Invoicing_the_rest_makes_all_parts_sum_to_the_whole_to_the_unit() =>
        Gen.Select(RandomJobs.Contents, RandomJobs.Steps)
            .Sample(
                (content, steps) =>
                {
                    var job = RandomJobs.Open(content);
                    foreach (var step in steps.Where(s => s.Kind is 4 or 5 or 6 or 7))
                    {
                        RandomJobs.Do(job, step, content);
                    }

                    _ = job.Issue();
                    Assert.Equal(content.TotalMinor, job.All.Sum(p => p.Sign * p.TotalMinor));
                    foreach (var tax in content.Taxes)
                    {
                        var parts = job.All.SelectMany(p =>
                            p.Content.Taxes.Where(t => t.Code == tax.Code)
                                .Select(t => (p.Sign * t.TaxMinor, p.Sign * t.TaxableMinor))
                        );
                        Assert.Equal(
                            (tax.TaxMinor, tax.TaxableMinor),
                            (parts.Sum(p => p.Item1), parts.Sum(p => p.Item2))
                        );
                    }

                    Assert.All(job.All, p => Assert.True(p.TotalMinor >= 0 && p.Content.TaxMinor >= 0, p.Number));
                },
                iter: 600
            );

    [Fact]
    public void Tax_of_a_part_is_within_one_unit_of_its_share() =>
        Gen.Select(RandomJobs.Contents, Gen.Int[1, 100].Array[1, 8])
            .Where((content, _) => !content.PricesIncludeTax)
            .Sample(
                (content, percents) =>
                {
                    var job = RandomJobs.Open(content);
                    foreach (var percent in percents)
                    {
                        if (!job.Issue(new BillPart(Percent: percent)).IsSuccess)
                        {
                            continue;
                        }

                        foreach (var tax in job.All[^1].Content.Taxes)
                        {
                            var all = content.Taxes.Single(t => t.Code == tax.Code);
                            var share =
                                all.TaxableMinor == 0 ? 0 : (decimal)all.TaxMinor * tax.TaxableMinor / all.TaxableMinor;
                            Assert.InRange(tax.TaxMinor - share, -1m, 1m);
                        }
                    }
                }
            );

    [Fact]
    public void Taking_everything_back_brings_every_account_to_nothing() =>
        Gen.Select(RandomJobs.Contents, RandomJobs.Steps)
            .Sample(
                (content, steps) =>
                {
                    var job = RandomJobs.Open(content);
                    foreach (var step in steps)
                    {
                        RandomJobs.Do(job, step, content);
                    }

                    // Refunds before what they gave back.
                    foreach (var refunds in new[] { true, false })
                    {
                        foreach (
                            var entry in job
                                .Account.Entries.Where(e =>
                                    e.IsMoney && e.Kind == EntryKind.Refund == refunds && !job.Account.IsReversed(e)
                                )
                                .ToList()
                        )
                        {
                            Assert.True(job.Account.Reverse(TestPapers.Stamp(), entry.Id, "All back").IsSuccess);
                        }
                    }

                    if (!job.Account.IsSettled)
                    {
                        job.Cancel();
                    }

                    foreach (var invoice in job.All.Where(p => !p.IsCredit).ToList())
                    {
                        _ = job.Credit(invoice);
                    }

                    job.AssertSound();
                    foreach (
                        var account in Enum.GetValues<LedgerAccount>()
                            .Where(a =>
                                !job.Account.IsSettled || a is not (LedgerAccount.Customer or LedgerAccount.Agreed)
                            )
                    )
                    {
                        Assert.Equal(0, job.SumOf(account));
                    }

                    Assert.Equal(job.Account.ChargedMinor, job.SumOf(LedgerAccount.Customer));
                    Assert.Equal(-job.Account.ChargedMinor, job.SumOf(LedgerAccount.Agreed));
                },
                iter: 400
            );

    [Fact]
    public void Cancelling_at_any_point_credits_what_was_not_supplied_and_the_rest_can_be_invoiced() =>
        Gen.Select(RandomJobs.Contents, RandomJobs.Steps, Gen.Int[0, 100])
            .Sample(
                (content, steps, share) =>
                {
                    var job = RandomJobs.Open(content);
                    foreach (var step in steps.Where(s => s.Kind != 9))
                    {
                        RandomJobs.Do(job, step, content);
                    }

                    var done = RandomJobs.WorkDone(content, share);
                    job.Cancel(done);
                    job.AssertSound();
                    _ = job.Issue();

                    job.AssertSound();
                    Assert.Equal(done.TotalMinor, job.Account.ChargedMinor);
                    Assert.Equal(done.TotalMinor, job.All.Sum(p => p.Sign * p.TotalMinor));
                    var tax = job.All.Sum(p => p.Sign * p.Content.TaxMinor);
                    // Inside the price the parts' tax may keep a rounding unit each; the total is exact all the same.
                    Assert.InRange(Math.Abs(tax - done.TaxMinor), 0, done.PricesIncludeTax ? 2 * job.All.Count : 0);
                },
                iter: 600
            );
}
