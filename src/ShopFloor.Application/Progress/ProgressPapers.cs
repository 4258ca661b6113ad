using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Application.Papers;
using ShopFloor.Application.Quoting;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Progress;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Progress;

/// <summary>The photos and papers under a customer's link: what the shop has released of this job, and nothing else.</summary>
public sealed class ProgressPapers(
    IDbContextFactory<ShopDbContext> contexts,
    IFileStore files,
    PrintQuote quotes,
    PrintInvoice invoices,
    PrintInspection inspections
) : IUseCase
{
    private const string Quote = "quote";
    private const string Inspection = "inspection";
    private const string Invoice = "invoice-";

    /// <summary>A released photo, small; null for every other.</summary>
    public async Task<StoredFile?> PhotoAsync(JobId job, PhotoId id, CancellationToken ct)
    {
        string? hash;
        await using (var db = await contexts.CreateDbContextAsync(ct))
        {
            hash = await db.Set<Photo>()
                .Where(p => p.Id == id && p.JobId == job && p.IsShown && p.RemovedAt == null)
                .Select(p => p.ThumbnailHash)
                .SingleOrDefaultAsync(ct);
        }

        return hash is null ? null : await files.ReadAsync(hash, ct);
    }

    /// <summary>A released paper; null for every other.</summary>
    /// <param name="path">As <see cref="ShownPaper.Path"/> names it.</param>
    /// <param name="recordUrl">Public address of an inspection record by its hash.</param>
    public async Task<PrintedPaper?> PaperAsync(
        JobId id,
        string path,
        Func<string, string> recordUrl,
        CancellationToken ct
    )
    {
        QuoteId quote;
        await using (var db = await contexts.CreateDbContextAsync(ct))
        {
            var job = await db.Set<Job>().AsNoTracking().SingleAsync(j => j.Id == id, ct);
            var sharing = await db.Set<ProgressSharing>().AsNoTracking().SingleOrDefaultAsync(s => s.JobId == id, ct);
            var isSignedOff = await db.Set<SignOff>().AnyAsync(s => s.JobId == id && s.WithdrawnAt == null, ct);
            if (!(await ListAsync(db, job, sharing, isSignedOff, ct)).Any(p => p.Path == path))
            {
                return null;
            }

            quote = job.QuoteId;
        }

        var printed = path switch
        {
            Quote => await quotes.RunAsync(quote, null, false, Actor.System, ct),
            Inspection => await inspections.RunAsync(id, null, recordUrl, null, Actor.System, ct),
            _ => await invoices.RunAsync(
                InvoiceId.From(Guid.ParseExact(path[Invoice.Length..], "N")),
                null,
                Actor.System,
                ct
            ),
        };
        return printed.IsSuccess ? printed.Value : null;
    }

    /// <summary>The papers that are released and exist.</summary>
    internal static async Task<IReadOnlyList<ShownPaper>> ListAsync(
        ShopDbContext db,
        Job job,
        ProgressSharing? sharing,
        bool isSignedOff,
        CancellationToken ct
    )
    {
        List<ShownPaper> papers = [];
        foreach (var paper in sharing?.Papers ?? [])
        {
            switch (paper)
            {
                case ProgressPaper.Quote:
                    papers.Add(new ShownPaper(paper, Quote, null, false));
                    break;
                case ProgressPaper.Invoices:
                    papers.AddRange(
                        (await InvoicePapers.OfJobAsync(db, job.Id, ct)).Select(i => new ShownPaper(
                            paper,
                            $"{Invoice}{i.Id.Value:N}",
                            i.Number,
                            i.IsCredit
                        ))
                    );
                    break;
                case ProgressPaper.InspectionPack when isSignedOff:
                    papers.Add(new ShownPaper(paper, Inspection, null, false));
                    break;
            }
        }

        return papers;
    }
}
