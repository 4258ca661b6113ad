using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Materials;

public enum MaterialKind
{
    Tube,
    Plate,

    /// <summary>A hinge set.</summary>
    Hinge,

    /// <summary>A bolt set.</summary>
    Bolt,

    /// <summary>Filler wire or rods.</summary>
    Filler,

    /// <summary>Shielding gas.</summary>
    Gas,
}

/// <summary>Where it came from.</summary>
public enum MaterialOrigin
{
    Stock,

    /// <summary>Bought for this job.</summary>
    Bought,

    /// <summary>The customer's own part.</summary>
    Customer,
}

/// <summary>A certificate as it is kept: a PDF as it was sent, a picture written anew.</summary>
/// <param name="OriginalSha256">Of the file as it was sent.</param>
/// <param name="StoredSha256">Of the file as it is kept; the same for a PDF.</param>
public sealed record CertificateFile(string OriginalSha256, string StoredSha256, bool IsPdf);

/// <summary>One time somebody wrote it down. Never changed: a correction stands beside it.</summary>
/// <param name="What">The piece, e.g. "Main hoop"; of filler its classification, of gas its designation.</param>
/// <param name="Size">As sold, e.g. <c>45 × 2.5 mm</c>; of filler its diameter; null for gas.</param>
/// <param name="Grade">Of the steel or bolt; null where nobody knows it.</param>
/// <param name="Mark">Heat or lot number as stamped; null where it is missing, which the sign-off asks about.</param>
/// <param name="From">Which stock, supplier or part of the customer's.</param>
/// <param name="Reason">Why it was written down again; null on the first.</param>
/// <param name="At">By the device.</param>
public sealed record MaterialEntry(
    string What,
    string? Size,
    string? Grade,
    string? Mark,
    MaterialOrigin Origin,
    string? From,
    CertificateFile? Certificate,
    string? Reason,
    PersonId? By,
    DateTimeOffset At,
    DateTimeOffset RecordedAt
);

/// <summary>Who writes something down, and when.</summary>
public readonly record struct Hand(PersonId? Person, DateTimeOffset At, DateTimeOffset RecordedAt);

/// <summary>A tube, plate, hinge set, bolt set, filler or gas that went into a job.</summary>
public sealed class JobMaterial
{
    public const int MostEntries = 50;

    private JobMaterial() { }

    public JobMaterialId Id { get; private set; }

    public JobId JobId { get; private set; }

    /// <summary>1, 2, 3 … on its job.</summary>
    public int Number { get; private set; }

    public MaterialKind Kind { get; private set; }

    /// <summary>Oldest first; the last one counts, the first one stays.</summary>
    public IReadOnlyList<MaterialEntry> Entries { get; private set; } = [];

    /// <summary>Why it did not go into the job after all; null while it counts.</summary>
    public string? WithdrawnReason { get; private set; }

    public PersonId? WithdrawnBy { get; private set; }

    public DateTimeOffset? WithdrawnAt { get; private set; }

    public MaterialEntry Latest => Entries[^1];

    public bool Counts => WithdrawnAt is null;

    /// <summary>As somebody writes it down.</summary>
    public sealed record Details(
        string? What,
        string? Size,
        string? Grade,
        string? Mark,
        MaterialOrigin? Origin,
        string? From
    );

    internal static Outcome<JobMaterial> Enter(
        JobMaterialId id,
        JobId job,
        int number,
        MaterialKind? kind,
        Details details,
        CertificateFile? certificate,
        Hand hand
    )
    {
        var errors = new FieldErrors();
        errors.AddIf(kind is null, "kind", "Say what it is: tube, plate, hinge, bolt, filler or gas.");
        var entry = Read(kind ?? MaterialKind.Tube, details, certificate, null, hand, errors);
        return errors.Any
            ? errors.ToFailure()
            : new JobMaterial
            {
                Id = id,
                JobId = job,
                Number = number,
                Kind = kind!.Value,
                Entries = [entry],
            };
    }

    internal Outcome<Done> Correct(Details details, string? reason, Hand hand)
    {
        var errors = new FieldErrors();
        var why = TextRules.Required(reason, "reason", "The reason", TextRules.ShortText, errors);
        var entry = Read(Kind, details, Latest.Certificate, why, hand, errors);
        return errors.Any ? errors.ToFailure() : Append(entry);
    }

    /// <summary>Puts a certificate beside it, or another one in place of it; the earlier file stays with its entry.</summary>
    internal Outcome<Done> Certify(CertificateFile file, Hand hand) =>
        Append(
            Latest with
            {
                Certificate = file,
                Reason = Latest.Certificate is null ? "Certificate added" : "Another certificate",
                By = hand.Person,
                At = hand.At,
                RecordedAt = hand.RecordedAt,
            }
        );

    internal Outcome<Done> Withdraw(string? reason, Hand hand)
    {
        var errors = new FieldErrors();
        var why = TextRules.Required(reason, "reason", "The reason", TextRules.ShortText, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (Refusal() is { } no)
        {
            return no;
        }

        (WithdrawnReason, WithdrawnBy, WithdrawnAt) = (why, hand.Person, hand.RecordedAt);
        return Outcome.Ok;
    }

    private Outcome<Done> Append(MaterialEntry entry)
    {
        if (Refusal() is { } no)
        {
            return no;
        }

        if (Entries.Count >= MostEntries)
        {
            return Failure.Because(
                "tooManyEntries",
                $"This was written down {MostEntries} times. Take it out with a reason and enter it anew."
            );
        }

        Entries = [.. Entries, entry];
        return Outcome.Ok;
    }

    private Failure? Refusal() =>
        Counts
            ? null
            : Failure.Because("withdrawn", $"{Latest.What} was taken out of this job. Enter it anew where it went in.");

    private static MaterialEntry Read(
        MaterialKind kind,
        Details details,
        CertificateFile? certificate,
        string? reason,
        Hand hand,
        FieldErrors errors
    )
    {
        ArgumentNullException.ThrowIfNull(details);
        var what = TextRules.Required(details.What, "what", kind.AskedFor(), TextRules.Name, errors);
        var size = TextRules.Optional(details.Size, "size", "The size", TextRules.Code, errors);
        var grade = TextRules.Optional(details.Grade, "grade", "The grade", TextRules.Code, errors);
        var mark = TextRules.Optional(details.Mark, "mark", "The heat or lot number", TextRules.Code, errors);
        var from = TextRules.Optional(details.From, "from", "Where it came from", TextRules.Name, errors);
        errors
            .AddIf(
                kind != MaterialKind.Gas && string.IsNullOrWhiteSpace(details.Size),
                "size",
                kind == MaterialKind.Filler ? "Enter its diameter." : "Enter its size."
            )
            .AddIf(details.Origin is null, "origin", "Say where it came from: stock, bought or customer.")
            .AddIf(
                details.Origin == MaterialOrigin.Customer && from is null,
                "from",
                "Name which part of the customer's it is."
            );
        return new MaterialEntry(
            what,
            size,
            grade,
            mark,
            details.Origin ?? MaterialOrigin.Stock,
            from,
            certificate,
            reason,
            hand.Person,
            hand.At,
            hand.RecordedAt
        );
    }
}

public static class MaterialWords
{
    public static string Title(this MaterialKind kind) =>
        kind switch
        {
            MaterialKind.Tube => "Tube",
            MaterialKind.Plate => "Plate",
            MaterialKind.Hinge => "Hinge set",
            MaterialKind.Bolt => "Bolt set",
            MaterialKind.Filler => "Filler",
            MaterialKind.Gas => "Shielding gas",
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Unknown kind of material."),
        };

    public static string Title(this MaterialOrigin origin) =>
        origin switch
        {
            MaterialOrigin.Stock => "from stock",
            MaterialOrigin.Bought => "bought for this job",
            MaterialOrigin.Customer => "the customer's own",
            _ => throw new ArgumentOutOfRangeException(nameof(origin), origin, "Unknown origin."),
        };

    /// <summary>Tube and plate are traced to a heat, all else to a lot.</summary>
    public static string MarkWord(this MaterialKind kind) =>
        kind is MaterialKind.Tube or MaterialKind.Plate ? "heat or lot" : "lot";

    /// <summary>What tells a heat: steel that carries load has the mill's certificate.</summary>
    public static bool WantsCertificate(this MaterialKind kind) => kind is MaterialKind.Tube or MaterialKind.Plate;

    public static string AskedFor(this MaterialKind kind) =>
        kind switch
        {
            MaterialKind.Filler => "The classification",
            MaterialKind.Gas => "The designation",
            _ => "What it is",
        };
}
