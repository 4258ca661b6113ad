using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>A car as typed in; <see cref="Car"/> checks it.</summary>
/// <param name="Make">Needed.</param>
/// <param name="Model">Needed.</param>
/// <param name="ModelYear">Needed; from 1920 to next year.</param>
/// <param name="Vin">Any chassis number up to 32 characters; 49 CFR 565 applies where 17 are entered.</param>
/// <param name="Registration">As on the number plate.</param>
/// <param name="OdometerKm">Whole kilometres.</param>
/// <param name="BuiltForNorthAmerica">Absent: taken from the first character of a VIN, else false.</param>
/// <param name="Facts">Absent: nothing has been asked yet.</param>
public sealed record CarDetails(
    string? Make,
    string? Model,
    int? ModelYear,
    string? Vin = null,
    string? Registration = null,
    int? OdometerKm = null,
    bool? BuiltForNorthAmerica = null,
    CarFacts? Facts = null
);

/// <summary>The vehicle. It belongs to one customer at a time.</summary>
public sealed class Car : IVersioned
{
    /// <summary>Oldest model year that is taken; older cars are museum pieces and a typing slip is likelier.</summary>
    public const int FirstModelYear = 1920;
    public const int RegistrationLength = 20;

    /// <summary>Facts of a car about which nothing has been asked yet.</summary>
    public static readonly CarFacts UnknownFacts = new(
        Body.Unknown,
        SteeringSide.Left,
        Energy.Petrol,
        Airbags.Unknown,
        TankPosition.Unknown,
        RearSeatsUsed: true
    );

    private Car() { }

    public CarId Id { get; private set; }

    public CustomerId CustomerId { get; private set; }

    public string Make { get; private set; } = "";

    public string Model { get; private set; } = "";

    public int ModelYear { get; private set; }

    public ChassisNumber? ChassisNumber { get; private set; }

    public string? Registration { get; private set; }

    /// <summary>Latest known reading, km.</summary>
    public int? OdometerKm { get; private set; }

    public bool BuiltForNorthAmerica { get; private set; }

    public CarFacts Facts { get; private set; } = UnknownFacts;

    /// <summary>Upper-case make, model, year, registration and chassis number for searching.</summary>
    public string SearchText { get; private set; } = "";

    public DateTimeOffset RegisteredAt { get; private set; }

    public long Version { get; private set; }

    /// <summary>"2004 Corvus Lynx": how the car is called in lists.</summary>
    public string Title => $"{ModelYear} {Make} {Model}";

    /// <summary>What to tell the person who entered the car; none of it blocks.</summary>
    public IReadOnlyList<Reason> Warnings => ChassisNumber?.Warnings(ModelYear, BuiltForNorthAmerica) ?? [];

    /// <summary>A new car, or what is wrong with the details. Model years run one ahead of the calendar, hence <paramref name="today"/>.</summary>
    public static Outcome<Car> Register(
        CarId id,
        CustomerId customerId,
        CarDetails details,
        DateOnly today,
        DateTimeOffset at
    )
    {
        var car = new Car
        {
            Id = id,
            CustomerId = customerId,
            RegisteredAt = at,
        };
        var applied = car.Apply(details, today);
        return applied.IsSuccess ? car : applied.Failure;
    }

    /// <summary>Replaces all details.</summary>
    public Outcome<Done> Change(CarDetails details, DateOnly today) => Apply(details, today);

    /// <summary>The car now belongs to somebody else.</summary>
    public void MoveTo(CustomerId customerId) => CustomerId = customerId;

    /// <summary>Takes the reading of a drop-off or hand-over, which its own record has checked.</summary>
    public void ReadOdometer(int km) => OdometerKm = km;

    /// <summary>What was seen at the counter.</summary>
    public void TakeFacts(CarFacts facts) => Facts = facts;

    /// <summary>Forgets the registration, which leads to a person. The chassis number stays: welded work must remain traceable to its car.</summary>
    public void EraseRegistration()
    {
        Registration = null;
        SearchText = BuildSearchText();
    }

    private Outcome<Done> Apply(CarDetails details, DateOnly today)
    {
        var errors = new FieldErrors();
        var make = TextRules.Required(details.Make, "make", "The make", TextRules.Name, errors);
        var model = TextRules.Required(details.Model, "model", "The model", TextRules.Name, errors);
        var registration = TextRules.Optional(
            details.Registration,
            "registration",
            "The registration",
            RegistrationLength,
            errors
        );
        var odometer = Odometer.Check(details.OdometerKm, "odometerKm", errors);
        CheckYear(details.ModelYear, today, errors);
        ChassisNumber? chassis = null;
        if (!string.IsNullOrWhiteSpace(details.Vin))
        {
            var parsed = Intake.ChassisNumber.Parse(details.Vin, "vin");
            errors.Take(parsed);
            chassis = parsed.IsSuccess ? parsed.Value : null;
        }

        if (errors.Any)
        {
            return errors.ToFailure();
        }

        Make = make;
        Model = model;
        ModelYear = details.ModelYear!.Value;
        ChassisNumber = chassis;
        Registration = registration?.ToUpperInvariant();
        OdometerKm = odometer;
        BuiltForNorthAmerica = details.BuiltForNorthAmerica ?? chassis?.Vin?.IsNorthAmericanMaker ?? false;
        Facts = details.Facts ?? UnknownFacts;
        SearchText = BuildSearchText();
        return Outcome.Ok;
    }

    private static void CheckYear(int? year, DateOnly today, FieldErrors errors)
    {
        var last = today.Year + 1;
        if (year is null)
        {
            errors.Add("modelYear", "The model year is needed.");
        }
        else if (year < FirstModelYear || year > last)
        {
            errors.Add(
                "modelYear",
                $"The model year {year} is outside {FirstModelYear} to {last}. Take it from the papers."
            );
        }
    }

    private string BuildSearchText() =>
        TextRules.SearchForm(
            Make,
            Model,
            ModelYear.ToString(System.Globalization.CultureInfo.InvariantCulture),
            Registration,
            ChassisNumber?.Text
        );
}
