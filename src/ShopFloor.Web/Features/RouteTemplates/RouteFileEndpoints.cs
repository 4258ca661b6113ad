using System.Text;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Routing;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.RouteTemplates;

/// <summary>Route templates as files.</summary>
public sealed class RouteFileEndpoints : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/route-templates/{code}/edition.json", EditionAsync).RequirePermission(Permission.SeeOffice);
        app.MapGet("/route-templates/{code}/draft.json", DraftAsync).RequirePermission(Permission.DecideOnRoutes);
    }

    private static async Task<IResult> EditionAsync(
        HttpContext http,
        string code,
        int? edition,
        ReadRouteTemplates read,
        CancellationToken ct
    ) => (await read.OneAsync(code, edition, Actors.Of(http), ct)).Match(v => File(v.Template), f => f.ToProblem());

    private static async Task<IResult> DraftAsync(
        HttpContext http,
        string code,
        ReadRouteTemplates read,
        CancellationToken ct
    ) => (await read.DraftAsync(code, Actors.Of(http), ct)).Match(v => File(v.Template), f => f.ToProblem());

    private static IResult File(RouteTemplate template) =>
        Results.File(
            Encoding.UTF8.GetBytes(RouteTemplateJson.Write(template)),
            "application/json",
            $"{template.Code}-{template.Edition}.json"
        );
}
