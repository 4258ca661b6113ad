using ShopFloor.Application.Common;
using ShopFloor.Application.Intake;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Customers;

public sealed class CustomersEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/customers", ListAsync)
            .RequirePermission(Permission.SeeOffice)
            .WithSummary("Customers by name, e-mail or phone.");
        api.MapPost("/customers", RegisterAsync)
            .RequirePermission(Permission.KeepCustomers)
            .WithSummary("Adds a customer.")
            .Produces<CustomerView>(201);
        api.MapGet("/customers/{id:guid}", OneAsync)
            .RequirePermission(Permission.SeeOffice)
            .WithSummary("One customer.")
            .Produces<CustomerView>();
        api.MapPut("/customers/{id:guid}", ChangeAsync)
            .RequirePermission(Permission.KeepCustomers)
            .WithSummary("Replaces a customer's details.")
            .Produces<CustomerView>();
        api.MapPost("/customers/import/preview", PreviewAsync)
            .RequirePermission(Permission.KeepCustomers)
            .WithSummary("Says what a CSV file of customers and cars would add; changes nothing.")
            .Produces<ImportedCustomers>();
        api.MapPost("/customers/import", ImportAsync)
            .RequirePermission(Permission.KeepCustomers)
            .WithSummary("Takes over a CSV file of customers and cars: all of it or nothing.")
            .Produces<ImportedCustomers>();
        api.MapGet("/customers/{id:guid}/export", ExportAsync)
            .RequirePermission(Permission.ErasePersonalData)
            .WithSummary("All that the shop keeps about a customer, as a ZIP archive to hand to them.");
        api.MapPost("/customers/{id:guid}/erase", EraseAsync)
            .RequirePermission(Permission.ErasePersonalData)
            .WithSummary("Forgets a customer's personal data for good; jobs, papers, events and hashes stay.")
            .Produces<CustomerView>();
    }

    private static async Task<IResult> PreviewAsync(
        ApiCall call,
        Body<ImportCustomers.Request> body,
        ImportCustomers import
    ) => (await import.PreviewAsync(body.Value, call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ImportAsync(
        ApiCall call,
        Body<ImportCustomers.Request> body,
        ImportCustomers import
    ) => (await import.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> ExportAsync(Guid id, HttpContext http, ApiCall call, ExportCustomer export) =>
        CustomerExportFile.Answer(http, await export.RunAsync(new CustomerId(id), call.Actor, call.Cancellation));

    private static async Task<IResult> EraseAsync(
        Guid id,
        ApiCall call,
        Body<EraseCustomer.Request> body,
        EraseCustomer erase
    ) => (await erase.RunAsync(new CustomerId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> ListAsync(
        ApiCall call,
        ReadCustomers read,
        string? search,
        int? page,
        int? pageSize
    ) =>
        PageRequest.Read(page, pageSize).TryGet(out var wanted, out var failure)
            ? (await read.ListAsync(search, wanted, call.Actor, call.Cancellation)).ToHttp()
            : failure.ToProblem();

    private static async Task<IResult> RegisterAsync(
        ApiCall call,
        Body<CustomerDetails> body,
        RegisterCustomer register
    ) =>
        (await register.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(c =>
            $"{EndpointScan.ApiPrefix}/customers/{c.Id}"
        );

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, ReadCustomers read) =>
        (await read.OneAsync(new CustomerId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ChangeAsync(
        Guid id,
        ApiCall call,
        Body<CustomerDetails> body,
        ChangeCustomer change
    ) => (await change.RunAsync(new CustomerId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
