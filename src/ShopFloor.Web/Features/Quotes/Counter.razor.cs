using System.Globalization;
using Microsoft.AspNetCore.Components;
using ShopFloor.Application.RuleSets;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.RuleSets;
using ShopFloor.Web.Features.Shared;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.Quotes;

/// <summary>The form at the counter. It keeps nothing itself: every answer goes into <see cref="Form"/>, and the page prices it.</summary>
public partial class Counter(ReadRuleSets readSets)
{
    [Parameter, EditorRequired]
    public Book Book { get; set; } = default!;

    [Parameter, EditorRequired]
    public CounterForm Form { get; set; } = default!;

    [Parameter, EditorRequired]
    public Actor Actor { get; set; } = default!;

    /// <summary>The price of the answers on the screen; null while they cannot be priced.</summary>
    [Parameter]
    public PricedQuote? Priced { get; set; }

    /// <summary>What one other choice would change.</summary>
    [Parameter]
    public IReadOnlyList<Alternative> Alternatives { get; set; } = [];

    [Parameter]
    public IReadOnlyList<FieldError> Errors { get; set; } = [];

    [Parameter]
    public bool IsSaving { get; set; }

    [Parameter]
    public bool IsSaved { get; set; }

    /// <summary>The saved draft; null while there is none.</summary>
    [Parameter]
    public QuoteId? Draft { get; set; }

    /// <summary>An answer changed.</summary>
    [Parameter]
    public EventCallback Changed { get; set; }

    [Parameter]
    public EventCallback Save { get; set; }

    [Parameter]
    public EventCallback Send { get; set; }

    /// <summary>Those that new quotes may take.</summary>
    private IReadOnlyList<RuleSet> Sets { get; set; } = [];

    protected override async Task OnInitializedAsync()
    {
        var offered = await readSets.OfferedAsync(Actor, CancellationToken.None);
        Sets = offered.IsSuccess ? offered.Value : [];
    }

    private bool HasDoorBars => Form.KitCode is { } code && Book.FindKit(code) is { HasDoorBars: true };

    private IEnumerable<Choice<string>.Option> HingeOptions =>
        Book
            .HingeOptions.Select(h => new Choice<string>.Option(h.Code, h.Title))
            .Append(new Choice<string>.Option(null, "no bar on this side"));

    private static IEnumerable<Choice<SaleKind>.Option> Kinds =>
        Enum.GetValues<SaleKind>().Select(k => new Choice<SaleKind>.Option(k, k.Title()));

    /// <summary>What a car is for decides what a kit must be; work that is named piece by piece needs no such answer.</summary>
    private bool AsksForUse => Form.HasKit;

    /// <summary>A section's number where the ones that are not asked are left out.</summary>
    private int Step(int full) => full - (AsksForUse ? 0 : 1) - (full > 4 && Form.Kind != SaleKind.Fitted ? 1 : 0);

    private IEnumerable<Choice<string>.Option> Zones(Freight freight)
    {
        var zones = freight.Zones.Select(z => new Choice<string>.Option(z.Code, z.Title));
        return Form.Kind == SaleKind.Bench ? zones.Append(new(null, "not sent")) : zones;
    }

    private Task TakeAsync(Alternative alternative) => SetAsync(() => Form.Take(alternative));

    private Task SetAsync(Action set)
    {
        set();
        return Changed.InvokeAsync();
    }

    private Task ChooseAsync(WhoPicker.Pair who) =>
        SetAsync(() =>
        {
            Form.Customer = who.Customer;
            Form.Car = who.Car;
        });

    private Task ToggleAsync(string code, bool isOn) =>
        SetAsync(() => _ = isOn ? Form.RuleSets.Add(code) : Form.RuleSets.Remove(code));

    private Task PromiseAsync(string? text) =>
        SetAsync(() =>
            Form.PromiseDate = DateOnly.TryParseExact(
                text,
                "yyyy-MM-dd",
                CultureInfo.InvariantCulture,
                DateTimeStyles.None,
                out var day
            )
                ? day
                : null
        );

    private bool Has(string path) => Say(path) is not null;

    private string? Say(string path) =>
        Errors
            .FirstOrDefault(e =>
                e.Path == path
                || e.Path.StartsWith(path + "[", StringComparison.Ordinal)
                || e.Path.StartsWith(path + ".", StringComparison.Ordinal)
            )
            ?.Text;
}
