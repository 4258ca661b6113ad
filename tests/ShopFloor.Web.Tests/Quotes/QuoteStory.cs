using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Quotes;

/// <summary>What tests of quotes and accounts begin with.</summary>
internal static class QuoteStory
{
    /// <summary>A customer with a car, for tests that begin at the quote.</summary>
    public static Task<(Guid Customer, Guid Car)> CustomerWithCarAsync(
        ShopHost shop,
        string name,
        string registration,
        string? vin = null,
        string? taxExemption = null
    ) =>
        shop.WithAsync<IDbContextFactory<ShopDbContext>, (Guid, Guid)>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync();
            var now = shop.Clock.GetUtcNow();
            var customer = Customer
                .Register(Ids.New<CustomerId>(now), new CustomerDetails(name, TaxExemption: taxExemption), now)
                .Value;
            var car = Car.Register(
                Ids.New<CarId>(now),
                customer.Id,
                new CarDetails("Corvane", "Lynx", 2004, Vin: vin, Registration: registration),
                DateOnly.FromDateTime(now.DateTime),
                now
            ).Value;
            db.AddRange(customer, car);
            await db.SaveChangesAsync();
            return (customer.Id.Value, car.Id.Value);
        });

    /// <summary>The frozen offer as it is stored.</summary>
    public static Task<string> SnapshotAsync(ShopHost shop, Guid quote) =>
        shop.WithAsync<IDbContextFactory<ShopDbContext>, string>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync();
            return (await db.Set<Quote>().SingleAsync(q => q.Id == new QuoteId(quote))).Snapshot!;
        });

    public static object Request(
        (Guid Customer, Guid Car) who,
        object? condition = null,
        decimal? discountPercent = null,
        long? tradeCreditMinor = null
    ) =>
        new
        {
            customerId = who.Customer,
            carId = who.Car,
            kitCode = "six-point-weld-in",
            useCode = "street",
            ruleSetCodes = Array.Empty<string>(),
            doors = new[]
            {
                new { door = "left", hingeOptionCode = "swing-out-pin" },
                new { door = "right", hingeOptionCode = "fixed" },
            },
            condition = condition ?? new { rust = "light" },
            discountPercent,
            tradeCreditMinor,
        };

    public static string Text(this JsonElement element, string property) => element.GetProperty(property).GetString()!;

    public static long Number(this JsonElement element, string property) => element.GetProperty(property).GetInt64();

    public static string ReasonCode(this JsonElement problem) => problem.GetProperty("reasons")[0].Text("code");
}
