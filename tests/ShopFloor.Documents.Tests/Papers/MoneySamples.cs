using ShopFloor.Documents.Papers.Models;
using SkiaSharp;

namespace ShopFloor.Documents.Tests.Papers;

/// <summary>Invented papers about a job's money, with a logo.</summary>
internal static class MoneySamples
{
    public const string Barter =
        "Work or goods taken in exchange may be taxable for both sides, and the tax on this job is not lowered by it. A tax adviser decides.";

    public static PaperShop Shop { get; } = Samples.Shop with { Logo = Logo() };

    public static InvoicePaper PartInvoice() =>
        Samples.Invoice() with
        {
            Shop = Shop,
            Kind = PaperInvoiceKind.PartInvoice,
            Lines =
            [
                new(
                    "Labour",
                    1,
                    null,
                    Samples.Eu(85_500),
                    Samples.Eu(85_500),
                    "Part of 23.75 h, which comes to 1,710.00 EUR in all",
                    ["STD"]
                ),
            ],
            Totals = new PaperTotals(
                Samples.Eu(85_500),
                Samples.Eu(0),
                [new("STD", "Standard tax", 21m, Samples.Eu(85_500), Samples.Eu(17_955))],
                Samples.Eu(103_455),
                Samples.Eu(0),
                Samples.Eu(103_455),
                false
            ),
            Others = [new("Part invoice I-2026-0006", Samples.Eu(50_000))],
            Payments =
            [
                new(new DateOnly(2026, 9, 20), "work or goods in exchange: a set of wheels", null, Samples.Eu(20_000)),
            ],
            Balance = Samples.Eu(133_455),
            ContentHash = Samples.Hash,
            Notes = [Barter],
        };

    public static InvoicePaper CreditNote() =>
        PartInvoice() with
        {
            Number = "C-2026-0001",
            Kind = PaperInvoiceKind.CreditNote,
            CreditsNumber = "I-2026-0007",
            Reason = "The hours were fewer than agreed.",
            Notes = [],
        };

    public static OrderPaper Order() =>
        new(
            Shop,
            Samples.Customer,
            Samples.Car,
            "J-2026-0004",
            new DateOnly(2026, 9, 20),
            new DateOnly(2026, 11, 6),
            new PaperSignature("Zoë Ærøskjöld-Łukasiewicz", new(2026, 9, 19, 10, 30, 0, TimeSpan.FromHours(2))),
            Samples.Lines,
            Samples.Totals,
            [new("Q-2026-0003 revision 2", Samples.Eu(450_000)), new("CO-2026-0001", Samples.Eu(34_000))],
            ["Deposit: 1,400.00 EUR. Work begins when it has been paid.", Barter],
            [new("Content hash (SHA-256) of quote Q-2026-0003, revision 2", Samples.Hash)]
        );

    public static StatementPaper Statement(int rows = 3) =>
        new(
            Shop,
            Samples.Customer,
            Samples.Car,
            "J-2026-0004",
            new DateOnly(2026, 11, 7),
            [
                new(
                    new DateOnly(2026, 9, 20),
                    "Agreed: Q-2026-0003 revision 2",
                    null,
                    Samples.Eu(484_000),
                    Samples.Eu(0),
                    Samples.Eu(484_000)
                ),
                .. Enumerable
                    .Range(1, rows - 1)
                    .Select(i => new StatementRow(
                        new DateOnly(2026, 9, 20),
                        "Deposit, card",
                        $"R-2026-{i:0000}",
                        Samples.Eu(0),
                        Samples.Eu(1_000),
                        Samples.Eu(484_000 - (i * 1_000))
                    )),
            ],
            Samples.Eu(484_000 - ((rows - 1) * 1_000)),
            [
                new("Invoice I-2026-0007, 6 November 2026", Samples.Eu(484_000)),
                new("Credit note C-2026-0001, 7 November 2026", Samples.Eu(-103_455)),
            ],
            [Barter]
        );

    /// <summary>A red ring on white, wider than high.</summary>
    private static byte[] Logo()
    {
        using var bitmap = new SKBitmap(300, 120);
        using var canvas = new SKCanvas(bitmap);
        canvas.Clear(SKColors.White);
        using var ink = new SKPaint
        {
            Color = SKColors.Firebrick,
            Style = SKPaintStyle.Stroke,
            StrokeWidth = 18,
            IsAntialias = true,
        };
        canvas.DrawOval(150, 60, 130, 45, ink);
        using var image = SKImage.FromBitmap(bitmap);
        using var data = image.Encode(SKEncodedImageFormat.Jpeg, 90);
        return data.ToArray();
    }
}
