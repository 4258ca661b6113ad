using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Throughput;

/// <summary>A quote as the figures see it.</summary>
/// <param name="Why">Of a lost one; null otherwise.</param>
/// <param name="LostOn">The local day after its last valid one, where that passed without an answer.</param>
public sealed record QuoteFact(
    string Number,
    string State,
    long TotalMinor,
    DateTimeOffset? SentAt,
    DateTimeOffset? WonAt,
    DateTimeOffset? LostAt,
    DateOnly? LostOn,
    string? Why
);

/// <summary>An entry of the ledger as the figures see it.</summary>
/// <param name="MoneyMinor">Cash, card, bank and cheque: above zero came in.</param>
/// <param name="OwedMinor">What it adds to what the customer owes.</param>
/// <param name="SalesMinor">What it adds to sales, without tax.</param>
/// <param name="IsPaper">It books an invoice or a credit note.</param>
/// <param name="ByMoney">The customer's side of it was settled by money: a deposit, a payment, a refund, or one of them taken back.</param>
public sealed record LedgerFact(
    JobId Job,
    string Title,
    DateOnly On,
    long MoneyMinor,
    long OwedMinor,
    long SalesMinor,
    bool IsPaper,
    bool ByMoney
);

/// <summary>Everything the figures of a range are worked out from.</summary>
/// <param name="Cars">Every car that may have to do with the range.</param>
/// <param name="PastDays">Days in hand of past cars, see <see cref="FigureDefinitions.PastCars"/>.</param>
/// <param name="Attendance">Spells of attendance that touch the range.</param>
/// <param name="Ledger">All entries of the jobs whose accounts are looked at, up to the last day of the range.</param>
public sealed record FlowFacts(
    IReadOnlyList<CarLog> Cars,
    IReadOnlyList<double> PastDays,
    IReadOnlyList<PersonSpan> Attendance,
    IReadOnlyList<QuoteFact> Quotes,
    IReadOnlyList<LedgerFact> Ledger
);
