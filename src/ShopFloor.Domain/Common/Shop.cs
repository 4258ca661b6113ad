using System.Globalization;
using System.Text.RegularExpressions;
using ShopFloor.Domain.HotWork;
using ShopFloor.Domain.Routing;
using ShopFloor.Domain.Times;

namespace ShopFloor.Domain.Common;

/// <summary>The one shop this installation serves: what stands on its papers, how it counts time, money and lengths.</summary>
public sealed partial class Shop : IVersioned
{
    private Shop() { }

    public ShopId Id { get; private set; }
    public long Version { get; private set; }
    public string Name { get; private set; } = "";
    public string LegalName { get; private set; } = "";
    public string Address { get; private set; } = "";
    public string? TaxRegistration { get; private set; }
    public string? Phone { get; private set; }
    public string? Email { get; private set; }
    public string? OpeningHours { get; private set; }

    /// <summary>ISO 4217; fixed once the shop exists, since every amount is counted in it.</summary>
    public Currency Currency { get; private set; }

    /// <summary>IANA name, e.g. <c>Europe/Lisbon</c>.</summary>
    public string TimeZone { get; private set; } = "";
    public LengthUnit LengthUnit { get; private set; }

    /// <summary>The shop's own colour on its screens, <c>#rrggbb</c>.</summary>
    public string Accent { get; private set; } = DefaultAccent;

    /// <summary>A one-person shop may inspect its own work; its papers then say so.</summary>
    public bool SelfInspection { get; private set; }

    /// <summary>Minutes of fire watch after the last spark; see <see cref="FireWatch"/>.</summary>
    public int FireWatchMinutes { get; private set; } = FireWatch.UsualMinutes;

    /// <summary>Hours after which a running timer is taken for forgotten; see <see cref="LongTimers"/>.</summary>
    public int LongTimerHours { get; private set; } = LongTimers.UsualHours;

    /// <summary>Time of day, by the shop's clock, at which the shift ends; null where the shop has none.</summary>
    public TimeOnly? ShiftEndsAt { get; private set; }

    /// <summary>Why work is put on hold here, in the order in which the floor is offered them; see <see cref="HoldReason"/>.</summary>
    public IReadOnlyList<HoldReason> HoldReasons { get; private set; } = [];

    /// <summary>The shop's places; empty for one of each kind. See <see cref="ShopPlaces"/>.</summary>
    public IReadOnlyList<ShopPlace> Places { get; private set; } = [];

    /// <summary>Hash of the stored logo for papers; null where there is none.</summary>
    public string? LogoHash { get; private set; }

    public const string DefaultAccent = "#2f6f5e";

    public TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById(TimeZone);

    /// <summary>What a person fills in; names match the API's field names.</summary>
    /// <param name="LongTimerHours">Null: as it is.</param>
    /// <param name="ShiftEndsAt">As <c>17:00</c>; empty for none, null: as it is.</param>
    public sealed record Details(
        string? Name,
        string? LegalName,
        string? Address,
        string? TaxRegistration,
        string? Phone,
        string? Email,
        string? OpeningHours,
        string? TimeZone,
        string? LengthUnit,
        string? Accent,
        bool SelfInspection,
        int? FireWatchMinutes = null,
        int? LongTimerHours = null,
        string? ShiftEndsAt = null
    );

    public static Outcome<Shop> Create(ShopId id, Details details, string? currency)
    {
        var errors = new FieldErrors();
        errors.AddIf(
            !Currency.TryParse(currency, out var money),
            "currency",
            "Give the currency by its three capital letters of ISO 4217, such as EUR, USD or GBP."
        );
        var shop = new Shop { Id = id, Currency = money };
        shop.Read(details, errors);
        return errors.Any ? errors.ToFailure() : shop;
    }

    /// <summary>Changes everything but the currency.</summary>
    public Outcome<Done> Change(Details details)
    {
        var errors = new FieldErrors();
        var trial = new Shop
        {
            Id = Id,
            Currency = Currency,
            FireWatchMinutes = FireWatchMinutes,
            LongTimerHours = LongTimerHours,
            ShiftEndsAt = ShiftEndsAt,
        };
        trial.Read(details, errors);
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        Read(details, errors);
        return Outcome.Ok;
    }

    /// <summary>Puts a logo on the papers, or takes it off.</summary>
    /// <param name="hash">Of the stored picture; null for none.</param>
    public void ShowLogo(string? hash) => LogoHash = hash;

    /// <summary>Takes a list that <see cref="HoldReason.ReadList"/> has checked.</summary>
    public void TakeHoldReasons(IReadOnlyList<HoldReason> reasons) => HoldReasons = reasons;

    /// <summary>Takes a list that <see cref="ShopPlaces.ReadList"/> has checked.</summary>
    public void TakePlaces(IReadOnlyList<ShopPlace> places) => Places = places;

    /// <summary>The local day of an instant in the shop's zone.</summary>
    public DateOnly LocalDay(DateTimeOffset instant) =>
        DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(instant, Zone).DateTime);

    /// <summary>The instant at which a local day begins; where the clocks skip midnight, the first instant that exists.</summary>
    public DateTimeOffset StartOf(DateOnly day) => InstantOf(day, TimeOnly.MinValue);

    /// <summary>The instant at which the shop's clock shows a time of day; see <see cref="LocalClock"/>.</summary>
    public DateTimeOffset InstantOf(DateOnly day, TimeOnly time) => LocalClock.InstantOf(Zone, day, time);

    private void Read(Details details, FieldErrors errors)
    {
        Name = TextRules.Required(details.Name, "name", "The shop's name", TextRules.Name, errors);
        LegalName =
            TextRules.Optional(details.LegalName, "legalName", "The legal name", TextRules.Name, errors) ?? Name;
        Address = TextRules.Optional(details.Address, "address", "The address", 400, errors) ?? "";
        TaxRegistration = TextRules.Optional(
            details.TaxRegistration,
            "taxRegistration",
            "The tax registration",
            TextRules.Code,
            errors
        );
        Phone = TextRules.Optional(details.Phone, "phone", "The phone number", TextRules.Code, errors);
        Email = TextRules.Optional(details.Email, "email", "The e-mail address", TextRules.ShortText, errors);
        OpeningHours = TextRules.Optional(
            details.OpeningHours,
            "openingHours",
            "The opening hours",
            TextRules.ShortText,
            errors
        );
        TimeZone = details.TimeZone?.Trim() ?? "";
        errors.AddIf(
            TimeZone.Length is 0 or > 64 || !TimeZoneInfo.TryFindSystemTimeZoneById(TimeZone, out _),
            "timeZone",
            "Give the time zone by its IANA name, such as Europe/Berlin or America/Denver."
        );
        LengthUnit = details.LengthUnit switch
        {
            "mm" => LengthUnit.Millimetre,
            "inch" => LengthUnit.Inch,
            _ => Wrong(errors, "lengthUnit", "The unit of length is mm or inch.", LengthUnit.Millimetre),
        };
        Accent = string.IsNullOrWhiteSpace(details.Accent) ? DefaultAccent : details.Accent.Trim();
        errors.AddIf(
            !ColourPattern().IsMatch(Accent),
            "accent",
            "Give the colour as # and six hexadecimal digits, such as #2f6f5e."
        );
        SelfInspection = details.SelfInspection;
        FireWatchMinutes = FireWatch.Minutes(
            details.FireWatchMinutes ?? FireWatchMinutes,
            FireWatch.LeastMinutes,
            "fireWatchMinutes",
            errors
        );
        LongTimerHours = details.LongTimerHours ?? LongTimerHours;
        errors.AddIf(
            LongTimerHours is < LongTimers.LeastHours or > LongTimers.MostHours,
            "longTimerHours",
            $"A running timer is asked about after {LongTimers.LeastHours} to {LongTimers.MostHours} hours."
        );
        ShiftEndsAt = ReadShiftEnd(details.ShiftEndsAt, errors);
    }

    private TimeOnly? ReadShiftEnd(string? text, FieldErrors errors)
    {
        if (text is null)
        {
            return ShiftEndsAt;
        }

        if (text.Trim().Length == 0)
        {
            return null;
        }

        var isTime = TimeOnly.TryParseExact(
            text.Trim(),
            "HH:mm",
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var time
        );
        errors.AddIf(!isTime, "shiftEndsAt", "Give the end of the shift as hours and minutes, such as 17:00.");
        return isTime ? time : null;
    }

    private static T Wrong<T>(FieldErrors errors, string path, string text, T stand)
    {
        errors.Add(path, text);
        return stand;
    }

    [GeneratedRegex("^#[0-9a-fA-F]{6}$")]
    private static partial Regex ColourPattern();
}
