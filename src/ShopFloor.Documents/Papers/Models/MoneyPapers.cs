using ShopFloor.Domain.Common;

namespace ShopFloor.Documents.Papers.Models;

/// <summary>The hours a job is expected to take: as likely over as under <paramref name="P50"/>, four times in five within <paramref name="P80"/>.</summary>
public sealed record PaperHours(double P50, double P80);

/// <summary>How a figure came about, with the figures it was made of.</summary>
/// <param name="Title">What it is; null for a part, whose rule says it.</param>
public sealed record PaperExplained(
    string? Title,
    string Rule,
    IReadOnlyList<PaperFact> Inputs,
    string Source,
    string Result,
    IReadOnlyList<PaperExplained> Parts
);

/// <summary>An offer to a customer.</summary>
/// <param name="Number">E.g. <c>Q-2026-0001</c>.</param>
/// <param name="State">A word for the state, e.g. <c>Sent</c>; a draft is marked as such on every page.</param>
/// <param name="Choices">Kit, hinge option for each door, use and rule sets, in words.</param>
/// <param name="Assumed">The condition the price assumes, in words.</param>
/// <param name="Notes">Terms and remarks, a paragraph each.</param>
/// <param name="AcceptUrl">The customer's link; printed with a QR code. Null when there is none.</param>
/// <param name="ContentHash">SHA-256 of the frozen content; null for a draft.</param>
/// <param name="Accepted">Who accepted it and when, once it was.</param>
/// <param name="Explained">How each line came about, on pages of its own; null where nobody asked.</param>
public sealed record QuotePaper(
    PaperShop Shop,
    PaperParty Customer,
    PaperCar Car,
    string Number,
    int Revision,
    string State,
    bool IsDraft,
    DateOnly Date,
    DateOnly? ValidUntil,
    DateOnly? PromiseDate,
    IReadOnlyList<PaperFact> Choices,
    IReadOnlyList<PaperFact> Assumed,
    IReadOnlyList<PaperLine> Lines,
    PaperTotals Totals,
    PaperHours? Hours,
    IReadOnlyList<string> Notes,
    string? AcceptUrl = null,
    string? ContentHash = null,
    PaperSignature? Accepted = null,
    IReadOnlyList<PaperExplained>? Explained = null
);

/// <summary>Money received or paid back, as a row of an invoice.</summary>
public sealed record PaperPayment(DateOnly On, string Method, string? Reference, Money Amount);

/// <summary>What an invoice is.</summary>
public enum PaperInvoiceKind
{
    Invoice,
    PartInvoice,
    FinalInvoice,
    CreditNote,
}

/// <summary>An amount with what it is.</summary>
public sealed record PaperAmount(string Label, Money Amount);

/// <summary>A tax invoice or credit note: numbered without gaps, both parties' addresses and numbers, day of supply, tax by rate.</summary>
/// <param name="SuppliedOn">The day the work was finished or handed over.</param>
/// <param name="Payments">What was received before; refunds are negative.</param>
/// <param name="Balance">What is still to be paid after payments; negative when the shop owes.</param>
/// <param name="TaxNote">Why no tax is charged, or what else the law wants said; null when nothing.</param>
/// <param name="HowToPay">Lines on how to pay.</param>
/// <param name="CreditsNumber">Number of the invoice that a credit note takes back.</param>
/// <param name="Reason">Why a credit note was written.</param>
/// <param name="Others">Earlier invoices and credit notes of the job, which the payments below are for as well.</param>
/// <param name="ContentHash">SHA-256 of the frozen content.</param>
/// <param name="Notes">Cautions and remarks, a paragraph each.</param>
/// <param name="IsMoreToCome">Work is agreed that is not invoiced yet; what was received beyond this paper is for that.</param>
public sealed record InvoicePaper(
    PaperShop Shop,
    PaperParty Customer,
    PaperCar Car,
    string Number,
    DateOnly IssuedOn,
    DateOnly SuppliedOn,
    DateOnly? DueOn,
    string? JobNumber,
    string? QuoteNumber,
    IReadOnlyList<PaperLine> Lines,
    PaperTotals Totals,
    IReadOnlyList<PaperPayment> Payments,
    Money Balance,
    string? TaxNote,
    IReadOnlyList<string> HowToPay,
    PaperInvoiceKind Kind = PaperInvoiceKind.Invoice,
    string? CreditsNumber = null,
    string? Reason = null,
    IReadOnlyList<PaperAmount>? Others = null,
    string? ContentHash = null,
    IReadOnlyList<string>? Notes = null,
    bool IsMoreToCome = false
);

/// <summary>Confirms an order: what was agreed, for how much, by when.</summary>
/// <param name="Charges">The accepted quote and the approved changes with their totals.</param>
/// <param name="Terms">Deposit, dates and remarks, a paragraph each.</param>
public sealed record OrderPaper(
    PaperShop Shop,
    PaperParty Customer,
    PaperCar Car,
    string JobNumber,
    DateOnly Date,
    DateOnly? PromiseDate,
    PaperSignature? Accepted,
    IReadOnlyList<PaperLine> Lines,
    PaperTotals Totals,
    IReadOnlyList<PaperAmount> Charges,
    IReadOnlyList<string> Terms,
    IReadOnlyList<PaperFact> Frozen
);

/// <summary>A row of a statement.</summary>
/// <param name="Charge">What was charged; zero where nothing was.</param>
/// <param name="Paid">What was paid or credited; zero where nothing was.</param>
/// <param name="Balance">After the row.</param>
public sealed record StatementRow(DateOnly On, string What, string? Number, Money Charge, Money Paid, Money Balance);

/// <summary>All that happened on a job's account until a day.</summary>
/// <param name="Papers">Invoices and credit notes issued, with their totals.</param>
public sealed record StatementPaper(
    PaperShop Shop,
    PaperParty Customer,
    PaperCar Car,
    string JobNumber,
    DateOnly Until,
    IReadOnlyList<StatementRow> Rows,
    Money Balance,
    IReadOnlyList<PaperAmount> Papers,
    IReadOnlyList<string> Notes
);

/// <summary>What a receipt confirms.</summary>
public enum ReceiptKind
{
    Deposit,
    Payment,
    Refund,
    TradeCredit,
}

/// <summary>A confirmation of money received, paid back, or of work or goods taken in exchange.</summary>
/// <param name="Amount">Above zero, for a refund too.</param>
/// <param name="About">What it was for, e.g. <c>Quote Q-2026-0003, revision 1</c>.</param>
/// <param name="BalanceAfter">What is still open on the account; null when not known yet.</param>
/// <param name="TakenBy">Who received or paid it.</param>
/// <param name="GivenBy">Who gave work or goods in exchange; null on other receipts.</param>
/// <param name="Notes">Cautions, a paragraph each.</param>
public sealed record ReceiptPaper(
    PaperShop Shop,
    PaperParty Customer,
    PaperCar? Car,
    string Number,
    ReceiptKind Kind,
    DateTimeOffset At,
    Money Amount,
    string Method,
    string? Reference,
    string About,
    Money? BalanceAfter,
    string TakenBy,
    string? GivenBy = null,
    IReadOnlyList<string>? Notes = null
);
