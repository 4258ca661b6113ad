using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.DropOffs;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.DropOffs;

/// <summary>The authorisation sheet for the browser of whoever is signed in.</summary>
public sealed class AuthorisationSheetFile : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/jobs/{id:guid}/authorisation-sheet.pdf", ShowAsync)
            .RequirePermission(Permission.BookIn)
            .ExcludeFromDescription();

    private static async Task<IResult> ShowAsync(Guid id, HttpContext http, PrintAuthorisation print) =>
        (await print.RunAsync(new JobId(id), Actors.Of(http), http.RequestAborted)).Match(
            pdf => Results.File(pdf, "application/pdf"),
            f => f.ToProblem()
        );
}
