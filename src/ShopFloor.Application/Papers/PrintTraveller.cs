using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Papers;

/// <summary>Prints the sheet that stays with the car: its steps with tick boxes, and the code that opens the job on a tablet.</summary>
public sealed class PrintTraveller(QueryRunner runner, PaperHeads heads, IPapers papers, TimeProvider clock) : IUseCase
{
    /// <param name="jobId">The job.</param>
    /// <param name="jobUrl">Address of the job's floor page.</param>
    /// <param name="size">Absent: the shop's usual sheet.</param>
    /// <param name="actor">Who prints.</param>
    /// <param name="ct">Gives up.</param>
    public Task<Outcome<PrintedPaper>> RunAsync(
        JobId jobId,
        string jobUrl,
        PaperSize? size,
        Actor actor,
        CancellationToken ct
    ) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var job = await db.JobsWhole().SingleOrDefaultAsync(j => j.Id == jobId, ct);
                if (job is null)
                {
                    return Failure.Missing("job");
                }

                var shop = await db.Shops.SingleAsync(ct);
                var paper = await PaperAsync(db, job, await heads.LetterheadAsync(shop, ct), jobUrl, ct);
                return new PrintedPaper(
                    papers.Traveller(paper, PaperHeads.SettingsOf(shop, size, clock.GetUtcNow())),
                    $"{job.Number}-traveller.pdf"
                );
            },
            ct
        );

    /// <summary>The travellers of everything in work in one file, with lines for times by pen: for a day on which the server may fail.</summary>
    /// <param name="urlOf">Address of a job's floor page.</param>
    /// <param name="size">Absent: the shop's usual sheet.</param>
    /// <param name="actor">Who prints.</param>
    /// <param name="ct">Gives up.</param>
    public Task<Outcome<PrintedPaper>> AllAsync(
        Func<JobId, string> urlOf,
        PaperSize? size,
        Actor actor,
        CancellationToken ct
    ) =>
        runner.RunAsync<PrintedPaper>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var jobs = await db.JobsWhole()
                    .Where(j => j.State == JobState.Open)
                    .OrderBy(j => j.Number)
                    .Take(MostOfSet)
                    .ToListAsync(ct);
                if (jobs.Count == 0)
                {
                    return Failure.Because("noCars", "No car is in work, so there is no traveller to print.");
                }

                var (shop, now) = (await db.Shops.SingleAsync(ct), clock.GetUtcNow());
                var facts = await JobFacts.OfAsync(db, jobs, shop, now, ct);
                var letterhead = await heads.LetterheadAsync(shop, ct);
                var set = new List<TravellerPaper>();
                foreach (var job in jobs)
                {
                    var paper = await PaperAsync(db, job, letterhead, urlOf(job.Id), ct);
                    set.Add(paper with { Now = [.. Standing(job, facts[job.Id])], PaperLines = LinesByPen });
                }

                return new PrintedPaper(
                    papers.Travellers(set, PaperHeads.SettingsOf(shop, size, now)),
                    $"travellers-{shop.LocalDay(now):yyyy-MM-dd}.pdf"
                );
            },
            ct
        );

    /// <summary>More cars than a shop has in work.</summary>
    private const int MostOfSet = 60;

    /// <summary>As many as fit on a sheet.</summary>
    private const int LinesByPen = 18;

    private static IEnumerable<string> Standing(Job job, GateFacts facts)
    {
        foreach (var operation in job.Operations.Where(o => !o.IsOver))
        {
            foreach (var time in operation.Running)
            {
                yield return $"{operation.Code} {operation.Title}: {facts.Name(time.Worker)} is on it since {facts.At(time.StartedAt)}.";
            }

            if (operation.CurrentHold is { } hold)
            {
                yield return $"{operation.Code} {operation.Title} is on hold: {hold.Words()}.";
            }
        }
    }

    private static async Task<TravellerPaper> PaperAsync(
        ShopDbContext db,
        Job job,
        PaperShop letterhead,
        string jobUrl,
        CancellationToken ct
    )
    {
        var (_, customer, car) = await PaperHeads.ReadAsync(db, job.CustomerId, job.CarId, ct);
        var dropOff = await db.Set<DropOff>().SingleOrDefaultAsync(d => d.JobId == job.Id, ct);
        var (_, book) = await ConditionComparison.LoadAsync(db, job, ct);
        var figures = (
            await db.Set<JobFigure>().Where(f => f.JobId == job.Id && f.State == FigureState.InForce).ToListAsync(ct)
        )
            .OrderBy(f => f.Title, StringComparer.Ordinal)
            .ToLookup(f => PlaceOf(f, job), Figure);
        return new TravellerPaper(
            letterhead,
            PaperHeads.Of(car, job.Scope.Kind.Title()),
            job.Number,
            customer.Name,
            book.WhatIsSold(job.Scope),
            job.PromisedOn,
            job.HasCarHere && car is not null ? [.. Facts(car.Facts, dropOff)] : [],
            [.. Warnings(job, car)],
            [.. figures[""]],
            [
                .. job
                    .Operations.Where(o => o.Progress != OperationProgress.NotNeeded)
                    .Select(o => Step(o, [.. figures[o.Code]])),
            ],
            jobUrl,
            []
        );
    }

    private static IEnumerable<PaperFact> Facts(CarFacts car, DropOff? dropOff)
    {
        yield return new("Driver sits on the", car.SteeringSide == SteeringSide.Left ? "left" : "right");
        yield return new("Energy", CarWords.Of(car.Energy));
        yield return new("Airbags", CarWords.Of(car.Airbags));
        yield return new("Tank or battery", CarWords.Of(car.TankPosition));
        if (dropOff is { StaysFitted.Count: > 0 })
        {
            yield return new("Stays fitted", string.Join(", ", dropOff.StaysFitted));
        }

        if (dropOff?.Keys is { } keys)
        {
            yield return new("Keys", keys.ToString(System.Globalization.CultureInfo.InvariantCulture));
        }
    }

    private static IEnumerable<string> Warnings(Job job, Car? car) =>
        (job.HasCarHere && car is not null ? OfCar(car.Facts) : []).Concat(OfWork(job));

    private static IEnumerable<string> OfCar(CarFacts car)
    {
        if (car.Energy is Energy.Hybrid or Energy.Electric)
        {
            yield return Cautions.HighVoltage.Text;
        }

        yield return Cautions.Electrical.Text;
        if (car.Energy != Energy.Electric)
        {
            yield return Cautions.Fuel.Text;
        }
    }

    private static IEnumerable<string> OfWork(Job job)
    {
        if (job.Operations.Any(o => o.Route.HotWork))
        {
            yield return Cautions.HotWork.Text;
        }
    }

    /// <summary>The step at which figures stand; none for those of the whole job, or of a step that is no longer done.</summary>
    private static string PlaceOf(JobFigure figure, Job job) =>
        figure.Operation is { } code
        && job.Operations.Any(o => o.Code == code && o.Progress != OperationProgress.NotNeeded)
            ? code
            : "";

    /// <summary>What metal is cut or bent by; the rest stands on the tablet.</summary>
    private static TravellerFigure Figure(JobFigure figure) =>
        new(
            figure.Title,
            [.. figure.Results.Where(r => r.IsMain).Select(r => new PaperFact(r.Label, r.Value))],
            figure.Warnings
        );

    private static TravellerOperation Step(Operation operation, IReadOnlyList<TravellerFigure> figures) =>
        new(
            operation.Code,
            operation.Phase.Title(),
            operation.Title,
            [.. operation.Route.Gates.Select(WaitsFor).OfType<string>()],
            operation.Route.Caution is { } caution ? [caution] : [],
            operation.Skill == Operation.InspectorSkill,
            operation.IsOver,
            figures
        );

    /// <summary>What a step waits for whatever the day: a printed sheet cannot know what has been met since.</summary>
    private static string? WaitsFor(RouteGate gate) =>
        gate.Kind switch
        {
            GateKind.Authorisation => "the customer's signature to cut and weld",
            GateKind.CustomerPart => $"the customer's part ({gate.Part}), where one is brought",
            GateKind.Cure => $"the cure of {gate.Operation}",
            GateKind.HoldPoint => $"all hold points of {gate.Operation} passed",
            GateKind.Isolation => "the high-voltage isolation by a qualified person",
            _ => null,
        };
}
