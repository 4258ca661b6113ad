using CsCheck;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Tests.Quoting;

namespace ShopFloor.Domain.Tests.Accounts;

/// <summary>Jobs, commands and work done at random for the property tests of the ledger.</summary>
internal static class RandomJobs
{
    private static readonly string[] Currencies = ["JPY", "EUR", "KWD"];

    public static readonly Gen<InvoiceContent> Contents = Gen.Select(
        Gen.Select(Gen.Long[1, 3_000_000], Gen.Long[0, 90_000], Gen.Int[0, 3]).Array[1, 6],
        Gen.Int[0, 100],
        Gen.Bool,
        Gen.Bool,
        Gen.Int[0, 2],
        ContentOf
    );

    public static readonly Gen<(int Kind, int Which, long Minor)[]> Steps = Gen.Select(
        Gen.Int[0, 10],
        Gen.Int[0, 9],
        Gen.Long[1, 400_000]
    ).Array[0, 25];

    public static TestPapers Open(InvoiceContent content)
    {
        var priced = TestBook.Price(TestBook.Input) with
        {
            CurrencyCode = content.CurrencyCode,
            PricesIncludeTax = content.PricesIncludeTax,
            Lines =
            [
                .. content.Lines.Select(
                    (l, i) =>
                        TestBook.Price(TestBook.Input).Lines[0] with
                        {
                            Code = $"line:{i}",
                            Description = l.Description,
                            Quantity = l.Quantity,
                            UnitPriceMinor = l.UnitPriceMinor,
                            NetMinor = l.NetMinor,
                            DiscountMinor = l.DiscountMinor,
                            TaxableMinor = l.AmountMinor,
                            TaxCodes = l.TaxCodes,
                        }
                ),
            ],
            SubtotalMinor = content.SubtotalMinor,
            DiscountMinor = content.DiscountMinor,
            Taxes = content.Taxes,
            TaxMinor = content.TaxMinor,
            TotalMinor = content.TotalMinor,
            AmountDueMinor = content.TotalMinor,
        };
        var quote = Quote.Draft(
            Ids.New<QuoteId>(TestBook.Clock),
            "Q-2026-0001",
            Ids.New<CustomerId>(TestBook.Clock),
            Ids.New<CarId>(TestBook.Clock),
            TestBook.Terms,
            TestBook.BookId,
            priced,
            TestBook.Clock.GetUtcNow()
        );
        Assert.True(quote.Send(TestBook.Book, TestBook.Today, TestBook.Clock.GetUtcNow()).IsSuccess);
        Assert.True(
            quote.Accept("A. Customer", quote.ContentHash, TestBook.Today, TestBook.Clock.GetUtcNow()).IsSuccess
        );
        return new TestPapers(JobAccount.Open(Ids.New<JobId>(TestBook.Clock), quote, TestPapers.Stamp));
    }

    /// <summary>One command; whether it is allowed is the account's business.</summary>
    public static void Do(TestPapers job, (int Kind, int Which, long Minor) step, InvoiceContent content)
    {
        var account = job.Account;
        var money = new MoneyMoved(step.Minor, (PaymentMethod)(step.Which % 4), null, "R-2026-0001");
        var lines = account.Charges.SelectMany(c => c.Content.Lines).Select(l => l.Key).ToList();
        var invoices = job.All.Where(p => !p.IsCredit).ToList();
        var keys = new[] { lines[step.Which % lines.Count], lines[(int)(step.Minor % lines.Count)] }
            .Distinct()
            .ToList();
        var part = (step.Minor % 4) switch
        {
            0 => new BillPart(Percent: 1 + (step.Minor % 100)),
            1 => new BillPart(AmountMinor: step.Minor),
            2 => new BillPart(LineKeys: keys),
            _ => BillPart.All,
        };
        _ = step.Kind switch
        {
            0 => account.TakeDeposit(TestPapers.Stamp(), money).IsSuccess,
            1 => account.TakePayment(TestPapers.Stamp(), money).IsSuccess,
            2 => account.Refund(TestPapers.Stamp(), money, "Back").IsSuccess,
            3 => account
                .TakeTradeCredit(TestPapers.Stamp(), new GoodsTaken(step.Minor, "Goods", "A", "B", "R-2026-0002"))
                .IsSuccess,
            4 or 5 => job.Issue(part).IsSuccess,
            6 or 7 => invoices.Count > 0 && job.Credit(invoices[step.Which % invoices.Count], part).IsSuccess,
            8 => account.Charge(TestPapers.Stamp, "CO-2026-0001", content).IsSuccess,
            9 when !account.IsSettled => Cancel(job, WorkDone(content, step.Which * 10)),
            _ => account.Reverse(TestPapers.Stamp(), account.Entries[^1].Id, "Mistake").IsSuccess,
        };
    }

    private static bool Cancel(TestPapers job, InvoiceContent workDone)
    {
        job.Cancel(workDone);
        return true;
    }

    /// <summary>Every second line of the quote done in part, under the numbers they have there.</summary>
    public static InvoiceContent WorkDone(InvoiceContent content, int percent)
    {
        var lines = content
            .Lines.Select(
                (l, i) => l with { Key = $"{i + 1}", Quantity = decimal.Round(l.Quantity * percent / 100, 2) }
            )
            .Where((l, i) => l.Quantity > 0 && i % 2 == 0)
            .ToList();
        return lines.Count == 0
            ? InvoiceContent.Nothing(content.CurrencyCode, content.PricesIncludeTax)
            : Totalled(lines, content.CurrencyCode, content.PricesIncludeTax, TaxPer.Invoice, 0);
    }

    private static InvoiceContent ContentOf(
        (long Quantity, long Price, int Codes)[] lines,
        int discount,
        bool isInside,
        bool perLine,
        int currency
    ) =>
        Totalled(
            [
                .. lines.Select(
                    (l, i) =>
                        new InvoiceLine(
                            $"Line {i + 1}",
                            l.Quantity / 100_000m,
                            "h",
                            l.Price,
                            0,
                            0,
                            l.Codes switch
                            {
                                0 => [],
                                1 => ["a"],
                                2 => ["b"],
                                _ => ["a", "b"],
                            }
                        )
                ),
            ],
            Currencies[currency],
            isInside,
            perLine ? TaxPer.Line : TaxPer.Invoice,
            discount
        );

    private static InvoiceContent Totalled(
        IReadOnlyList<InvoiceLine> lines,
        string currency,
        bool isInside,
        TaxPer per,
        int discount
    )
    {
        var totals = TotalsCalculator
            .Calculate(
                new TotalsRequest(
                    Currency.Of(currency),
                    MoneyRounding.HalfUp,
                    per,
                    isInside,
                    [.. lines.Select(l => new TotalsLine(l.Description, l.Quantity, l.UnitPriceMinor, l.TaxCodes))],
                    new Discount(discount, null),
                    [new("a", 19), new("b", 7.25m)],
                    0
                )
            )
            .Value;
        return InvoiceContent.Sum(
            currency,
            isInside,
            [
                .. lines.Select(
                    (l, i) =>
                        l with
                        {
                            NetMinor = totals.Lines[i].NetMinor,
                            DiscountMinor = totals.Lines[i].DiscountMinor,
                        }
                ),
            ],
            [
                .. totals.Taxes.Select(t => new QuotedTax(
                    t.Code,
                    t.Code,
                    t.Code == "a" ? 19 : 7.25m,
                    t.TaxableMinor,
                    t.TaxMinor
                )),
            ]
        );
    }
}
