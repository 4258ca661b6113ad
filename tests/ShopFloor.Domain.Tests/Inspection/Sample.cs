using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Domain.Tests.Inspection;

/// <summary>A small plan and job with fixed times, so that a test shows only what matters to it.</summary>
internal static class Sample
{
    public static readonly DateTimeOffset Noon = new(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);
    public static readonly JobId Job = JobId.From(new Guid("01950000-0000-7000-8000-000000000001"));
    public static readonly PersonId Welder = PersonId.From(new Guid("01950000-0000-7000-8000-00000000000a"));
    public static readonly PersonId Inspector = PersonId.From(new Guid("01950000-0000-7000-8000-00000000000b"));
    public static readonly PhotoId Photo = PhotoId.From(new Guid("01950000-0000-7000-8000-0000000000f0"));

    public static readonly ReadingBy ByWelder = new(Welder, IsInspector: false);
    public static readonly ReadingBy ByInspector = new(Inspector, IsInspector: true);
    public static readonly ReadingBy ByIntegration = new(null, IsInspector: true);

    public static PlannedLine Bare =>
        new("bare-metal", "60", "Bare metal under the plates", "By eye", "Common practice", InspectionPoint.Hold);

    public static PlannedLine Upright =>
        new(
            "hoop-upright",
            "120",
            "Hoop upright",
            "Level on the hoop",
            "Common practice",
            Unit: "°",
            Nominal: 0,
            Lower: -1,
            Upper: 1
        );

    public static PlannedLine OffCar =>
        new(
            "off-car-welds",
            "150",
            "Welds made on the stand",
            "By eye all round",
            "Common practice",
            InspectionPoint.Hold,
            RecordedBy.Inspector,
            PhotoRequired: true
        );

    public static PlannedLine Hinge =>
        new(
            "hinge-turn",
            "230",
            "Door bar turns freely",
            "By hand",
            "Common practice",
            PerDoor: true,
            HingeOptions: ["swing-out-pin"]
        );

    public static InspectionPlan Plan(params PlannedLine[] lines) =>
        InspectionPlan.From(new InspectionPlanDocument(1, "sample", 1, "Sample", ["six-point-weld-in"], lines)).Value;

    public static JobScope Scope(string kit = "six-point-weld-in", string use = "street", params DoorChoice[] doors) =>
        new(
            kit,
            use,
            [],
            doors,
            new Dictionary<string, string>(),
            new CarFacts(Body.Coupe, SteeringSide.Left, Energy.Petrol, Airbags.Front, TankPosition.RearFloor, false)
        );

    public static readonly IReadOnlySet<string> Route = new HashSet<string> { "60", "120", "150", "230" };

    public static JobInspection Opened(params PlannedLine[] lines) =>
        JobInspection.Open(Job, InspectionPlanBuilder.Build(Plan(lines), Scope(), [], Route).Value, Noon);

    public static SignOffRequest Request(PersonId? by, bool selfInspection = false, params Reason[] open) =>
        new(by, new HashSet<PersonId> { Welder }, selfInspection, MayGo: true, open);

    public static Outcome<Reading> Pass(this JobInspection job, string line, int minute = 0) =>
        job.Record(line, Passing(job, line), ByInspector, Noon.AddMinutes(minute), Noon.AddMinutes(minute));

    public static Outcome<Reading> Fail(this JobInspection job, string line, int minute = 0) =>
        job.Record(
            line,
            new ReadingInput(Passed: false),
            ByInspector,
            Noon.AddMinutes(minute),
            Noon.AddMinutes(minute)
        );

    public static InspectionLine Line(this JobInspection job, string code) => job.Lines.Single(l => l.Code == code);

    private static ReadingInput Passing(JobInspection job, string line) =>
        job.Line(line) is { IsMeasured: true } measured
            ? new ReadingInput(Value: measured.Nominal, PhotoIds: [Photo])
            : new ReadingInput(Passed: true, PhotoIds: [Photo]);
}
