using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Fabrication;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Demo;

/// <summary>What a database says, without ids and times of the machine: names, numbers, amounts, states.</summary>
internal static class DemoContent
{
    public static async Task<string> HashAsync(ShopHost shop)
    {
        var lines = await LinesAsync(shop);
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\n', lines))));
    }

    public static async Task<List<string>> LinesAsync(ShopHost shop)
    {
        await using var scope = shop.Services.CreateAsyncScope();
        var contexts = scope.ServiceProvider.GetRequiredService<IDbContextFactory<ShopDbContext>>();
        await using var db = await contexts.CreateDbContextAsync();
        List<string> lines = [];
        lines.AddRange((await db.Set<Customer>().ToListAsync()).Select(c => $"{c.Name}|{c.Email}|{c.BillTo}"));
        lines.AddRange(
            (await db.Set<Car>().ToListAsync()).Select(c => $"{c.Title}|{c.ChassisNumber?.Text}|{c.OdometerKm}")
        );
        lines.AddRange(
            (await db.Set<PriceBookEdition>().ToListAsync()).Select(b =>
                $"{b.Edition}|{b.EffectiveFrom:O}|{BookDocument.Write(b.Book)}"
            )
        );
        lines.AddRange(
            (await db.Set<PriceBookDraft>().ToListAsync()).Select(d => $"draft|{BookDocument.Write(d.Book)}")
        );
        lines.AddRange(
            (await db.Set<Quote>().ToListAsync()).Select(q =>
                $"{q.Number}|{q.Revision}|{q.State}|{q.TotalMinor}|{q.PromiseDate:O}|{q.AcceptedBy}"
            )
        );
        var jobs = await db.Set<Job>().Include(j => j.Operations).ThenInclude(o => o.Times).ToListAsync();
        var numbers = jobs.ToDictionary(j => j.Id, j => j.Number);
        lines.AddRange(jobs.Select(j => $"{j.Number}|{j.State}|{j.PromisedOn:O}"));
        lines.AddRange(
            from job in jobs
            from o in job.Operations
            select Text(
                $"{job.Number}|{o.Code}|{o.Progress}|{o.FinishedAt:O}|{o.Times.Sum(t => t.Minutes(shop.Clock.GetUtcNow()))}"
            )
        );
        lines.AddRange(
            (await db.Set<JobAccount>().Include(a => a.Entries).ToListAsync()).SelectMany(a =>
                a.Entries.Select(e => $"{numbers[a.Id]}|{e.Sequence}|{e.Kind}|{e.CustomerMinor}|{e.Receipt}")
            )
        );
        lines.AddRange(
            (await db.Set<Invoice>().ToListAsync()).Select(i => $"{i.Number}|{i.TotalMinor}|{i.SuppliedOn:O}")
        );
        lines.AddRange(
            (await db.Set<JobCost>().ToListAsync()).Select(c =>
                $"{numbers[c.JobId]}|{c.Supplier}|{c.AmountMinor}|{c.On:O}"
            )
        );
        lines.AddRange(
            (await db.Set<DayClose>().ToListAsync()).SelectMany(d =>
                d.Methods.Select(m => $"{d.Day:O}|{m.Method}|{m.CountedMinor}|{m.DifferenceMinor}|{m.Note}")
            )
        );
        lines.AddRange(
            (await db.Set<JobMaterial>().ToListAsync()).Select(m =>
                $"{numbers[m.JobId]}|{m.Number}|{m.Kind}|{m.Latest.What}|{m.Latest.Mark}|{m.Latest.Certificate?.IsPdf}"
            )
        );
        lines.AddRange(
            (await db.Set<WeldedJoint>().ToListAsync()).Select(j =>
                $"{numbers[j.JobId]}|{j.Code}|{j.Latest?.Qualification}|{j.Latest?.Procedure}|{j.Latest?.On:O}"
            )
        );
        lines.AddRange(
            (await db.Set<InspectionLine>().Include(l => l.Readings).ToListAsync()).SelectMany(l =>
                l.Readings.Select(r =>
                    Text($"{numbers[l.JobId]}|{l.Code}|{r.Number}|{r.Value:0.###}|{r.Passed}|{r.Note}")
                )
            )
        );
        lines.AddRange(
            (await db.Set<Photo>().ToListAsync()).Select(p =>
                $"{numbers[p.JobId]}|{p.Kind}|{p.Caption}|{p.OriginalHash}"
            )
        );
        lines.AddRange(
            (await db.Set<GoodsOut>().ToListAsync()).Select(g =>
                Text($"{numbers[g.JobId]}|{g.On:O}|{g.Carrier}|{g.ConsignmentNumber}|{g.MassKg:0.###}|{g.SentTo}")
            )
        );
        lines.AddRange(
            (await db.Set<CustomerPart>().ToListAsync()).Select(p =>
                $"{numbers[p.JobId]}|{p.What}|{p.State}|{p.DueOn:O}"
            )
        );
        lines.AddRange(
            (await db.Set<BenderDie>().ToListAsync()).Select(d =>
                Text($"{d.Name}|{d.OutsideDiameterMm:0.###}|{d.Trials.Count}|{d.Note}")
            )
        );
        lines.AddRange(
            (await db.Set<JobFigure>().ToListAsync()).Select(f =>
                $"{numbers[f.JobId]}|{f.Operation}|{f.Title}|{f.State}|{string.Join(';', f.Results.Select(r => r.Value))}"
            )
        );
        lines.Sort(StringComparer.Ordinal);
        return lines;
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
