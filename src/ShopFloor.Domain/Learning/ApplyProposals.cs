using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Learning;

/// <summary>Takes accepted proposals into a price book.</summary>
public static class ApplyProposals
{
    /// <summary>The changed book; everything else stays as it is. It is not adopted: its edition is that of the book it was made from.</summary>
    /// <returns>A failure where a proposal was made for figures that the book no longer has, and where the changed book breaks a rule.</returns>
    public static Outcome<PriceBook> To(PriceBook book, IReadOnlyList<LabourProposal> accepted)
    {
        ArgumentNullException.ThrowIfNull(book);
        ArgumentNullException.ThrowIfNull(accepted);
        var errors = new FieldErrors();
        errors.AddIf(accepted.Count == 0, "proposals", "Choose at least one proposal.");
        var taken = new HashSet<string>(StringComparer.Ordinal);
        for (var i = 0; i < accepted.Count; i++)
        {
            errors.AddIf(!taken.Add(accepted[i].Key), $"proposals[{i}]", "A proposal is taken once.");
            errors.AddIf(
                !StillFits(book, accepted[i]),
                $"proposals[{i}]",
                $"The price book no longer has the figures that this proposal was made for ({accepted[i].Key}); look at the proposals anew."
            );
        }

        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var standards = accepted
            .OfType<StandardProposal>()
            .ToDictionary(p => p.From.Code, p => p.To, StringComparer.Ordinal);
        var factors = accepted.OfType<FactorProposal>().ToDictionary(p => p.Answer);
        return PriceBookRules.Check(
            book with
            {
                Standards = [.. book.Standards.Select(s => standards.GetValueOrDefault(s.Code, s))],
                Questions =
                [
                    .. book.Questions.Select(q =>
                        q with
                        {
                            Answers =
                            [
                                .. q.Answers.Select(a =>
                                    factors.TryGetValue(new GivenAnswer(q.Code, a.Code), out var change)
                                        ? Changed(a, change)
                                        : a
                                ),
                            ],
                        }
                    ),
                ],
            }
        );
    }

    private static bool StillFits(PriceBook book, LabourProposal proposal) =>
        proposal switch
        {
            StandardProposal p => book.FindStandard(p.From.Code) == p.From && p.To.Code == p.From.Code,
            FactorProposal p => LabourProposals.Find(book, p.Answer) is { } answer
                && p.From.All(answer.Factors.Contains)
                && p.From.Select(f => f.StandardCode).SequenceEqual(p.To.Select(f => f.StandardCode)),
            _ => false,
        };

    private static Answer Changed(Answer answer, FactorProposal change)
    {
        var to = change.To.ToDictionary(f => f.StandardCode, StringComparer.Ordinal);
        return answer with { Factors = [.. answer.Factors.Select(f => to.GetValueOrDefault(f.StandardCode, f))] };
    }
}
