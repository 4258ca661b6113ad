using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Documents.Images;
using ShopFloor.Documents.Papers;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake.DropOffs;

/// <summary>Prints the authorisation to cut and weld: for signing by pen, or as it was signed on the screen.</summary>
public sealed class PrintAuthorisation(QueryRunner runner, IPapers papers, TimeProvider clock) : IUseCase
{
    public Task<Outcome<byte[]>> RunAsync(JobId jobId, Actor actor, CancellationToken ct) =>
        runner.RunAsync<byte[]>(
            Permission.BookIn,
            actor,
            async db =>
            {
                var job = await db.Set<Job>().SingleOrDefaultAsync(j => j.Id == jobId, ct);
                if (job is null)
                {
                    return Failure.Missing("job");
                }

                if (!(await CarHere.FindAsync(db, job, ct)).TryGet(out var car, out var failure))
                {
                    return failure;
                }

                var shop = await db.Shops.SingleAsync(ct);
                var now = TimeZoneInfo.ConvertTime(clock.GetUtcNow(), shop.Zone);
                var paper = await BuildAsync(db, job, car, shop, shop.LocalDay(now), ct);
                var size = shop.LengthUnit == LengthUnit.Inch ? PaperSize.Letter : PaperSize.A4;
                return papers.Authorisation(paper, new PaperSettings(size, now));
            },
            ct
        );

    private static async Task<AuthorisationPaper> BuildAsync(
        ShopDbContext db,
        Job job,
        Car car,
        Shop shop,
        DateOnly today,
        CancellationToken ct
    )
    {
        var customer = await db.Set<Customer>().SingleAsync(c => c.Id == job.CustomerId, ct);
        var dropOff = await db.Set<DropOff>().SingleOrDefaultAsync(d => d.JobId == job.Id, ct);
        var parts = await db.Set<CustomerPart>()
            .Where(p => p.JobId == job.Id && p.State == CustomerPartState.Awaited)
            .ToListAsync(ct);
        var (_, book) = await ConditionComparison.LoadAsync(db, job, ct);
        var signature = dropOff?.Authorisation?.Signature;
        return new AuthorisationPaper(
            new PaperShop(
                shop.Name,
                shop.LegalName,
                LinesOf(shop.Address),
                shop.TaxRegistration,
                shop.Email,
                shop.Phone
            ),
            new PaperParty(customer.Name, customer.AddressLines),
            new PaperCar(car.Title, car.ChassisNumber?.Text, car.Registration, FactsOf(dropOff)),
            job.Number,
            today,
            WorkOf(job, book),
            FoundOf(job, book, dropOff),
            dropOff?.StaysFitted ?? [],
            [.. parts.OrderBy(p => p.DueOn).Select(p => $"{p.What}, due {p.DueOn:yyyy-MM-dd}")],
            book.Uses.FirstOrDefault(u => u.Code == job.Scope.UseCode)?.Title ?? job.Scope.UseCode,
            [],
            dropOff?.PhotoConsent switch
            {
                null or PhotoConsent.NotAsked => null,
                PhotoConsent.Refused => false,
                _ => true,
            },
            signature is { Kind: SignatureKind.OnScreen }
                ? new PaperSignature(
                    signature.SignedBy,
                    TimeZoneInfo.ConvertTime(signature.SignedAt, shop.Zone),
                    SignaturePicture.Png(signature.Strokes) is { } png ? png : null
                )
                : null
        );
    }

    private static IReadOnlyList<string> WorkOf(Job job, PriceBook book) =>
        [
            AuthorisationNotice.Current.Authorisation,
            $"What is built: {book.WhatIsSold(job.Scope)}.",
            .. job.Scope.Doors.Select(d =>
                $"{d.Door} door bar: {book.FindHinge(d.HingeOptionCode)?.Title ?? d.HingeOptionCode}."
            ),
        ];

    private static List<PaperFact> FactsOf(DropOff? dropOff)
    {
        List<PaperFact> facts = [];
        if (dropOff?.OdometerKm is { } km)
        {
            facts.Add(new("Odometer", $"{km} km ({Odometer.MilesFromKm(km)} mi)"));
        }

        if (dropOff?.WarningLights is { } lights)
        {
            facts.Add(
                new("Warning lights", lights.Count == 0 ? "none lit" : string.Join(", ", lights.Select(l => l.Title())))
            );
        }

        if (dropOff?.FuelPercent is { } fuel)
        {
            facts.Add(new("Fuel or charge", $"{fuel} %"));
        }

        if (dropOff?.Keys is { } keys)
        {
            facts.Add(new("Keys handed in", $"{keys}"));
        }

        return facts;
    }

    private static IReadOnlyList<PaperFact> FoundOf(Job job, PriceBook book, DropOff? dropOff) =>
        [
            .. book
                .Questions.Where(q => dropOff?.ConditionFound.ContainsKey(q.Code) == true)
                .Select(q =>
                {
                    var assumed = PriceBook.AnswerTo(q, job.Scope.Condition);
                    var found = PriceBook.AnswerTo(q, dropOff!.ConditionFound);
                    return new PaperFact(
                        q.Title,
                        found.Code == assumed.Code ? found.Title : $"{found.Title} (assumed: {assumed.Title})"
                    );
                }),
        ];

    private static string[] LinesOf(string text) =>
        text.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
}
