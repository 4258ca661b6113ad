using ShopFloor.Application.Common;
using ShopFloor.Application.Inspection;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Inspection;

/// <summary>Faults, what is done about them, and their causes over time.</summary>
public sealed class NonconformanceEndpoints : IApiEndpoints
{
    /// <summary>Months that are read where none are asked for.</summary>
    public const int UsualMonths = 12;

    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/reports/nonconformances", ReportAsync)
            .RequirePermission(Permission.SeeFigures)
            .WithSummary("Nonconformances of the last months and how often each cause came up.")
            .Produces<FaultReport>();
        api.MapPost("/jobs/{id:guid}/nonconformances/{number:int}/describe", DescribeAsync)
            .RequirePermission(Permission.Inspect)
            .WithSummary("Says what a fault is and its cause, and adds photos.")
            .Produces<NonconformanceView>();
        api.MapPost("/jobs/{id:guid}/nonconformances/{number:int}/decide", DecideAsync)
            .RequirePermission(Permission.OrderRework)
            .WithSummary("Decides: rework (put on the route), reject, or accept as it is (the owner only).")
            .Produces<NonconformanceView>();
    }

    private static async Task<IResult> ReportAsync(ApiCall call, ReadNonconformances read, int? months) =>
        (await read.RunAsync(months ?? UsualMonths, call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> DescribeAsync(
        Guid id,
        int number,
        ApiCall call,
        Body<DescribeNonconformance.Request> body,
        DescribeNonconformance describe
    ) => (await describe.RunAsync(JobId.From(id), number, body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> DecideAsync(
        Guid id,
        int number,
        ApiCall call,
        Body<DecideNonconformance.Request> body,
        DecideNonconformance decide
    ) => (await decide.RunAsync(JobId.From(id), number, body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
