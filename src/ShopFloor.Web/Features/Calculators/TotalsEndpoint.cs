using System.Text.Json.Serialization;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Calculators;

/// <summary>The totals calculator: the same code that adds up quotes and invoices.</summary>
public sealed class TotalsEndpoint : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api) =>
        api.MapPost("/calculators/totals", Calculate)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Adds up lines, discount, taxes and trade credit; nothing is stored.")
            .Produces<TotalsResult>();

    public sealed record LineBody(
        string? Description,
        [property: JsonConverter(typeof(ExactDecimal))] decimal? Quantity,
        long? UnitPriceMinor,
        IReadOnlyList<string?>? TaxCodes
    );

    public sealed record TaxBody(string? Code, [property: JsonConverter(typeof(ExactDecimal))] decimal? RatePercent);

    public sealed record TotalsBody(
        string? Currency,
        string? Rounding,
        string? TaxPer,
        bool? PricesIncludeTax,
        [property: AtMost(TotalsRules.MostLines)] IReadOnlyList<LineBody?>? Lines,
        [property: JsonConverter(typeof(ExactDecimal))] decimal? DiscountPercent,
        long? DiscountMinor,
        [property: AtMost(TotalsRules.MostTaxes)] IReadOnlyList<TaxBody?>? Taxes,
        long? TradeCreditMinor
    );

    private static IResult Calculate(ApiCall call, Body<TotalsBody> body) =>
        Read(body.Value).Then(TotalsCalculator.Calculate).ToHttp();

    private static Outcome<TotalsRequest> Read(TotalsBody body)
    {
        var errors = new FieldErrors();
        errors.AddIf(
            !Currency.TryParse(body.Currency, out var currency),
            "currency",
            "Give the currency by its three capital letters of ISO 4217, such as EUR, USD or GBP."
        );
        errors.AddIf(
            body.Rounding is not (null or "halfUp" or "halfEven"),
            "rounding",
            "Rounding is 'halfUp' or 'halfEven'."
        );
        errors.AddIf(body.TaxPer is not (null or "invoice" or "line"), "taxPer", "Tax is per 'invoice' or per 'line'.");
        errors.AddIf(body.Lines is null, "lines", "The lines are needed.");
        errors.AddIf(body.Taxes is null && AnyTaxCode(body), "taxes", "The taxes that lines carry are needed.");
        var lines = (body.Lines ?? []).Take(TotalsRules.MostLines + 1).Select((l, i) => Line(l, i, errors)).ToList();
        var taxes = (body.Taxes ?? []).Take(TotalsRules.MostTaxes + 1).Select((t, i) => Tax(t, i, errors)).ToList();
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        return new TotalsRequest(
            currency,
            body.Rounding == "halfEven" ? MoneyRounding.HalfEven : MoneyRounding.HalfUp,
            body.TaxPer == "line" ? TaxPer.Line : TaxPer.Invoice,
            body.PricesIncludeTax ?? false,
            lines,
            new Discount(body.DiscountPercent, body.DiscountMinor),
            taxes,
            body.TradeCreditMinor ?? 0
        );
    }

    private static bool AnyTaxCode(TotalsBody body) => (body.Lines ?? []).Any(l => l?.TaxCodes is { Count: > 0 });

    private static TotalsLine Line(LineBody? line, int index, FieldErrors errors)
    {
        var path = $"lines[{index}]";
        errors.AddIf(line?.Description is null, path + ".description", "The description is needed.");
        errors.AddIf(line?.Quantity is null, path + ".quantity", "The quantity is needed.");
        errors.AddIf(line?.UnitPriceMinor is null, path + ".unitPriceMinor", "The unit price is needed.");
        var codes = line?.TaxCodes ?? [];
        for (var j = 0; j < codes.Count; j++)
        {
            errors.AddIf(codes[j] is null, $"{path}.taxCodes[{j}]", "A tax code is a text.");
        }

        return new TotalsLine(
            line?.Description ?? "",
            line?.Quantity ?? 0,
            line?.UnitPriceMinor ?? 0,
            [.. codes.OfType<string>()]
        );
    }

    private static TaxRate Tax(TaxBody? tax, int index, FieldErrors errors)
    {
        errors.AddIf(tax?.Code is null, $"taxes[{index}].code", "The tax code is needed.");
        errors.AddIf(tax?.RatePercent is null, $"taxes[{index}].ratePercent", "The rate is needed.");
        return new TaxRate(tax?.Code ?? "", tax?.RatePercent ?? 0);
    }
}
