using ShopFloor.Application.Common;
using ShopFloor.Application.Intake;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Customers;

/// <summary>What the shop keeps about a customer, for the browser of whoever is signed in.</summary>
public sealed class CustomerExportFile : IEndpoints
{
    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/customers/{id:guid}/all-data.zip", ShowAsync)
            .RequirePermission(Permission.ErasePersonalData)
            .ExcludeFromDescription();

    private static async Task<IResult> ShowAsync(Guid id, HttpContext http, ExportCustomer export) =>
        Answer(http, await export.RunAsync(new CustomerId(id), Actors.Of(http), http.RequestAborted));

    /// <summary>The file as a download that nothing on the way keeps.</summary>
    internal static IResult Answer(HttpContext http, Outcome<Stream> outcome) =>
        outcome.Match(
            stream =>
            {
                http.Response.Headers.CacheControl = "private, no-store";
                return Results.Stream(stream, "application/zip", "customer-data.zip");
            },
            f => f.ToProblem()
        );
}
