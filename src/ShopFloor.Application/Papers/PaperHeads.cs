using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Data;
using ShopFloor.Documents.Papers.Models;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Papers;

/// <summary>A paper as downloaded.</summary>
public sealed record PrintedPaper(ReadOnlyMemory<byte> Content, string FileName);

/// <summary>The parts that all papers about money share: shop, customer, car, how the sheet is set.</summary>
public sealed class PaperHeads(IFileStore files) : IUseCase
{
    /// <summary>The shop with its logo; a logo whose file is gone is left out.</summary>
    internal async Task<PaperShop> LetterheadAsync(Shop shop, CancellationToken ct)
    {
        var logo = shop.LogoHash is { } hash ? await files.ReadAsync(hash, ct) : null;
        return logo is null ? Of(shop) : Of(shop) with { Logo = logo.Bytes };
    }

    internal static PaperShop Of(Shop shop) =>
        new(
            shop.Name,
            shop.LegalName == shop.Name ? null : shop.LegalName,
            Lines(shop.Address),
            shop.TaxRegistration,
            shop.Email,
            shop.Phone
        );

    /// <summary>Who the paper is addressed to: the payer where there is one.</summary>
    internal static PaperParty Of(Customer customer) =>
        customer.Payer is { } payer
            ? new(payer.Name, payer.AddressLines, payer.TaxNumber)
            : new(customer.Name, customer.AddressLines, customer.TaxNumber);

    /// <summary>The car, or what is sold without one.</summary>
    internal static PaperCar Of(Car? car, string withoutCar) => car is null ? new(withoutCar, null, null) : Of(car);

    internal static PaperCar Of(Car car) => new(car.Title, car.ChassisNumber?.Text, car.Registration);

    /// <summary>Inch shops print on Letter with American dates, all others on A4.</summary>
    internal static PaperSettings SettingsOf(Shop shop, PaperSize? size, DateTimeOffset now)
    {
        var isInch = shop.LengthUnit == LengthUnit.Inch;
        return new PaperSettings(
            size ?? (isInch ? PaperSize.Letter : PaperSize.A4),
            TimeZoneInfo.ConvertTime(now, shop.Zone),
            isInch ? "en-US" : "en-GB"
        );
    }

    /// <summary>Shop, customer and car; the car is null where a kit is sent or a part comes without it.</summary>
    internal static async Task<(Shop Shop, Customer Customer, Car? Car)> ReadAsync(
        ShopDbContext db,
        CustomerId customer,
        CarId? car,
        CancellationToken ct
    ) =>
        (
            await db.Shops.SingleAsync(ct),
            await db.Set<Customer>().SingleAsync(c => c.Id == customer, ct),
            car is null ? null : await db.Set<Car>().SingleAsync(c => c.Id == car, ct)
        );

    private static string[] Lines(string text) =>
        text.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
}
