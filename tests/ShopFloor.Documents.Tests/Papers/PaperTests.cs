using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Documents.Tests.Qr;
using ShopFloor.Domain.Common;
using SkiaSharp;

namespace ShopFloor.Documents.Tests.Papers;

public sealed class PaperTests
{
    private static readonly PdfPapers Papers = new();

    public static TheoryData<string> Kinds =>
        [
            "quote",
            "week",
            "invoice",
            "partInvoice",
            "creditNote",
            "order",
            "statement",
            "receipt",
            "authorisation",
            "traveller",
            "inspection",
        ];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void No_letter_is_missing_and_every_page_is_numbered(string kind)
    {
        foreach (var settings in (PaperSettings[])[Samples.A4, Samples.Letter])
        {
            using var paper = new ReadBack(Make(kind, settings));

            Assert.False(paper.HasMissingGlyph);
            Assert.DoesNotContain('\uFFFD', paper.Text);
            for (var page = 1; page <= paper.PageCount; page++)
            {
                Assert.Contains($"Page {page} of {paper.PageCount}", paper.PageText(page), StringComparison.Ordinal);
            }
        }
    }

    // ISO 216: 210 x 297 mm; ANSI/ASME Y14.1 letter: 8.5 x 11 in.
    [Theory]
    [InlineData(PaperSize.A4, 210, 297)]
    [InlineData(PaperSize.Letter, 215.9, 279.4)]
    public void A_page_has_exactly_the_sheets_size(PaperSize size, double widthMm, double heightMm)
    {
        using var paper = new ReadBack(Papers.Quote(Samples.Quote(), Samples.A4 with { Size = size }));

        foreach (var page in paper.Pages)
        {
            Assert.Equal(widthMm, page.Width * 25.4 / 72, 0.001);
            Assert.Equal(heightMm, page.Height * 25.4 / 72, 0.001);
        }
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Title_and_language_are_set_and_nothing_leaves_the_page(string kind)
    {
        using var paper = new ReadBack(Make(kind, Samples.A4));

        Assert.Contains("Hollow Lane Fabrication", paper.Title, StringComparison.Ordinal);
        Assert.Contains("/Lang", paper.Raw, StringComparison.Ordinal);
        foreach (var word in paper.Pages.SelectMany(p => p.GetWords()))
        {
            Assert.InRange(word.BoundingBox.Left, 0, 595.3);
            Assert.InRange(word.BoundingBox.Right, 0, 595.3);
            Assert.InRange(word.BoundingBox.Bottom, 0, 841.9);
        }
    }

    [Fact]
    public void Quote_says_all_that_was_offered()
    {
        using var paper = new ReadBack(Papers.Quote(Samples.Quote(), Samples.A4));

        AssertSays(
            paper,
            "Hollow Lane Fabrication",
            "Zoë Ærøskjöld-Łukasiewicz",
            "Marlow Quillon 2005",
            "1X9TE12A95T000004",
            "Q-2026-0003",
            "Six-point weld-in",
            "Heavy seam filler: × 1.25; thin floor: short runs ≤ 10 mm",
            "23.75 h",
            "1,710.00",
            "Standard tax 21 % on 4,000.00",
            "840.00 EUR",
            "4,840.00 EUR",
            "-200.00 EUR",
            "4,640.00 EUR",
            "Expected work: 23.7 h; four jobs in five of this kind take no more than 27.4 h.",
            "6 November 2026",
            Samples.Hash
        );
        Assert.DoesNotContain("DRAFT", paper.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_draft_is_marked_on_every_page_and_repeats_the_tables_head()
    {
        using var paper = new ReadBack(Papers.Quote(Samples.Quote(lines: 90, draft: true), Samples.A4));

        Assert.InRange(paper.PageCount, 3, 8);
        for (var page = 1; page <= paper.PageCount; page++)
        {
            Assert.Contains("DRAFT – not an offer", paper.PageText(page), StringComparison.Ordinal);
        }

        Assert.Contains("Quantity", paper.PageText(2), StringComparison.Ordinal);
        Assert.Equal(23, Count(paper.Text, "Swing-out hinge with pin, left door"));
    }

    [Fact]
    public void Quote_and_traveller_carry_their_link_as_a_qr_code()
    {
        Assert.Equal(Samples.Url, QrOf(Papers.Traveller(Samples.Traveller(), Samples.A4)));
        Assert.Equal(Samples.Url, QrOf(Papers.Quote(Samples.Quote(), Samples.A4)));
        Assert.Equal(Samples.RecordUrl, QrOf(Papers.Inspection(Samples.Inspection(), Samples.A4)));
    }

    [Fact]
    public void Invoice_says_all_that_a_tax_invoice_needs()
    {
        using var paper = new ReadBack(Papers.Invoice(Samples.Invoice(), Samples.A4));

        AssertSays(
            paper,
            "Hollow Lane Fabrication Ltd",
            "Unit 4, Hollow Lane",
            "Tax registration XX 000 0000 01",
            "12 Quill Row",
            "Tax number XX123456789",
            "I-2026-0007",
            "Issued 6 November 2026",
            "Supplied 5 November 2026",
            "Standard tax (STD) 21 % 4,000.00 EUR 840.00 EUR",
            "Reduced tax (RED) 9 % 0.00 EUR 0.00 EUR",
            "Received 20 September 2026, card",
            "-1,400.00 EUR",
            "Paid back 28 September 2026, card",
            "100.00 EUR",
            "Still to be paid 3,340.00 EUR",
            "How to pay"
        );
    }

    [Fact]
    public void A_settled_invoice_asks_for_nothing()
    {
        var settled = Samples.Invoice() with { Balance = Samples.Eu(0) };
        using var paper = new ReadBack(Papers.Invoice(settled, Samples.A4));

        Assert.Contains("Paid in full 0.00 EUR", paper.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("How to pay", paper.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(ReceiptKind.Deposit, "Received as a deposit", "Received from")]
    [InlineData(ReceiptKind.Payment, "Received", "Received from")]
    [InlineData(ReceiptKind.Refund, "Paid back", "Paid to")]
    [InlineData(ReceiptKind.TradeCredit, "Taken in exchange, as work or goods", "Received from")]
    public void Receipt_says_which_way_the_money_went(ReceiptKind kind, string sentence, string party)
    {
        using var paper = new ReadBack(Papers.Receipt(Samples.Receipt(kind), Samples.A4));

        AssertSays(
            paper,
            sentence,
            party,
            "1,400.00 EUR",
            "R-2026-0005",
            "terminal 0042",
            "Ines Falk",
            "Quote Q-2026-0003"
        );
    }

    [Fact]
    public void Authorisation_carries_every_caution_the_road_notice_and_lines_to_sign()
    {
        using var paper = new ReadBack(Papers.Authorisation(Samples.Authorisation(), Samples.A4));

        AssertSays(paper, [.. Cautions.Work.Concat(Cautions.RoadUse).Select(c => c.Text), Cautions.WhoDecides]);
        AssertSays(
            paper,
            "Signature of customer",
            "Signature of shop",
            "☐ may be published",
            "patched (assumed: thin)"
        );
    }

    [Fact]
    public void A_signature_drawn_on_the_screen_is_on_the_sheet()
    {
        using var paper = new ReadBack(Papers.Authorisation(Samples.Authorisation(Samples.Drawn()), Samples.A4));

        Assert.Single(paper.Pages.SelectMany(p => p.GetImages()));
        AssertSays(paper, "☑ The shop may publish photos", "14 Sep 2026, 16:05");
        Assert.DoesNotContain("Signature of shop", paper.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_set_of_travellers_keeps_the_code_and_the_pages_of_each()
    {
        TravellerPaper[] set =
        [
            Samples.Traveller() with
            {
                PaperLines = 18,
                Now = ["110 Rear braces fitted and tacked: Mara Quill is on it since 6 Nov, 09:10."],
            },
            Samples.Traveller() with
            {
                JobNumber = "J-2026-0005",
                CarUrl = Samples.Url + "5",
                PaperLines = 18,
            },
        ];
        var pdf = Papers.Travellers(set, Samples.A4);
        using var paper = new ReadBack(pdf);

        Assert.Equal([Samples.Url, Samples.Url + "5"], QrsOf(pdf));
        using var alone = new ReadBack(Papers.Traveller(set[0], Samples.A4));
        Assert.Equal(2 * alone.PageCount, paper.PageCount);
        Assert.StartsWith("J-2026-0005", paper.PageText(alone.PageCount + 1), StringComparison.Ordinal);
        Assert.Contains("Mara Quill is on it", paper.PageText(1), StringComparison.Ordinal);
        Assert.Contains("J-2026-0005", paper.PageText(paper.PageCount), StringComparison.Ordinal);
        Assert.Contains(
            $"Page {alone.PageCount} of {alone.PageCount}",
            paper.PageText(paper.PageCount),
            StringComparison.Ordinal
        );
        Assert.Equal(18, paper.PageText(paper.PageCount).Split('☐').Length - 1);
        Assert.False(paper.HasMissingGlyph);
    }

    [Fact]
    public void Traveller_has_every_operation_with_a_box_and_a_line_of_100_mm()
    {
        var model = Samples.Traveller();
        using var paper = new ReadBack(Papers.Traveller(model, Samples.A4));

        AssertSays(paper, [.. model.Operations.Select(o => o.Title)]);
        Assert.Equal(model.Operations.Count(o => o.IsDone), Count(paper.Text, "☑"));
        Assert.Equal(model.Operations.Count(o => !o.IsDone), Count(paper.Text, "☐"));
        AssertSays(paper, "Waits for: welds of 150 passed", Cautions.HotWork.Text, Cautions.WhoDecides);
        AssertSays(
            paper,
            "Saw square to: 1202.4 mm",
            "Left brace, top end: Depth of the notch: 20.53 mm",
            "⚠ Measure once more before you cut."
        );
        var widths = paper
            .Pages.SelectMany(p => p.Paths)
            .Select(p => p.GetBoundingRectangle())
            .Where(r => r is { Height: < 1 })
            .Select(r => r!.Value.Width * 25.4 / 72);
        Assert.Contains(widths, width => Math.Abs(width - 100) < 0.001);
        Assert.Contains("/PrintScaling", paper.Raw, StringComparison.Ordinal);
    }

    [Fact]
    public void Inspection_record_gives_each_line_its_value_limits_and_result_in_words()
    {
        using var paper = new ReadBack(Papers.Inspection(Samples.Inspection(), Samples.A4));

        AssertSays(
            paper,
            "127.4 cm²",
            "at least 120 cm²",
            "allowed 2.35 mm to 2.65 mm",
            "at most 45 °",
            "✓ Passed",
            "✗ Failed",
            "○ Not yet",
            "Example club rules, 2026 edition; figures read 1 March 2026",
            "Earlier reading: 52 °, ✗ Failed, Tove Brandt",
            "operation 235",
            "✓ Closed",
            "Released by Tove Brandt",
            "Released by another person",
            "Tack the main hoop",
            "Hot work",
            "Jon Vale, Tove Brandt",
            Cautions.LookAgain.Text,
            Cautions.WhoDecides,
            Samples.Hash
        );
        Assert.DoesNotContain("NOT SIGNED OFF", paper.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Inspection_pack_shows_its_photos_and_says_where_one_was_removed()
    {
        using var paper = new ReadBack(Papers.Inspection(Samples.Inspection(), Samples.A4));

        var photos = paper
            .Pages.SelectMany(p => p.GetImages())
            .Where(i => i is { WidthInSamples: 320, HeightInSamples: 240 })
            .ToList();
        // Three photos and the signature; the fourth photo was removed.
        Assert.Equal(4, photos.Count);
        AssertSays(paper, "The picture was removed; its hash stays.", "230 Weld, left main foot, reading 2");
    }

    [Fact]
    public void Withdrawn_sign_off_is_said_on_every_page()
    {
        var sample = Samples.Inspection();
        var withdrawn = sample.SignOff! with { WithdrawnAt = Samples.At, WithdrawnReason = "The strap was moved" };
        using var paper = new ReadBack(Papers.Inspection(sample with { SignOff = withdrawn }, Samples.A4));

        for (var page = 1; page <= paper.PageCount; page++)
        {
            Assert.Contains("SIGN-OFF WITHDRAWN", paper.PageText(page), StringComparison.Ordinal);
        }

        AssertSays(paper, "The strap was moved");
    }

    [Fact]
    public void Self_inspection_is_said_on_the_record()
    {
        using var paper = new ReadBack(Papers.Inspection(Samples.Inspection(self: true), Samples.A4));

        Assert.Contains(
            "Self-inspection: the person who released this car also worked on it.",
            paper.Text,
            StringComparison.Ordinal
        );
        Assert.DoesNotContain("Released by another person", paper.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void An_open_record_says_so_on_every_page()
    {
        using var paper = new ReadBack(Papers.Inspection(Samples.Inspection(signedOff: false), Samples.A4));

        for (var page = 1; page <= paper.PageCount; page++)
        {
            Assert.Contains("NOT SIGNED OFF", paper.PageText(page), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_letter_that_no_font_has_becomes_a_visible_sign()
    {
        var car = Samples.Car with { Title = "Model 日 one" };
        using var paper = new ReadBack(Papers.Quote(Samples.Quote() with { Car = car }, Samples.A4));

        Assert.False(paper.HasMissingGlyph);
        Assert.Contains("Model \uFFFD one", paper.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_note_longer_than_a_page_goes_on_overleaf_and_a_word_wider_than_its_cell_is_cut()
    {
        var words = string.Join(' ', Enumerable.Range(1, 1500).Select(i => $"w{i}"));
        var line = Samples.Lines[0] with { Note = words, Description = new string('M', 100) };
        using var paper = new ReadBack(Papers.Quote(Samples.Quote() with { Lines = [line] }, Samples.A4));

        Assert.True(paper.PageCount > 1);
        AssertSays(paper, "w1 w2 w3", "w1499", "w1500");
        Assert.Equal(100, paper.Text.Count(c => c == 'M') - Count(paper.Text, "Marlow"));
    }

    [Fact]
    public void Numbers_follow_the_language_and_words_stay_readable()
    {
        using var paper = new ReadBack(Papers.Invoice(Samples.Invoice(), Samples.A4 with { Language = "fr-FR" }));

        Assert.False(paper.HasMissingGlyph);
        Assert.DoesNotContain('\uFFFD', paper.Text);
        Assert.Contains("840,00 EUR", paper.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Papers_made_at_the_same_time_do_not_disturb_each_other()
    {
        await Parallel.ForAsync(
            0,
            60,
            new ParallelOptions
            {
                MaxDegreeOfParallelism = 4,
                CancellationToken = TestContext.Current.CancellationToken,
            },
            (i, _) =>
            {
                var model = Samples.Quote() with { Number = $"Q-2026-{i:0000}" };
                using var paper = new ReadBack(Papers.Quote(model, Samples.A4));
                Assert.Contains(model.Number, paper.Text, StringComparison.Ordinal);
                Assert.False(paper.HasMissingGlyph);
                return ValueTask.CompletedTask;
            }
        );
    }

    internal static byte[] Make(string kind, PaperSettings settings) =>
        kind switch
        {
            "quote" => Papers.Quote(Samples.Quote(), settings),
            "week" => Papers.Week(WeekSamples.Full(), settings),
            "invoice" => Papers.Invoice(Samples.Invoice(), settings),
            "partInvoice" => Papers.Invoice(MoneySamples.PartInvoice(), settings),
            "creditNote" => Papers.Invoice(MoneySamples.CreditNote(), settings),
            "order" => Papers.Order(MoneySamples.Order(), settings),
            "statement" => Papers.Statement(MoneySamples.Statement(), settings),
            "receipt" => Papers.Receipt(Samples.Receipt(ReceiptKind.Deposit), settings),
            "authorisation" => Papers.Authorisation(Samples.Authorisation(), settings),
            "traveller" => Papers.Traveller(Samples.Traveller(), settings),
            "inspection" => Papers.Inspection(Samples.Inspection(), settings),
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown paper."),
        };

    private static void AssertSays(ReadBack paper, params string[] texts)
    {
        var all = Squeeze(paper.Text);
        foreach (var text in texts)
        {
            Assert.Contains(Squeeze(text), all, StringComparison.Ordinal);
        }
    }

    // Where a line breaks inside a hash or a long word the reader sees a gap; how far letters stand apart is not what is tested.
    private static string Squeeze(string text) => text.Replace(" ", "", StringComparison.Ordinal);

    private static int Count(string text, string part) => text.Split(part).Length - 1;

    /// <summary>Draws the first page's dark rectangles, which is what the code is made of, and reads the code in it.</summary>
    private static string? QrOf(byte[] pdf) => QrsOf(pdf).FirstOrDefault();

    private static IEnumerable<string> QrsOf(byte[] pdf)
    {
        using var paper = new ReadBack(pdf);
        foreach (var page in paper.Pages)
        {
            const float scale = 3;
            using var bitmap = new SKBitmap((int)(page.Width * scale), (int)(page.Height * scale));
            using var canvas = new SKCanvas(bitmap);
            canvas.Clear(SKColors.White);
            using var black = new SKPaint { Color = SKColors.Black };
            foreach (var path in page.Paths.Where(p => p.IsFilled && p.FillColor?.ToRGBValues() is (0, 0, 0)))
            {
                if (path.GetBoundingRectangle() is { } r)
                {
                    var top = (float)(page.Height - r.Top) * scale;
                    canvas.DrawRect((float)r.Left * scale, top, (float)r.Width * scale, (float)r.Height * scale, black);
                }
            }

            if (QrReader.Read(bitmap) is { } text)
            {
                yield return text;
            }
        }
    }
}
