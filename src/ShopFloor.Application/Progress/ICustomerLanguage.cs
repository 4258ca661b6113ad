using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Progress;

/// <summary>Knows the language that a customer has chosen. What it says goes before what the customer's browser asks for.</summary>
public interface ICustomerLanguage : IHook
{
    /// <summary>An ISO 639-1 code such as <c>de</c>; null where nothing was chosen.</summary>
    Task<string?> OfAsync(ShopDbContext db, CustomerId customer, CancellationToken ct);
}

internal static class CustomerLanguages
{
    /// <summary>What the first who knows it says.</summary>
    public static async Task<string?> ChosenAsync(
        this IEnumerable<ICustomerLanguage> languages,
        ShopDbContext db,
        CustomerId customer,
        CancellationToken ct
    )
    {
        foreach (var language in languages)
        {
            if (await language.OfAsync(db, customer, ct) is { } chosen)
            {
                return chosen;
            }
        }

        return null;
    }
}
