using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Domain.Changes;

/// <summary>Prices change orders by the quote's own engine.</summary>
public static class ChangePricing
{
    /// <summary>Further work: each piece at its operation, without condition factors; further lines; work sent out.</summary>
    /// <remarks>No minimum charge and no deposit: the job has both already.</remarks>
    /// <param name="book">In force today.</param>
    /// <param name="job">Gives title and phase of the operations named.</param>
    /// <param name="on">The local day whose tax rates count.</param>
    public static Outcome<ChangePrice> FurtherWork(
        PriceBook book,
        Job job,
        ChangeTerms terms,
        DateOnly on,
        bool isTaxExempt
    )
    {
        ArgumentNullException.ThrowIfNull(book);
        ArgumentNullException.ThrowIfNull(job);
        ArgumentNullException.ThrowIfNull(terms);
        if (terms.Work.Count == 0 && terms.Extras.Lines.Count == 0 && terms.Extras.OutsideWorkCodes.Count == 0)
        {
            return Failure.Field("work", "Say what is to be done: name the work, add a line or choose work sent out.");
        }

        var errors = new FieldErrors();
        var content = new List<WorkContent>();
        foreach (var (i, work) in terms.Work.Index())
        {
            var added = terms.Operations.FirstOrDefault(o => o.Route.Code == work.OperationCode)?.Route;
            var there = job.Operation(work.OperationCode);
            CheckWork(book, work, added is not null, there, $"work[{i}]", errors);
            if ((added ?? there?.Route) is { } operation)
            {
                content.Add(
                    new WorkContent(
                        operation.Code,
                        operation.Title,
                        operation.Phase,
                        work.Skill,
                        work.StandardCode,
                        work.Quantity
                    )
                );
            }
        }

        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var use = book.Uses.Any(u => u.Code == job.Scope.UseCode) ? job.Scope.UseCode : book.Uses[0].Code;
        var scope = new JobScope(null, use, [], [], new Dictionary<string, string>(), job.Scope.Car)
        {
            Kind = SaleKind.Bench,
            Bench = [.. terms.Work.Select(w => new BenchItem(w.Skill, w.StandardCode, w.Quantity))],
        };
        return PriceEngine
            .Price(
                book with
                {
                    Minimum = null,
                    Deposit = new DepositRule(0),
                },
                new PriceInput(scope, content, terms.Discount, 0, on, isTaxExempt) { Extras = terms.Extras }
            )
            .Then<ChangePrice>(priced => new ChangePrice(priced, null, null, []));
    }

    /// <summary>The condition found otherwise: the quote as agreed and as found, and line by line what lies between.</summary>
    public static ChangePrice ConditionFound(ConditionDifference difference)
    {
        ArgumentNullException.ThrowIfNull(difference);
        return new ChangePrice(
            PriceBetween.Of(difference.Agreed, difference.Found, difference.Precautions),
            difference.Agreed,
            difference.Found,
            [.. difference.Answers.Select(a => a.Sentence)]
        );
    }

    private static void CheckWork(
        PriceBook book,
        ChangeWork work,
        bool isAdded,
        Operation? there,
        string path,
        FieldErrors errors
    )
    {
        errors.AddIf(
            !isAdded && there is null,
            path + ".operation",
            $"There is no operation {work.OperationCode} on this job; choose one of its route, or add it."
        );
        errors.AddIf(
            there is { IsOver: true },
            path + ".operation",
            $"{work.OperationCode} {there?.Title} is done, and done stays done: add a new operation for further work."
        );
        errors.AddIf(
            book.FindStandard(work.StandardCode) is null,
            path + ".standardCode",
            $"There is no labour standard '{work.StandardCode}'; choose one of the price book's."
        );
        errors.AddIf(
            book.Skills.All(s => s.Code != work.Skill),
            path + ".skill",
            $"There is no skill '{work.Skill}'; choose one of: {string.Join(", ", book.Skills.Select(s => s.Code))}."
        );
        TotalsRules.CheckQuantity(work.Quantity, path + ".quantity", errors);
    }
}
