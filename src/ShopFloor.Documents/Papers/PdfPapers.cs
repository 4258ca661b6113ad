using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Papers.Writers;

namespace ShopFloor.Documents.Papers;

/// <summary><see cref="IPapers"/> on PDFsharp. Has no state: one instance serves all threads.</summary>
public sealed class PdfPapers : IPapers
{
    public byte[] Quote(QuotePaper paper, PaperSettings settings) => QuoteWriter.Write(paper, settings);

    public byte[] Invoice(InvoicePaper paper, PaperSettings settings) => InvoiceWriter.Write(paper, settings);

    public byte[] Receipt(ReceiptPaper paper, PaperSettings settings) => ReceiptWriter.Write(paper, settings);

    public byte[] Order(OrderPaper paper, PaperSettings settings) => OrderWriter.Write(paper, settings);

    public byte[] Statement(StatementPaper paper, PaperSettings settings) => StatementWriter.Write(paper, settings);

    public byte[] Change(ChangePaper paper, PaperSettings settings) => ChangeWriter.Write(paper, settings);

    public byte[] Authorisation(AuthorisationPaper paper, PaperSettings settings) =>
        AuthorisationWriter.Write(paper, settings);

    public byte[] Traveller(TravellerPaper paper, PaperSettings settings) => TravellerWriter.Write(paper, settings);

    public byte[] Permit(PermitPaper paper, PaperSettings settings) => PermitWriter.Write(paper, settings);

    public byte[] Travellers(IReadOnlyList<TravellerPaper> papers, PaperSettings settings) =>
        TravellerWriter.WriteAll(papers, settings);

    public byte[] PartLabels(PartLabelsPaper paper, PaperSettings settings) => PartLabelsWriter.Write(paper, settings);

    public byte[] StockLabels(StockLabelsPaper paper, PaperSettings settings) => StockWriter.Labels(paper, settings);

    public byte[] Counting(CountingPaper paper, PaperSettings settings) => StockWriter.Counting(paper, settings);

    public byte[] Inspection(InspectionPaper paper, PaperSettings settings) => InspectionWriter.Write(paper, settings);

    public byte[] Week(WeekPaper paper, PaperSettings settings) => WeekWriter.Write(paper, settings);
}
