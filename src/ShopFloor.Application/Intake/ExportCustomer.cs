using System.IO.Compression;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Application.Messages;
using ShopFloor.Data;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Decisions;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Messages;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Intake;

/// <summary>All that the shop keeps about one customer, as one file to hand to them when they ask for it (General Data Protection Regulation, articles 15 and 20, from memory): their data as JSON that other programs can read, and the pictures of their car. What a job costs the shop, and who of its people did what, is not theirs and not in it.</summary>
public sealed class ExportCustomer(
    CommandRunner runner,
    IDbContextFactory<ShopDbContext> contexts,
    IFileStore files,
    MessageSeal seal
) : IUseCase
{
    private static readonly JsonSerializerOptions Readable = new(StoredJson.Options) { WriteIndented = true };

    private const string ReadMe = """
        This is what the shop keeps about you.

        data.json   your contacts, cars, quotes, jobs, invoices, payments, messages, questions
        photos/     pictures of your car at drop-off and hand-over, and those that were shown to you

        Amounts are in the smallest unit of their currency (cents, pence). Times are in UTC.
        """;

    /// <summary>A ZIP archive that lies in a file of its own until it is closed. The history notes that it was made.</summary>
    public async Task<Outcome<Stream>> RunAsync(CustomerId id, Actor actor, CancellationToken ct)
    {
        var noted = await runner.RunAsync<Done>(
            Permission.ErasePersonalData,
            Envelope.Of(actor),
            new { id },
            async scope =>
            {
                if (!await scope.Db.Set<Customer>().AnyAsync(c => c.Id == id, scope.Cancellation))
                {
                    return Failure.Missing("customer");
                }

                scope.Record(new EventDraft("customer.exported", "customer", id.Value));
                return Outcome.Ok;
            },
            ct
        );
        if (!noted.TryGet(out _, out var failure))
        {
            return failure;
        }

        var options = new FileStreamOptions
        {
            Mode = FileMode.CreateNew,
            Access = FileAccess.ReadWrite,
            Options = FileOptions.DeleteOnClose | FileOptions.Asynchronous,
        };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        var file = new FileStream(Path.Combine(Path.GetTempPath(), Path.GetRandomFileName()), options);
        try
        {
            await WriteAsync(file, id, ct);
            file.Position = 0;
            return file;
        }
        catch
        {
            await file.DisposeAsync();
            throw;
        }
    }

    private async Task WriteAsync(Stream file, CustomerId id, CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTrackingWithIdentityResolution;
        var jobs = await db.Set<Job>().Where(j => j.CustomerId == id).OrderBy(j => j.OpenedAt).ToListAsync(ct);
        await using var zip = new ZipArchive(file, ZipArchiveMode.Create, leaveOpen: true);
        await AddAsync(zip, "read-me.txt", Encoding.UTF8.GetBytes(ReadMe), ct);
        var data = JsonSerializer.SerializeToUtf8Bytes(await DataAsync(db, id, jobs, ct), Readable);
        await AddAsync(zip, "data.json", data, ct);
        foreach (var photo in await PhotosAsync(db, [.. jobs.Select(j => j.Id)], ct))
        {
            // One whose content was lost is missing here too; the check of files tells the owner of it.
            if (await files.ReadAsync(photo.StoredHash, ct) is { } picture)
            {
                await AddAsync(zip, $"photos/{photo.Id}.jpg", picture.Bytes, ct);
            }
        }
    }

    private static async Task AddAsync(ZipArchive zip, string name, ReadOnlyMemory<byte> content, CancellationToken ct)
    {
        await using var entry = await zip.CreateEntry(name, CompressionLevel.Optimal).OpenAsync(ct);
        await entry.WriteAsync(content, ct);
    }

    private static Task<List<Photo>> PhotosAsync(ShopDbContext db, List<JobId> jobs, CancellationToken ct) =>
        db.Set<Photo>()
            .Where(p =>
                jobs.Contains(p.JobId)
                && p.RemovedAt == null
                && (p.Kind == PhotoKind.WalkRound || p.Kind == PhotoKind.HandOver || p.IsShown)
            )
            .OrderBy(p => p.AddedAt)
            .ToListAsync(ct);

    private async Task<object> DataAsync(ShopDbContext db, CustomerId id, List<Job> jobs, CancellationToken ct)
    {
        var customer = await db.Set<Customer>().SingleAsync(c => c.Id == id, ct);
        var cars = await db.Set<Car>().Where(c => c.CustomerId == id).ToListAsync(ct);
        var quotes = await db.Set<Quote>().Where(q => q.CustomerId == id).OrderBy(q => q.CreatedAt).ToListAsync(ct);
        var words = await db.Set<CustomerWord>()
            .Where(w => w.CustomerId == id)
            .OrderBy(w => w.WrittenAt)
            .ToListAsync(ct);
        var messages = await db.Set<OutboxMessage>()
            .Where(m => m.CustomerId == id)
            .OrderBy(m => m.CreatedAt)
            .ToListAsync(ct);
        var ofJobs = new List<object>();
        foreach (var job in jobs)
        {
            ofJobs.Add(await JobAsync(db, job, ct));
        }

        return new
        {
            Customer = new
            {
                customer.Name,
                customer.AddressLines,
                customer.Email,
                customer.Phone,
                customer.TaxNumber,
                customer.TaxExemption,
                customer.Language,
                customer.Payer,
                customer.RegisteredAt,
                customer.ErasedAt,
            },
            Cars = cars.Select(c => new
            {
                c.Make,
                c.Model,
                c.ModelYear,
                ChassisNumber = c.ChassisNumber?.ToString(),
                c.Registration,
                c.OdometerKm,
                c.Facts,
            }),
            // What was offered, as the paper said it; drafts were never theirs.
            Quotes = quotes
                .Where(q => q.SentAt is not null)
                .Select(q => new
                {
                    q.Number,
                    q.Revision,
                    q.State,
                    q.SentAt,
                    q.ValidUntil,
                    q.TotalMinor,
                    q.ClosedAt,
                    q.AcceptedBy,
                    q.DeclineReason,
                }),
            Jobs = ofJobs,
            Questions = words.Select(w => new
            {
                w.WrittenAt,
                w.Text,
                w.Answer,
            }),
            Messages = messages.Select(m => new
            {
                m.Kind,
                m.State,
                m.CreatedAt,
                m.EndedAt,
                Said = seal.OpenHead(m.SealedHead),
            }),
        };
    }

    private static async Task<object> JobAsync(ShopDbContext db, Job job, CancellationToken ct)
    {
        var dropOffs = await db.Set<DropOff>().Where(d => d.JobId == job.Id).ToListAsync(ct);
        var handOvers = await db.Set<HandOver>().Where(h => h.JobId == job.Id).ToListAsync(ct);
        var returns = await db.Set<CarReturn>().Where(r => r.JobId == job.Id).ToListAsync(ct);
        var parts = await db.Set<CustomerPart>().Where(p => p.JobId == job.Id).ToListAsync(ct);
        var goods = await db.Set<GoodsOut>().Where(g => g.JobId == job.Id).ToListAsync(ct);
        var changes = await db.Set<ChangeOrder>().Where(c => c.JobId == job.Id).ToListAsync(ct);
        var invoices = await db.Set<Invoice>().Where(i => i.JobId == job.Id).OrderBy(i => i.IssuedAt).ToListAsync(ct);
        var entries = await db.Set<LedgerEntry>()
            .Where(e => e.JobId == job.Id)
            .OrderBy(e => e.Sequence)
            .ToListAsync(ct);
        return new
        {
            job.Number,
            job.State,
            job.OpenedAt,
            job.EndedAt,
            job.PromisedOn,
            DropOffs = dropOffs,
            HandOvers = handOvers,
            Returns = returns,
            YourParts = parts,
            GoodsOut = goods,
            Changes = changes
                .Where(c => c.OfferedAt is not null)
                .Select(c => new
                {
                    c.Number,
                    c.State,
                    c.OfferedAt,
                    c.TotalMinor,
                    c.ClosedAt,
                    c.ApprovedBy,
                    c.CloseReason,
                }),
            Invoices = invoices.Select(i => new
            {
                i.Number,
                i.Kind,
                i.IssuedOn,
                i.TotalMinor,
                i.Parties,
                Content = JsonNode.Parse(i.Snapshot),
            }),
            Payments = entries
                .Where(e => e.Receipt is not null)
                .Select(e => new
                {
                    e.On,
                    e.Description,
                    e.Method,
                    e.Reference,
                    e.Receipt,
                    e.GivenBy,
                    Amounts = e.Postings,
                }),
        };
    }
}
