using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Cars;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Cars;

public sealed class CarsEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/cars", ListAsync)
            .RequirePermission(Permission.SeeOffice)
            .WithSummary("Cars by make, model, year, registration, chassis number or owner, newest first.");
        api.MapPost("/cars", RegisterAsync)
            .RequirePermission(Permission.KeepCustomers)
            .WithSummary("Adds a car of a customer.")
            .Produces<CarView>(201);
        api.MapGet("/cars/{id:guid}", OneAsync)
            .RequirePermission(Permission.SeeOffice)
            .WithSummary("One car.")
            .Produces<CarView>();
        api.MapPut("/cars/{id:guid}", ChangeAsync)
            .RequirePermission(Permission.KeepCustomers)
            .WithSummary("Replaces a car's details; another customer means that it was sold.")
            .Produces<CarView>();
    }

    private static async Task<IResult> ListAsync(
        ApiCall call,
        FindCars find,
        string? search,
        Guid? customerId,
        int? page,
        int? pageSize
    ) =>
        PageRequest.Read(page, pageSize).TryGet(out var wanted, out var failure)
            ? (
                await find.RunAsync(
                    search,
                    customerId is { } owner ? new CustomerId(owner) : null,
                    wanted,
                    call.Actor,
                    call.Cancellation
                )
            ).ToHttp()
            : failure.ToProblem();

    private static async Task<IResult> RegisterAsync(ApiCall call, Body<CarInput> body, RegisterCar register) =>
        (await register.RunAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(c =>
            $"{EndpointScan.ApiPrefix}/cars/{c.Id}"
        );

    private static async Task<IResult> OneAsync(Guid id, ApiCall call, GetCar get) =>
        (await get.RunAsync(new CarId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ChangeAsync(Guid id, ApiCall call, Body<CarInput> body, ChangeCar change) =>
        (await change.RunAsync(new CarId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
