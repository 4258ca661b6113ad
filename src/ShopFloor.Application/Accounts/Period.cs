using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>Local days from the first to the last, both counted.</summary>
public sealed record Period(DateOnly From, DateOnly To)
{
    private const int MostYears = 6;

    /// <summary>Reads a period; it has at most six years.</summary>
    public static Outcome<Period> Read(DateOnly? from, DateOnly? to)
    {
        var errors = new FieldErrors();
        errors.AddIf(from is null, "from", "Give the first day as YYYY-MM-DD, such as 2026-01-01.");
        errors.AddIf(to is null, "to", "Give the last day as YYYY-MM-DD, such as 2026-03-31.");
        errors.AddIf(from > to, "to", "The last day lies before the first.");
        errors.AddIf(
            from is { } f && to is { } t && f <= t && f.Year + MostYears < t.Year,
            "to",
            $"The period has more than {MostYears} years; take a shorter one."
        );
        return errors.Any ? errors.ToFailure() : new Period(from!.Value, to!.Value);
    }
}
