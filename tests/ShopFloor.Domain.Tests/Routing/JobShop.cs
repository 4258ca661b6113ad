using ShopFloor.Domain.Common;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Tests.HotWork;

namespace ShopFloor.Domain.Tests.Routing;

/// <summary>A shop with two people and a clock, for tests of one job. All gates outside the job are open unless a test closes them.</summary>
internal sealed class JobShop
{
    public static readonly DateTimeOffset Monday = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
    public static readonly PersonId Mara = PersonId.From(new Guid("00000000-0000-7000-8000-00000000000a"));
    public static readonly PersonId Ivo = PersonId.From(new Guid("00000000-0000-7000-8000-00000000000b"));

    private int ids;

    public JobShop(Energy energy = Energy.Petrol, params RouteOperation[] route)
    {
        var scope = StarterRoutes.Scope(energy: energy);
        var built =
            route.Length == 0
                ? RouteBuilder.Build(StarterRoutes.Template("six-point-weld-in"), scope)
                : new BuiltRoute(
                    "test",
                    1,
                    [
                        .. route
                            .SelectMany(o => o.NeedsOpen.Concat(o.Closes).Concat(o.Opens))
                            .Distinct()
                            .Select(w => new AccessWay
                            {
                                Code = w,
                                Title = $"the {w} way",
                                OpenAtStart = w.StartsWith('o'),
                            }),
                    ],
                    route,
                    []
                );
        Route = built;
        Job = Job.Open(OpeningOf(scope), built, NewId<OperationId>);
    }

    public BuiltRoute Route { get; }
    public Job Job { get; private set; }
    public DateTimeOffset Now { get; private set; } = Monday;
    public bool Authorised { get; set; } = true;
    public bool SignedOff { get; set; } = true;
    public List<CustomerPartFact> Parts { get; } = [];
    public List<OpenHoldLine> HoldLines { get; } = [];

    /// <summary>Null while a permit is open wherever hot work is done.</summary>
    public HotWorkFacts? HotWork { get; set; }

    public GateFacts Facts =>
        new()
        {
            Now = Now,
            AuthorisationSigned = Authorised,
            IsSignedOff = SignedOff,
            CustomerParts = Parts,
            OpenHoldLines = HoldLines,
            HotWork = HotWork ?? HotWorkShop.EveryPlaceOpen(Job, Now),
            NameOf = p => p == Mara ? "Mara" : "Ivo",
        };

    public TId NewId<TId>()
        where TId : struct, IEntityId<TId> => TId.From(new Guid(++ids, 0, 0x7000, 0x80, 0, 0, 0, 0, 0, 0, 0));

    public void Pass(TimeSpan time) => Now += time;

    public Outcome<Operation> Start(string code, PersonId? who = null) => Job.Start(code, Tap(who), Facts);

    public Outcome<Operation> Stop(string code, PersonId? who = null) => Job.Stop(code, Tap(who), Facts);

    public Outcome<Operation> Finish(string code, PersonId? who = null) => Job.Finish(code, Tap(who), Facts);

    public Outcome<Operation> Undo(string code) => Job.UndoFinish(code, Facts);

    public Job.Tap Tap(PersonId? who = null) => new(new Worker(who ?? Mara, null), Now, NewId<TimeEntryId>());

    /// <summary>Finishes everything up to and including the given operation, in route order, waiting out cures.</summary>
    public JobShop Through(string code)
    {
        foreach (var operation in Job.Operations)
        {
            if (!operation.IsOver && Finish(operation.Code).Failure is { } failure)
            {
                Pass(TimeSpan.FromHours(13));
                failure = Finish(operation.Code).Failure;
                Assert.Null(failure);
            }

            if (operation.Code == code)
            {
                break;
            }
        }

        return this;
    }

    public OperationState StateOf(string code) => Job.StateOf(Job.Operation(code)!, Facts);

    public static Reason Refusal(Outcome<Operation> outcome) =>
        Assert.Single(Assert.IsType<Failure.Refused>(outcome.Failure).Reasons);

    public Outcome<Job> MidRoute(params Job.DoneBefore[] done) =>
        Job.OpenMidRoute(OpeningOf(Job.Scope), Route, done, NewId<OperationId>);

    private Job.Opening OpeningOf(JobScope scope) =>
        new(
            NewId<JobId>(),
            "J-2026-0001",
            NewId<QuoteId>(),
            NewId<CustomerId>(),
            NewId<CarId>(),
            scope,
            new DateOnly(2026, 3, 20),
            Monday
        );
}
