using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;
using SkiaSharp;

namespace ShopFloor.Documents.Tests.Papers;

/// <summary>Invented papers with long and foreign texts, as a real shop would have them.</summary>
internal static class Samples
{
    public const string Hash = "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08";
    public const string Url = "https://shop.example.com/p/kV1q8RrW2yU0aXo3nT5bLw";
    private static readonly Currency Eur = Currency.Of("EUR");
    public static readonly DateTimeOffset At = new(2026, 9, 14, 16, 5, 0, TimeSpan.FromHours(2));

    public static PaperSettings A4 { get; } = new(PaperSize.A4, At);

    public static PaperSettings Letter { get; } = new(PaperSize.Letter, At, "en-US");

    public static PaperShop Shop { get; } =
        new(
            "Hollow Lane Fabrication",
            "Hollow Lane Fabrication Ltd",
            ["Unit 4, Hollow Lane", "Exampleton EX1 2AB"],
            "XX 000 0000 01",
            "desk@hollowlane.example.com",
            "+1 202 555 0143"
        );

    public static PaperParty Customer { get; } =
        new("Zoë Ærøskjöld-Łukasiewicz", ["12 Quill Row", "Ümlautstadt 10115"], "XX123456789");

    public static PaperCar Car { get; } =
        new(
            "Marlow Quillon 2005",
            "1X9TE12A95T000004",
            "EX05 QUI",
            [new("Odometer", "143,210 km"), new("Steering", "right")]
        );

    public static Money Eu(long minor) => new(minor, Eur);

    public static PaperTotals Totals { get; } =
        new(
            Eu(418_000),
            Eu(18_000),
            [new("STD", "Standard tax", 21m, Eu(400_000), Eu(84_000)), new("RED", "Reduced tax", 9m, Eu(0), Eu(0))],
            Eu(484_000),
            Eu(20_000),
            Eu(464_000),
            false
        );

    public static IReadOnlyList<PaperLine> Lines { get; } =
    [
        new(
            "Six-point weld-in bar, keeps the interior",
            1,
            "set",
            Eu(189_000),
            Eu(189_000),
            "38 × 2.5 mm, seamless",
            ["STD"]
        ),
        new("Swing-out hinge with pin, left door", 1, null, Eu(24_500), Eu(24_500), null, ["STD"]),
        new(
            "Labour",
            23.75m,
            "h",
            Eu(7_200),
            Eu(171_000),
            "Heavy seam filler: × 1.25; thin floor: short runs ≤ 10 mm",
            ["STD"]
        ),
        new("Paint off the car, two-pack", 1, null, Eu(33_500), Eu(33_500), null, ["STD"]),
    ];

    public static QuotePaper Quote(int lines = 4, bool draft = false) =>
        new(
            Shop,
            Customer,
            Car,
            "Q-2026-0003",
            2,
            draft ? "Draft" : "Sent",
            draft,
            new DateOnly(2026, 9, 14),
            new DateOnly(2026, 10, 14),
            new DateOnly(2026, 11, 6),
            [
                new("Kit", "Six-point weld-in"),
                new("Left door", "Swing-out with pin"),
                new("Right door", "Fixed"),
                new("Use", "Club track days"),
            ],
            [new("Floor", "thin"), new("Seam filler", "heavy"), new("Deadening", "bitumen")],
            [.. Enumerable.Range(0, lines).Select(i => Lines[i % Lines.Count])],
            Totals,
            new PaperHours(23.7, 27.4),
            ["Prices hold until the day above. A deposit of 30 % books the bay."],
            draft ? null : Url,
            draft ? null : Hash
        );

    public static InvoicePaper Invoice() =>
        new(
            Shop,
            Customer,
            Car,
            "I-2026-0007",
            new DateOnly(2026, 11, 6),
            new DateOnly(2026, 11, 5),
            new DateOnly(2026, 11, 20),
            "J-2026-0004",
            "Q-2026-0003",
            Lines,
            Totals,
            [
                new(new DateOnly(2026, 9, 20), "card", "R-2026-0005", Eu(140_000)),
                new(new DateOnly(2026, 9, 28), "card", "R-2026-0006", Eu(-10_000)),
            ],
            Eu(334_000),
            "Tax on the second-hand parts was charged by their seller.",
            ["Transfer to account XX00 EXAM PLE0 0001, reference I-2026-0007"]
        );

    public static ReceiptPaper Receipt(ReceiptKind kind) =>
        new(
            Shop,
            Customer,
            Car,
            "R-2026-0005",
            kind,
            At,
            Eu(140_000),
            "card",
            "terminal 0042",
            "Quote Q-2026-0003, revision 2",
            Eu(324_000),
            "Ines Falk"
        );

    public static AuthorisationPaper Authorisation(PaperSignature? signature = null) =>
        new(
            Shop,
            Customer,
            Car,
            "J-2026-0004",
            new DateOnly(2026, 9, 21),
            [
                "Weld in a six-point bar; cut the carpet at the plates.",
                "Grind the seams below the plates to bare metal.",
            ],
            [new("Floor", "patched (assumed: thin)"), new("Fuel tank", "stays fitted: assessed by a qualified person")],
            ["Dashboard", "Headliner", "Rear glass"],
            ["Door panels, due 2 October 2026"],
            "Street and club track days",
            [new("Example club rules", "2026 edition", new DateOnly(2026, 3, 1))],
            signature is null ? null : true,
            signature
        );

    public static PaperSignature Drawn()
    {
        using var bitmap = new SKBitmap(300, 100);
        bitmap.Erase(SKColors.White);
        using var canvas = new SKCanvas(bitmap);
        using var pen = new SKPaint
        {
            Color = SKColors.Black,
            StrokeWidth = 4,
            IsStroke = true,
            IsAntialias = true,
        };
        canvas.DrawLine(10, 80, 120, 15, pen);
        canvas.DrawLine(120, 15, 160, 85, pen);
        canvas.DrawLine(160, 85, 290, 30, pen);
        using var image = SKImage.FromBitmap(bitmap);
        return new PaperSignature(
            "Zoë Ærøskjöld-Łukasiewicz",
            At,
            image.Encode(SKEncodedImageFormat.Png, 100).ToArray()
        );
    }

    public static TravellerPaper Traveller()
    {
        (string Code, string Phase, string Title, bool Inspection)[] steps =
        [
            ("10", "Intake", "Confirm condition found and authorisation", false),
            ("20", "Intake", "Make safe: battery, airbags, fuel", false),
            ("30", "Trim-out", "Seats, belts and trim out where the work is", false),
            ("40", "Trim-out", "Sound deadening out where plates go", false),
            ("50", "Seam prep", "Seams and plate areas to bare metal", false),
            ("60", "Seam prep", "Protect glass, wiring, headliner, fuel side", false),
            ("70", "Plate fit", "Left plate formed and tacked", false),
            ("80", "Plate fit", "Right plate formed and tacked", false),
            ("90", "Plate fit", "Fit-up looked at", true),
            ("100", "Mock-up", "Main hoop in, feet tacked in front or inside", false),
            ("110", "Mock-up", "Rear braces fitted and tacked", false),
            ("120", "Mock-up", "Head room, belts, seats, airbags checked", true),
            ("130", "Off-car paint", "Hoop rocked forward, bar out by the passenger door", false),
            ("140", "Off-car paint", "Joints welded all round on the stand", false),
            ("150", "Off-car paint", "Off-car welds inspected before paint", true),
            ("160", "Off-car paint", "Bar painted off the car", false),
            ("170", "Final weld", "Plates welded to the floor in short runs", false),
            ("230", "Final weld", "All welds inspected before primer and trim", true),
            ("270", "Sign-off", "Second-person sign-off", true),
        ];
        return new(
            Shop,
            Car,
            "J-2026-0004",
            Customer.Name,
            "Six-point weld-in",
            new DateOnly(2026, 11, 6),
            [
                new("Tank", "stays fitted, behind the rear seat"),
                new("Energy", "petrol"),
                new("Airbags", "front and curtain"),
                new("Stays fitted", "dashboard, headliner"),
            ],
            [
                "Tank stays fitted: a qualified person's assessment and a watcher below come first.",
                Cautions.Electrical.Text,
            ],
            [new("All braces", [new("Saw square to", "1202.4 mm · 47 5/16 in and 0.6 mm")], [])],
            [
                .. steps.Select(
                    (s, i) =>
                        new TravellerOperation(
                            s.Code,
                            s.Phase,
                            s.Title,
                            s.Code == "160" ? ["welds of 150 passed", "cure of 12 h before 180"] : [],
                            s.Code == "170" ? [Cautions.HotWork.Text] : [],
                            s.Inspection,
                            i < 5,
                            s.Code == "110"
                                ?
                                [
                                    new(
                                        "Left brace, top end",
                                        [new("Depth of the notch", "20.53 mm · 0.808 in · 13/16 in less 0.11 mm")],
                                        ["Measure once more before you cut."]
                                    ),
                                ]
                                : []
                        )
                ),
            ],
            Url,
            []
        );
    }

    public const string RecordUrl = "https://shop.example/record/" + Hash;

    /// <summary>A picture of 320 × 240 pixels.</summary>
    public static byte[] Photo()
    {
        using var bitmap = new SKBitmap(320, 240);
        bitmap.Erase(SKColors.SteelBlue);
        using var data = bitmap.Encode(SKEncodedImageFormat.Jpeg, 80);
        return data.ToArray();
    }

    public static InspectionPaper Inspection(bool signedOff = true, bool self = false)
    {
        PaperReading Read(double? value, PaperResult result, string? note = null) =>
            new(value, result, "Tove Brandt", At, value is null ? null : "caliper 3", note, 2);
        return new(
            Shop,
            Customer.Name,
            Car,
            "J-2026-0004",
            "Six-point weld-in",
            [
                new("Example club rules", "2026 edition", new DateOnly(2026, 3, 1)),
                new("Example rally rules", "2025", null),
            ],
            [
                new(
                    "plate-area-left",
                    "90",
                    "Left hoop plate, area",
                    "cm²",
                    120,
                    null,
                    null,
                    "Example club rules, 8.3",
                    true,
                    PaperResult.Passed,
                    [Read(127.4, PaperResult.Passed)]
                ),
                new(
                    "tube-wall",
                    "120",
                    "Main hoop, wall thickness",
                    "mm",
                    2.35,
                    2.5,
                    2.65,
                    "Example club rules, 8.3",
                    true,
                    PaperResult.Failed,
                    [Read(2.31, PaperResult.Failed, "Measured at the left foot")]
                ),
                new(
                    "strap-angle",
                    "120",
                    "Shoulder straps, angle to the horizontal",
                    "°",
                    null,
                    10,
                    45,
                    "Example club rules, 6.2",
                    false,
                    PaperResult.Passed,
                    [Read(52, PaperResult.Failed), Read(18.5, PaperResult.Passed, "Harness bar moved down")]
                ),
                new(
                    "weld-left-foot",
                    "230",
                    "Weld, left main foot: no undercut, no pinholes, all round",
                    null,
                    null,
                    null,
                    null,
                    "Shop",
                    true,
                    PaperResult.Passed,
                    [
                        Read(null, PaperResult.Failed, "Pinhole on the inner side"),
                        Read(null, PaperResult.Passed, "Ground out, welded again"),
                    ]
                ),
                new(
                    "padding",
                    "250",
                    "Padding where a head can reach",
                    null,
                    null,
                    null,
                    null,
                    "Shop",
                    false,
                    PaperResult.DoesNotApply,
                    [Read(null, PaperResult.DoesNotApply)]
                ),
                new(
                    "lamp",
                    "260",
                    "Airbag lamp goes out",
                    null,
                    null,
                    null,
                    null,
                    "Shop",
                    false,
                    PaperResult.NotYet,
                    []
                ),
            ],
            [
                new(
                    "Weld, left main foot",
                    "Pinhole on the inner side",
                    "Ground out and welded again, operation 235",
                    true
                ),
            ],
            [
                new("170", "Tack the main hoop", true, "Jon Vale", At),
                new("180", "Fit the plates", false, "Jon Vale, Tove Brandt", At),
            ],
            [
                new("230 Weld, left main foot, reading 1", Photo(), Hash),
                new("230 Weld, left main foot, reading 2", Photo(), Hash),
                new("120 Main hoop, wall thickness, reading 1", null, Hash),
                new("90 Left hoop plate, area, reading 1", Photo(), Hash),
            ],
            [.. Cautions.OfPack.Select(c => c.Text)],
            signedOff
                ? new PaperSignOff("Tove Brandt", At, self, null, new PaperSignature("Tove Brandt", At, Photo()))
                : null,
            signedOff ? new PaperRecord(Hash, RecordUrl) : null
        );
    }
}
