using ShopFloor.Application.Common;
using ShopFloor.Application.RuleSets;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.RuleSets;

public sealed class RuleSetsEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/rule-sets", List)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("The rule sets a car can be built to, with their figures, clauses and marks.");
        api.MapGet("/rule-sets/{code}", One)
            .RequirePermission(Permission.SeeFloor)
            .WithSummary("One rule set.")
            .Produces<RuleSetView>();
    }

    private static IResult List(ApiCall call, ListRuleSets list) =>
        list.Run(call.Actor)
            .ToHttp(items => new
            {
                items,
                page = 1,
                pageSize = PageRequest.LargestSize,
                totalCount = items.Count,
            });

    private static IResult One(string code, ApiCall call, GetRuleSet get) => get.Run(code, call.Actor).ToHttp();
}
