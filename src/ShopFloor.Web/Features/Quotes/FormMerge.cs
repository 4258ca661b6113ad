using System.Globalization;
using ShopFloor.Domain.Common;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.Quotes;

/// <summary>A field that two people changed to different things.</summary>
public sealed record MergeChoice(string Key, string Label, string Mine, string Theirs)
{
    public bool TakesTheirs { get; set; }
}

/// <summary>Puts two people's changes of one draft together: what only one of them changed is taken, and what both changed is asked.</summary>
public sealed class FormMerge
{
    private readonly CounterForm mine;
    private readonly CounterForm theirs;
    private readonly IReadOnlyList<FormField> fields;

    /// <param name="loaded">The form as it was when typing began.</param>
    public FormMerge(Book book, CounterForm loaded, CounterForm mine, CounterForm theirs)
    {
        ArgumentNullException.ThrowIfNull(book);
        (this.mine, this.theirs) = (mine, theirs);
        var taken = new List<string>();
        var choices = new List<MergeChoice>();
        fields = FormField.Of(book);
        foreach (var field in fields)
        {
            var (was, here, there) = (field.Text(loaded, book), field.Text(mine, book), field.Text(theirs, book));
            if (there == was || there == here)
            {
                continue;
            }

            if (here == was)
            {
                field.Copy(theirs, mine);
                taken.Add(field.IsById ? $"{field.Label}, as saved by the other" : $"{field.Label}: {Shown(there)}");
            }
            else
            {
                choices.Add(
                    field.IsById
                        ? new MergeChoice(field.Key, field.Label, "as chosen here", "as saved by the other")
                        : new MergeChoice(field.Key, field.Label, Shown(here), Shown(there))
                );
            }
        }

        (Taken, Choices) = (taken, choices);
    }

    /// <summary>Their changes that were taken over, because nothing here had touched them.</summary>
    public IReadOnlyList<string> Taken { get; }

    /// <summary>What both changed.</summary>
    public IReadOnlyList<MergeChoice> Choices { get; }

    /// <summary>Copies the answers into the form.</summary>
    public void Apply()
    {
        foreach (var choice in Choices.Where(c => c.TakesTheirs))
        {
            fields.First(f => f.Key == choice.Key).Copy(theirs, mine);
        }
    }

    private static string Shown(string text) => text.Length == 0 ? "nothing" : text;
}

/// <summary>A part of the form that is compared and copied as one.</summary>
internal sealed record FormField(
    string Key,
    string Label,
    Func<CounterForm, Book, string> Text,
    Action<CounterForm, CounterForm> Copy
)
{
    /// <summary>Its text is ids, which tell people nothing.</summary>
    public bool IsById { get; init; }

    /// <summary>Every part of the form: each question about the condition is one of its own.</summary>
    internal static IReadOnlyList<FormField> Of(Book book) =>
        [
            .. Fixed,
            .. book.Questions.Select(q => new FormField(
                "condition." + q.Code,
                q.Title,
                (f, _) => Title(q.Answers, f.Condition.GetValueOrDefault(q.Code), a => (a.Code, a.Title)),
                (a, b) =>
                {
                    if (a.Condition.TryGetValue(q.Code, out var answer))
                    {
                        b.Condition[q.Code] = answer;
                    }
                }
            )),
        ];

    private static readonly IReadOnlyList<FormField> Fixed =
    [
        new("kind", "Kind of sale", (f, _) => f.Kind.Title(), (a, b) => b.Kind = a.Kind),
        new(
            "who",
            "Customer and car",
            (f, _) => $"{f.Customer} {f.Car}".Trim(),
            (a, b) => (b.Customer, b.Car) = (a.Customer, a.Car)
        )
        {
            IsById = true,
        },
        new(
            "use",
            "Intended use",
            (f, b) => Title(b.Uses, f.UseCode, u => (u.Code, u.Title)),
            (a, b) => b.UseCode = a.UseCode
        ),
        new("sets", "Rule sets", (f, _) => Join(f.RuleSets), (a, b) => Replace(a.RuleSets, b.RuleSets)),
        new("kit", "Kit", (f, b) => Title(b.Kits, f.KitCode, k => (k.Code, k.Title)), (a, b) => b.KitCode = a.KitCode),
        Door(DoorSide.Left, "Left door bar"),
        Door(DoorSide.Right, "Right door bar"),
        new(
            "bench",
            "Work",
            (f, _) => string.Join("; ", f.Bench.Select(r => $"{Plain(r.Quantity)} {r.StandardCode} by {r.Skill}")),
            (a, b) => Replace(a.Bench, b.Bench)
        ),
        new(
            "lines",
            "Further lines",
            (f, b) =>
                string.Join(
                    "; ",
                    f.Lines.Select(l =>
                        $"{Plain(l.Quantity)} {l.Unit} {l.Description}, {Money(l.UnitPriceMinor, b)} each, cost {Money(l.UnitCostMinor, b)}, taxes {Join(l.Taxes)}"
                    )
                ),
            (a, b) => Replace(a.Lines, b.Lines)
        ),
        new("outside", "Work sent out", (f, _) => Join(f.OutsideWork), (a, b) => Replace(a.OutsideWork, b.OutsideWork)),
        new(
            "freight",
            "Freight",
            (f, _) => $"{f.FreightZone} {Plain(f.FreightMassKg)}".Trim(),
            (a, b) => (b.FreightZone, b.FreightMassKg) = (a.FreightZone, a.FreightMassKg)
        ),
        new(
            "discount",
            "Discount",
            (f, b) => $"{Percent(f.DiscountPercent)} {Money(f.DiscountMinor, b)} {Join(f.DiscountLines)}".Trim(),
            (a, b) =>
            {
                (b.DiscountPercent, b.DiscountMinor) = (a.DiscountPercent, a.DiscountMinor);
                Replace(a.DiscountLines, b.DiscountLines);
            }
        ),
        new(
            "trade",
            "Work or goods in exchange",
            (f, b) => $"{Money(f.TradeCreditMinor, b)} {f.TradeCreditNote}".Trim(),
            (a, b) => (b.TradeCreditMinor, b.TradeCreditNote) = (a.TradeCreditMinor, a.TradeCreditNote)
        ),
        new(
            "promise",
            "Promise date",
            (f, _) => f.PromiseDate?.ToString("d MMM yyyy", CultureInfo.CurrentCulture) ?? "",
            (a, b) => b.PromiseDate = a.PromiseDate
        ),
        new(
            "customerNote",
            "Note for the customer",
            (f, _) => f.CustomerNote ?? "",
            (a, b) => b.CustomerNote = a.CustomerNote
        ),
        new("internalNote", "Internal note", (f, _) => f.InternalNote ?? "", (a, b) => b.InternalNote = a.InternalNote),
        new(
            "return",
            "Earlier job and reason",
            (f, _) => $"{f.ReturnOfJob} {f.FreeReason}".Trim(),
            (a, b) => (b.ReturnOfJob, b.FreeReason) = (a.ReturnOfJob, a.FreeReason)
        )
        {
            IsById = true,
        },
    ];

    private static string Money(long? minor, Book book) =>
        minor is { } known ? QuoteWords.Money(known, book.CurrencyCode) : "";

    private static string Percent(decimal? percent) => percent is null ? "" : Plain(percent) + " %";

    private static FormField Door(DoorSide side, string label) =>
        new(
            "door" + side,
            label,
            (f, b) => Title(b.HingeOptions, f.Doors.GetValueOrDefault(side), h => (h.Code, h.Title)),
            (a, b) => b.Doors[side] = a.Doors.GetValueOrDefault(side)
        );

    private static string Title<T>(IReadOnlyList<T> entries, string? code, Func<T, (string Code, string Title)> of) =>
        code is null ? "" : entries.Select(of).FirstOrDefault(e => e.Code == code).Title ?? code;

    private static string Join(IEnumerable<string> codes) => string.Join(", ", codes.Order(StringComparer.Ordinal));

    private static string Plain(decimal? value) => value?.ToString("0.######", CultureInfo.CurrentCulture) ?? "";

    private static void Replace<T>(ICollection<T> from, ICollection<T> to)
    {
        var entries = from.ToList();
        to.Clear();
        foreach (var entry in entries)
        {
            to.Add(entry);
        }
    }
}
