using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Accounts;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Application.Papers;
using ShopFloor.Application.Quoting;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;
using UglyToad.PdfPig;

namespace ShopFloor.Web.Tests.Demo;

/// <summary>Every paper of the demo shop, read back.</summary>
[Collection(DemoCollection.Name)]
public sealed partial class DemoPapersTests(LoadedDemo demo)
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_inspection_record_of_the_failed_weld_shows_failure_and_mending_and_says_that_it_is_open()
    {
        var text = await InspectionAsync("DEMO 105");

        Says(
            text,
            "Pinhole on the inner side of the left foot",
            "Ground out and welded again,",
            "Earlier reading: ✗ Failed,",
            "✓ Closed"
        );
        Says(text, "NOT SIGNED OFF", "Motorsport", "does not certify the");
        // Photos carry their hashes; the record itself has none before it is frozen.
        Assert.DoesNotContain("SHA-256 of the stored record", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_signed_off_record_carries_the_same_hash_whenever_it_is_printed()
    {
        var first = Hash().Match(await InspectionAsync("DEMO 101")).Value;

        Assert.Equal(64, first.Length);
        Assert.Equal(first, Hash().Match(await InspectionAsync("DEMO 101")).Value);
        Assert.NotEqual(first, Hash().Match(await InspectionAsync("DEMO 102")).Value);
    }

    [Fact]
    public async Task The_traveller_of_the_hybrid_names_high_voltage_first_and_every_step()
    {
        var job = await JobAsync("DEMO 110");
        var printed = await demo.Shop.WithAsync(
            (PrintTraveller print) =>
                print.RunAsync(job.Id, "https://shop.example/floor/jobs/1", null, Actor.System, Ct)
        );

        var text = Read(printed.Value.Content);
        Says(text, Cautions.HighVoltage.Text, "all hold points of 60 passed", "Lirra Duo", "☑", "☐");
        Says(text, [.. job.Operations.Select(o => o.Title)]);
    }

    [Fact]
    public async Task The_traveller_of_the_car_with_the_short_brace_has_the_new_figures_at_their_step_and_not_the_old_ones()
    {
        var job = await JobAsync("DEMO 108");
        var printed = await demo.Shop.WithAsync(
            (PrintTraveller print) =>
                print.RunAsync(job.Id, "https://shop.example/floor/jobs/1", PaperSize.A4, Actor.System, Ct)
        );

        var text = Read(printed.Value.Content);
        var (from, to) = (
            text.IndexOf("Rear braces fitted", StringComparison.Ordinal),
            text.IndexOf("Head room, belts", StringComparison.Ordinal)
        );
        var step = text[from..to];
        // 40 × 2 mm on 45 mm at 57.5°, seat; the figures at 58° were replaced.
        var now = Depth(57.5);
        Assert.Contains("Left brace, top end:", step, StringComparison.Ordinal);
        Assert.Contains($"Depth of the notch: {now}", step, StringComparison.Ordinal);
        Assert.DoesNotContain(Depth(58), text, StringComparison.Ordinal);
        Assert.Contains("Bend 1:", step, StringComparison.Ordinal);

        static string Depth(double degrees)
        {
            var notch = Notch.Calculate(new(40, 2, 45, degrees)).Value;
            return string.Create(
                CultureInfo.InvariantCulture,
                $"{notch.MaximumAxialMm - notch.MinimumAxialMm:0.00} mm"
            );
        }
    }

    [Fact]
    public async Task Every_paper_of_the_demo_can_be_printed_without_a_missing_letter()
    {
        var quotes = await demo.ReadAsync(db => db.Set<Quote>().Select(q => q.Id).ToListAsync(Ct));
        var invoices = await demo.ReadAsync(db => db.Set<Invoice>().Select(i => i.Id).ToListAsync(Ct));
        var receipts = await demo.ReadAsync(db =>
            db.Set<LedgerEntry>().Where(e => e.Receipt != null).Select(e => e.Id).ToListAsync(Ct)
        );
        var jobs = await demo.ReadAsync(db => db.Set<Job>().Select(j => j.Id).ToListAsync(Ct));
        var withCar = await demo.ReadAsync(db =>
            db.Set<Job>().Where(j => j.CarId != null).Select(j => j.Id).ToListAsync(Ct)
        );
        // The visit that cost nothing has no invoice; the kit that was sent has one, the car that waits for its sign-off is paid, and the car that waits for its panels has one for a part.
        Assert.True(quotes.Count >= 16 && invoices.Count == 7 && receipts.Count > 12 && jobs.Count == 14);

        await PrintAllAsync(quotes, (PrintQuote print, QuoteId id) => print.RunAsync(id, null, true, Actor.System, Ct));
        await PrintAllAsync(invoices, (PrintInvoice print, InvoiceId id) => print.RunAsync(id, null, Actor.System, Ct));
        await PrintAllAsync(
            receipts,
            (PrintReceipt print, LedgerEntryId id) => print.RunAsync(id, null, Actor.System, Ct)
        );
        await PrintAllAsync(
            jobs,
            (PrintInspection print, JobId id) =>
                print.RunAsync(id, null, h => "http://localhost/record/" + h, null, Actor.System, Ct)
        );
        foreach (var job in withCar)
        {
            var sheet = await demo.Shop.WithAsync((PrintAuthorisation print) => print.RunAsync(job, Actor.System, Ct));
            Assert.NotEmpty(Read(sheet.Value));
        }
    }

    private async Task PrintAllAsync<TUseCase, TId>(
        IEnumerable<TId> ids,
        Func<TUseCase, TId, Task<Outcome<PrintedPaper>>> print
    )
        where TUseCase : notnull
    {
        foreach (var id in ids)
        {
            var printed = await demo.Shop.WithAsync((TUseCase useCase) => print(useCase, id));
            Says(Read(printed.Value.Content), "Hollow Lane Fabrication");
        }
    }

    private async Task<Job> JobAsync(string registration)
    {
        var car = await demo.ReadAsync(db => db.Set<Car>().SingleAsync(c => c.Registration == registration, Ct));
        return await demo.ReadAsync(db =>
            db.Set<Job>().Include(j => j.Operations).SingleAsync(j => j.CarId == car.Id, Ct)
        );
    }

    private async Task<string> InspectionAsync(string registration)
    {
        var job = await JobAsync(registration);
        var printed = await demo.Shop.WithAsync(
            (PrintInspection print) =>
                print.RunAsync(job.Id, null, h => "http://localhost/record/" + h, null, Actor.System, Ct)
        );
        return Read(printed.Value.Content);
    }

    private static string Read(ReadOnlyMemory<byte> pdf)
    {
        using var document = PdfDocument.Open(pdf.ToArray());
        var text = string.Join(' ', document.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        Assert.DoesNotContain('\0', text);
        Assert.DoesNotContain('\uFFFD', text);
        return text;
    }

    /// <summary>Words that stand side by side on the sheet may be read in another order, so each part is looked for alone.</summary>
    private static void Says(string text, params string[] parts)
    {
        var words = text.Split(' ').ToHashSet(StringComparer.Ordinal);
        foreach (var part in parts)
        {
            Assert.All(part.Split(' '), word => Assert.Contains(word, words));
        }
    }

    [GeneratedRegex("[0-9a-f]{64}")]
    private static partial Regex Hash();
}
