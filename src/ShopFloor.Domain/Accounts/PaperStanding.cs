namespace ShopFloor.Domain.Accounts;

/// <summary>How a job's account stood when a paper was issued. A paper prints this and nothing later, so that it says the same whenever it is printed.</summary>
/// <param name="Moved">Money and goods taken or given back before it and not taken back by then, in order.</param>
/// <param name="EarlierPapers">Invoices and credit notes issued before it.</param>
/// <param name="BalanceMinor">All papers up to and with this one, less what was received; below zero where more was received than invoiced.</param>
/// <param name="LeftToInvoiceMinor">Agreed and not invoiced after it.</param>
public sealed record PaperStanding(
    IReadOnlyList<LedgerEntry> Moved,
    IReadOnlyList<Invoice> EarlierPapers,
    long BalanceMinor,
    long LeftToInvoiceMinor
)
{
    /// <param name="account">The job's account with all its entries.</param>
    /// <param name="papers">All papers of the job; <paramref name="paper"/> is one of them.</param>
    public static PaperStanding Of(JobAccount account, IReadOnlyList<Invoice> papers, Invoice paper)
    {
        ArgumentNullException.ThrowIfNull(account);
        ArgumentNullException.ThrowIfNull(papers);
        ArgumentNullException.ThrowIfNull(paper);
        var own = account.Entries.Single(e => e.Paper == paper.Id).Sequence;
        var before = account.Entries.Where(e => e.Sequence <= own).OrderBy(e => e.Sequence).ToList();
        var moved = before.Where(e => e.IsMoney && !before.Exists(r => r.Reverses == e.Id)).ToList();
        var earlier = papers.Where(p => p.Id != paper.Id && before.Exists(e => e.Paper == p.Id)).ToList();
        return new(
            moved,
            earlier,
            earlier.Append(paper).Sum(p => p.Sign * p.TotalMinor) + moved.Sum(e => e.CustomerMinor),
            -before.Sum(e => e.Sum(LedgerAccount.Agreed))
        );
    }
}
