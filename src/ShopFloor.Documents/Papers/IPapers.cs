using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Papers;

/// <summary>The shop's papers as PDF files. Each takes a plain model with everything already decided, computed and worded; nothing is looked up here.</summary>
/// <remarks>Two calls with the same model give the same text and geometry, not the same bytes (a PDF carries ids of its own).</remarks>
public interface IPapers
{
    byte[] Quote(QuotePaper paper, PaperSettings settings);

    byte[] Invoice(InvoicePaper paper, PaperSettings settings);

    byte[] Receipt(ReceiptPaper paper, PaperSettings settings);

    byte[] Order(OrderPaper paper, PaperSettings settings);

    byte[] Statement(StatementPaper paper, PaperSettings settings);

    byte[] Change(ChangePaper paper, PaperSettings settings);

    byte[] Authorisation(AuthorisationPaper paper, PaperSettings settings);

    byte[] Traveller(TravellerPaper paper, PaperSettings settings);

    byte[] Permit(PermitPaper paper, PaperSettings settings);

    /// <summary>Several travellers in one file, each with its own page numbers.</summary>
    byte[] Travellers(IReadOnlyList<TravellerPaper> papers, PaperSettings settings);

    byte[] PartLabels(PartLabelsPaper paper, PaperSettings settings);

    byte[] StockLabels(StockLabelsPaper paper, PaperSettings settings);

    byte[] Counting(CountingPaper paper, PaperSettings settings);

    byte[] Inspection(InspectionPaper paper, PaperSettings settings);

    byte[] Week(WeekPaper paper, PaperSettings settings);
}
