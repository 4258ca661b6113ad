using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Materials;

/// <summary>Something the papers cannot say: a tube without heat, a joint without welder.</summary>
/// <param name="Key">Names it and the entry it was found in, so that an acceptance covers what was seen and nothing later.</param>
/// <param name="Code">Kind of gap, e.g. <c>noMark</c>.</param>
/// <param name="Subject">The piece or joint.</param>
/// <param name="Detail">What exactly, where that says more than the kind.</param>
public sealed record TraceGap(string Key, string Code, string Subject, string? Operation = null, string? Detail = null);

/// <summary>The owner's word that the car may be signed off although something was not written down.</summary>
/// <param name="Gaps">What was accepted, as it stood.</param>
public sealed record TraceAcceptance(IReadOnlyList<TraceGap> Gaps, string Reason, PersonId By, DateTimeOffset At);

/// <summary>Material and welds of one job: what went into it, and who welded what with which qualification.</summary>
public sealed class JobTrace : IVersioned
{
    public const int MostMaterials = 200;
    public const int MostJoints = 100;
    public const int MostAcceptances = 50;
    private const int MostNamed = 6;

    private readonly List<JobMaterial> materials = [];
    private readonly List<WeldedJoint> joints = [];

    private JobTrace() { }

    public JobId JobId { get; private set; }

    public long Version { get; private set; }

    /// <summary>Kinds of which at least one piece is to be written down.</summary>
    public IReadOnlyList<MaterialKind> Wanted { get; private set; } = [];

    public IReadOnlyList<JobMaterial> Materials => materials;

    public IReadOnlyList<WeldedJoint> Joints => joints;

    public IReadOnlyList<TraceAcceptance> Acceptances { get; private set; } = [];

    public static JobTrace Open(
        JobId job,
        IReadOnlyList<MaterialKind> wanted,
        IReadOnlyList<JointToWeld> welds,
        DateTimeOffset at
    )
    {
        ArgumentNullException.ThrowIfNull(welds);
        var trace = new JobTrace { JobId = job, Wanted = wanted };
        trace.joints.AddRange(welds.Select((w, i) => WeldedJoint.Create(Ids.New<WeldedJointId>(at), job, i + 1, w)));
        return trace;
    }

    public Outcome<JobMaterial> Enter(
        MaterialKind? kind,
        JobMaterial.Details details,
        Hand hand,
        CertificateFile? certificate = null
    )
    {
        if (materials.Count >= MostMaterials)
        {
            return Failure.Because("tooManyMaterials", $"A job has at most {MostMaterials} pieces of material.");
        }

        var entered = JobMaterial.Enter(
            Ids.New<JobMaterialId>(hand.RecordedAt),
            JobId,
            materials.Count + 1,
            kind,
            details,
            certificate,
            hand
        );
        if (entered.IsSuccess)
        {
            materials.Add(entered.Value);
        }

        return entered;
    }

    public Outcome<JobMaterial> Correct(JobMaterialId id, JobMaterial.Details details, string? reason, Hand hand) =>
        Of(id, m => m.Correct(details, reason, hand));

    public Outcome<JobMaterial> Certify(JobMaterialId id, CertificateFile file, Hand hand) =>
        Of(id, m => m.Certify(file, hand));

    public Outcome<JobMaterial> Withdraw(JobMaterialId id, string? reason, Hand hand) =>
        Of(id, m => m.Withdraw(reason, hand));

    /// <summary>A joint that is on no list: a repair, a gusset agreed later.</summary>
    public Outcome<WeldedJoint> AddJoint(string? what, string? operation, IReadOnlySet<string> route, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(route);
        var errors = new FieldErrors();
        var clean = TextRules.Required(what, "what", "The joint", TextRules.Name, errors);
        errors.AddIf(
            operation is null || !route.Contains(operation),
            "operation",
            "Choose the operation of this job in which it is welded."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (joints.Count >= MostJoints)
        {
            return Failure.Because("tooManyJoints", $"A job has at most {MostJoints} welded joints.");
        }

        var number = joints.Count + 1;
        var joint = WeldedJoint.Create(
            Ids.New<WeldedJointId>(at),
            JobId,
            number,
            new JointToWeld($"joint-{number}", clean, operation!)
        );
        joints.Add(joint);
        return joint;
    }

    /// <summary>A weld as somebody writes it down.</summary>
    /// <param name="Joints">Codes of the joints that were welded alike; at least one.</param>
    /// <param name="On">Not after <paramref name="Today"/>.</param>
    public sealed record WeldDetails(
        IReadOnlyList<string>? Joints,
        PersonId? Welder,
        WelderQualification? Qualification,
        string? Procedure,
        int? Filler,
        int? Gas,
        DateOnly? On,
        DateOnly Today,
        string? Note
    );

    /// <summary>Writes down who welded some joints. A qualification that had run out is kept as it is and flagged: the sign-off then asks for the owner's reason.</summary>
    public Outcome<IReadOnlyList<WeldedJoint>> Weld(WeldDetails details, Hand hand)
    {
        ArgumentNullException.ThrowIfNull(details);
        var errors = new FieldErrors();
        var codes = details.Joints?.Distinct(StringComparer.Ordinal).ToList() ?? [];
        var found = joints.Where(j => codes.Contains(j.Code)).ToList();
        var procedure = TextRules.Optional(details.Procedure, "procedure", "The procedure", TextRules.Code, errors);
        var note = TextRules.Optional(details.Note, "note", "The note", TextRules.ShortText, errors);
        var on = details.On ?? details.Today;
        errors
            .AddIf(codes.Count == 0 || found.Count != codes.Count, "joints", "Choose joints of this job.")
            .AddIf(details.Welder is null, "welder", "Say who welded it.")
            .AddIf(
                details.Qualification is { } q && q.Person != details.Welder,
                "qualification",
                "This qualification is another person's."
            )
            .AddIf(
                details.Qualification is { IsRetired: true },
                "qualification",
                "This qualification was withdrawn. Choose one that is in the register."
            )
            .AddIf(on > details.Today, "on", "The day of the weld lies ahead.")
            .AddIf(!IsOne(details.Filler, MaterialKind.Filler), "filler", "Choose a filler of this job.")
            .AddIf(!IsOne(details.Gas, MaterialKind.Gas), "gas", "Choose a shielding gas of this job.");
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var entry = new WeldEntry(
            details.Welder!.Value,
            details.Qualification?.Words,
            details.Qualification?.ValidUntil,
            procedure,
            details.Filler,
            details.Gas,
            on,
            note,
            hand.Person,
            hand.At,
            hand.RecordedAt
        );
        foreach (var joint in found)
        {
            if (joint.Weld(entry).Failure is { } full)
            {
                return full;
            }
        }

        return found;
    }

    /// <summary>Everything the papers cannot say, accepted or not.</summary>
    /// <param name="notNeeded">Operations that were found not to be needed: nothing was welded in them.</param>
    public IReadOnlyList<TraceGap> Gaps(IReadOnlySet<string> notNeeded)
    {
        ArgumentNullException.ThrowIfNull(notNeeded);
        var counted = materials.Where(m => m.Counts).ToList();
        return
        [
            .. Wanted
                .Where(k => counted.TrueForAll(m => m.Kind != k))
                .Select(k => new TraceGap($"kind/{k}", "noMaterial", k.Title())),
            .. counted
                .Where(m => m.Latest.Mark is null)
                .Select(m => new TraceGap($"material/{m.Number}/mark/{m.Entries.Count}", "noMark", Named(m))),
            .. counted
                .Where(m => m.Kind.WantsCertificate() && m.Latest.Certificate is null)
                .Select(m => new TraceGap(
                    $"material/{m.Number}/certificate/{m.Entries.Count}",
                    "noCertificate",
                    Named(m)
                )),
            .. joints.Where(j => !notNeeded.Contains(j.OperationCode)).SelectMany(Gaps),
        ];
    }

    /// <summary>What neither was written down nor accepted by the owner.</summary>
    public IReadOnlyList<TraceGap> OpenGaps(IReadOnlySet<string> notNeeded)
    {
        var accepted = Acceptances.SelectMany(a => a.Gaps).Select(g => g.Key).ToHashSet(StringComparer.Ordinal);
        return [.. Gaps(notNeeded).Where(g => !accepted.Contains(g.Key))];
    }

    /// <summary>Somebody wrote something down. A shop that keeps no such record is not stopped by it: its papers then say "not written down".</summary>
    public bool IsBegun => materials.Count > 0 || joints.Exists(j => j.Latest is not null);

    /// <summary>What forbids the sign-off once the record is begun: one reason for each kind of gap, with what it concerns and what lifts it.</summary>
    public IReadOnlyList<Reason> Refusals(IReadOnlySet<string> notNeeded) =>
        !IsBegun
            ? []
            :
            [
                .. OpenGaps(notNeeded)
                    .GroupBy(g => g.Code)
                    .Select(g => new Reason(
                        g.Key,
                        $"{Sentence(g.Key)}: {string.Join(", ", g.Take(MostNamed).Select(Said))}{(g.Count() > MostNamed ? $" and {g.Count() - MostNamed} more" : "")}. Write it down under materials and welds, or the owner accepts it there with a reason."
                    )),
            ];

    /// <summary>The owner takes what is open as it is; what comes up later is asked about again.</summary>
    public Outcome<TraceAcceptance> Accept(
        IReadOnlySet<string> notNeeded,
        IReadOnlyList<string>? keys,
        string? reason,
        PersonId? by,
        DateTimeOffset at
    )
    {
        if (by is not { } person)
        {
            return new Failure.Forbidden("Only a person accepts what is missing: use a key that acts as a person.");
        }

        var errors = new FieldErrors();
        var why = TextRules.Required(reason, "reason", "The reason", TextRules.ShortText, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var open = OpenGaps(notNeeded);
        var meant = keys is null ? open : [.. open.Where(g => keys.Contains(g.Key))];
        if (meant.Count == 0 || (keys is not null && meant.Count != keys.Distinct(StringComparer.Ordinal).Count()))
        {
            return Failure.Because("nothingOpen", "Nothing of this is missing now. Load it again and look once more.");
        }

        if (Acceptances.Count >= MostAcceptances)
        {
            return Failure.Because("tooManyAcceptances", $"The owner accepted {MostAcceptances} times already.");
        }

        var acceptance = new TraceAcceptance(meant, why, person, at);
        Acceptances = [.. Acceptances, acceptance];
        return acceptance;
    }

    /// <summary>One gap in words, e.g. "No heat or lot: Tube 1 Main hoop".</summary>
    public static string Words(TraceGap gap)
    {
        ArgumentNullException.ThrowIfNull(gap);
        return $"{Sentence(gap.Code)}: {Said(gap)}";
    }

    private static string Said(TraceGap gap) => gap.Detail is { } detail ? $"{gap.Subject} ({detail})" : gap.Subject;

    private static string Sentence(string code) =>
        code switch
        {
            "noMaterial" => "No material of this kind is written down",
            "noMark" => "No heat or lot number",
            "noCertificate" => "No certificate",
            "noWelder" => "No welder is written down",
            "noQualification" => "No qualification of the welder",
            "expiredQualification" => "Welded after the qualification had run out",
            "noProcedure" => "No welding procedure",
            _ => throw new ArgumentOutOfRangeException(nameof(code), code, "Unknown gap."),
        };

    private static IEnumerable<TraceGap> Gaps(WeldedJoint joint)
    {
        TraceGap Gap(string part, string code, string? detail = null) =>
            new($"joint/{joint.Code}/{part}/{joint.Entries.Count}", code, joint.What, joint.OperationCode, detail);

        if (joint.Latest is not { } weld)
        {
            yield return Gap("welder", "noWelder");
            yield break;
        }

        if (weld.Qualification is null)
        {
            yield return Gap("qualification", "noQualification");
        }
        else if (weld.IsExpired)
        {
            yield return Gap(
                "expired",
                "expiredQualification",
                $"valid until {weld.ValidUntil:yyyy-MM-dd}, welded {weld.On:yyyy-MM-dd}"
            );
        }

        if (weld.Procedure is null)
        {
            yield return Gap("procedure", "noProcedure");
        }
    }

    private static string Named(JobMaterial material) =>
        $"{material.Kind.Title()} {material.Number} {material.Latest.What}";

    private bool IsOne(int? number, MaterialKind kind) =>
        number is null || materials.Exists(m => m.Counts && m.Kind == kind && m.Number == number);

    private Outcome<JobMaterial> Of(JobMaterialId id, Func<JobMaterial, Outcome<Done>> act) =>
        materials.Find(m => m.Id == id) is { } material
            ? act(material).Then<JobMaterial>(_ => material)
            : Failure.Missing("material");
}
