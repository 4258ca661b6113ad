using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Application.Materials;
using ShopFloor.Application.Routing;
using ShopFloor.Application.RuleSets;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Inspection.Packs;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection.Packs;

/// <summary>A job's record as it stands now, with the names of those in it.</summary>
internal sealed record PackDraft(PackRecord Record, IReadOnlyDictionary<Guid, string> Names);

/// <summary>Gathers what a job's inspection pack says: to freeze it, and to print it while it is still open.</summary>
public sealed class PackComposer(RuleSetLibrary ruleSets) : IUseCase
{
    /// <param name="db">Where the rest is read.</param>
    /// <param name="job">With operations and times.</param>
    /// <param name="inspection">Whole.</param>
    /// <param name="ct">Gives up.</param>
    internal async Task<PackDraft> ComposeAsync(
        ShopDbContext db,
        Job job,
        JobInspection inspection,
        CancellationToken ct
    )
    {
        await ruleSets.RefreshAsync(db, ct);
        var car = await JobSubject.CarAsync(db, job, ct);
        var (_, book) = await ConditionComparison.LoadAsync(db, job, ct);
        var trace = await db.TraceAsync(job.Id, ct);
        var record = new PackRecord(
            PackRecord.CurrentSchema,
            job.Number,
            job.Id.Value,
            new PackCar(car?.Id.Value, JobSubject.Title(job, car), car?.ChassisNumber?.Text),
            book.WhatIsSold(job.Scope),
            inspection.PlanCode,
            inspection.PlanVersion,
            [.. inspection.RuleSets.Select(Of)],
            PackParts.Lines(inspection),
            PackParts.Nonconformances(inspection),
            PackParts.Operations(job),
            await PhotosAsync(db, inspection, ct),
            PackParts.SignOffs(inspection),
            [.. Cautions.OfPack.Select(c => c.Text), Cautions.WhoDecides],
            [],
            TraceParts.Materials(trace),
            TraceParts.Joints(trace),
            TraceParts.Accepted(trace)
        );
        return new PackDraft(record, await NamesAsync(db, job, record, ct));
    }

    private PackRuleSet Of(RuleSetUsed used) =>
        ruleSets.Find(used.Code, used.Version) is { } known
            ? new PackRuleSet(
                used.Code,
                used.Version,
                $"{known.Document.Publisher}, {known.Title}",
                known.Document.Edition,
                known.Document.DateRead
            )
            : new PackRuleSet(used.Code, used.Version, used.Citation, $"version {used.Version} of its figures", null);

    private static async Task<IReadOnlyList<PackPhoto>> PhotosAsync(
        ShopDbContext db,
        JobInspection inspection,
        CancellationToken ct
    )
    {
        var ids = inspection
            .Lines.SelectMany(l => l.Readings)
            .SelectMany(r => r.PhotoIds)
            .Concat(inspection.Nonconformances.SelectMany(n => n.PhotoIds))
            .Distinct()
            .ToList();
        var photos = await db.Set<Photo>().AsNoTracking().Where(p => ids.Contains(p.Id)).ToListAsync(ct);
        return
        [
            .. photos
                .OrderBy(p => p.Id.Value)
                .Select(p => new PackPhoto(p.Id.Value, p.OriginalHash, p.StoredHash, p.TakenAt)),
        ];
    }

    private static async Task<IReadOnlyDictionary<Guid, string>> NamesAsync(
        ShopDbContext db,
        Job job,
        PackRecord record,
        CancellationToken ct
    )
    {
        var people = PackParts.People(record);
        var names = await db
            .Users.AsNoTracking()
            .Where(u => people.Contains(u.Id))
            .ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
        var customer = await db.Set<Customer>().AsNoTracking().SingleAsync(c => c.Id == job.CustomerId, ct);
        names[customer.Id.Value] = customer.Name;
        return names;
    }
}
