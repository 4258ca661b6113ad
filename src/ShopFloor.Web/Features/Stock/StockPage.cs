using Microsoft.AspNetCore.Components;
using ShopFloor.Application.Common;
using ShopFloor.Application.Stock;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Features.Quotes;
using ShopFloor.Web.Features.Shared;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Stock;

/// <summary>Base of the store's pages: the shop's units, who may do what, one command at a time.</summary>
public abstract class StockPage : OfficePage
{
    [Inject]
    public ShopHead Head { get; set; } = default!;

    protected StockSaid Said { get; private set; } = new(LengthUnit.Millimetre);
    protected string Currency { get; private set; } = "EUR";
    protected TimeZoneInfo Zone { get; private set; } = TimeZoneInfo.Utc;
    protected bool IsBusy { get; private set; }
    protected IReadOnlyList<FieldError> Errors { get; private set; } = [];
    protected bool MayKeep => Actor?.May(Permission.KeepStock) == true;
    protected bool MayBuy => Actor?.May(Permission.BuyStock) == true;

    protected sealed override async Task<Failure?> LoadAsync()
    {
        if (await Head.ReadAsync(Closing) is { } shop)
        {
            Said = new StockSaid(shop.LengthUnit == "inch" ? LengthUnit.Inch : LengthUnit.Millimetre);
            Currency = shop.Currency;
            Zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        return await ReadAsync();
    }

    protected abstract Task<Failure?> ReadAsync();

    protected override bool Concerns(ChangeNotice notice) =>
        notice.Subject is "stockItem" or "stockLot" or "stockOrder" or "supplier" or "sawCard" or "cutList" or "job";

    protected string Money(long minor) => QuoteWords.Money(minor, Currency);

    protected string When(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, Zone).ToString("ddd d MMM HH:mm", System.Globalization.CultureInfo.CurrentCulture);

    /// <summary>Runs one command: what is wrong with a field stands at the field, all else is said; true when it was done.</summary>
    protected async Task<bool> DoAsync<T>(Func<Task<Outcome<T>>> act, string done, Action<T>? then = null)
    {
        // The second click of a double click arrives before the button is seen to be disabled.
        if (IsBusy)
        {
            return false;
        }

        IsBusy = true;
        var outcome = await act();
        IsBusy = false;
        Errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is Failure.Invalid || !Accepted(outcome, out var value, done))
        {
            return false;
        }

        then?.Invoke(value);
        await ReloadAsync();
        return true;
    }

    /// <summary>A job's page that this person may open.</summary>
    protected string JobAddress(JobId job) =>
        Actor?.May(Permission.SeeOffice) == true ? $"jobs/{job}" : $"floor/jobs/{job}";

    protected void Forget() => Errors = [];
}

/// <summary>Says amounts and lengths as the shop reads them.</summary>
public sealed record StockSaid(LengthUnit Unit)
{
    private const decimal MmPerFoot = 304.8m;

    public bool IsInch => Unit == LengthUnit.Inch;

    /// <summary>A length of tube: <c>6,000 mm</c>, or to the sixteenth of an inch.</summary>
    public string Length(decimal mm) =>
        IsInch ? FractionalInches.Nearest((double)mm, 16).ToString() : $"{StockWords.Count(mm)} mm";

    /// <summary>An amount of an item: metres or feet of tube, else its measure.</summary>
    public string Amount(decimal amount, StockKind kind, StockMeasure measure) =>
        kind != StockKind.Tube ? $"{StockWords.Count(amount)} {measure.Unit()}"
        : IsInch ? $"{StockWords.Count(Math.Round(amount / MmPerFoot, 1))} ft"
        : $"{StockWords.Count(Math.Round(amount / 1000, 2))} m";

    public string Amount(StockItemView item, decimal amount) => Amount(amount, item.Kind, item.Measure);

    /// <summary>What lies in a lot: <c>3 × 6,000 mm</c>, <c>14.5 kg</c>.</summary>
    public string Lot(StockLotView lot) =>
        lot.LengthMm is { } mm
            ? $"{StockWords.Count(lot.Pieces)} × {Length(mm)}"
            : $"{StockWords.Count(lot.Pieces)} {lot.Measure.Unit()}";

    /// <summary>What is bought: sticks of tube, else units.</summary>
    public static string Pieces(decimal pieces, StockKind kind, StockMeasure measure) =>
        kind == StockKind.Tube
            ? $"{StockWords.Count(pieces)} {(pieces == 1 ? "stick" : "sticks")}"
            : $"{StockWords.Count(pieces)} {measure.Unit()}";

    /// <summary>Size of a tube.</summary>
    public string Size(StockItemView item) =>
        item is { OutsideDiameterMm: { } od, WallMm: { } wall }
            ? IsInch
                ? FormattableString.Invariant($"{od / 25.4m:0.###} × {wall / 25.4m:0.000} in")
                : $"{StockWords.Count(od)} × {StockWords.Count(wall)} mm"
            : "";
}
