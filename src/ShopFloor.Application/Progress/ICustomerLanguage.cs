using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Progress;

/// <summary>Knows the language that a customer has chosen. What it says goes before what the customer's browser asks for.</summary>
public interface ICustomerLanguage : IHook
{
    /// <summary>An ISO 639-1 code such as <c>de</c>; null where nothing was chosen.</summary>
    Task<string?> OfAsync(ShopDbContext db, Job job, CancellationToken ct);
}
