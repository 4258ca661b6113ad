using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Calculators;

/// <summary>The three-point calculator: hours with their range.</summary>
public sealed class ThreePointEndpoint : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api) =>
        api.MapPost("/calculators/three-point", Calculate)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("Sums low, likely and high hours; nothing is stored.")
            .Produces<ThreePointResult>();

    public sealed record ItemBody(double? LowHours, double? LikelyHours, double? HighHours);

    public sealed record ThreePointBody([property: AtMost(ThreePoint.MostItems)] IReadOnlyList<ItemBody?>? Items);

    private static IResult Calculate(ApiCall call, Body<ThreePointBody> body)
    {
        var errors = new FieldErrors();
        errors.AddIf(body.Value.Items is null, "items", "The items are needed.");
        var items = (body.Value.Items ?? [])
            .Take(ThreePoint.MostItems + 1)
            .Select((item, i) => Item(item, $"items[{i}]", errors))
            .ToList();
        return errors.Any ? errors.ToFailure().ToProblem() : ThreePoint.Calculate(items).ToHttp();
    }

    private static ThreePointItem Item(ItemBody? item, string path, FieldErrors errors)
    {
        errors.AddIf(item?.LowHours is null, path + ".lowHours", "The low hours are needed.");
        errors.AddIf(item?.LikelyHours is null, path + ".likelyHours", "The likely hours are needed.");
        errors.AddIf(item?.HighHours is null, path + ".highHours", "The high hours are needed.");
        return new ThreePointItem(item?.LowHours ?? 0, item?.LikelyHours ?? 0, item?.HighHours ?? 0);
    }
}
