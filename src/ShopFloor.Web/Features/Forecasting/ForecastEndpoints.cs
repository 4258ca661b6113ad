using ShopFloor.Application.Common;
using ShopFloor.Application.Forecasting;
using ShopFloor.Application.Learning;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Calculators;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Forecasting;

/// <summary>When cars will be done, how good such forecasts were, and what logged hours say of the labour standards.</summary>
public sealed class ForecastEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet(
                "/forecasts",
                async (ApiCall call, ReadForecasts read) =>
                    (await read.AllAsync(call.Actor, call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.SeeOffice)
            .WithSummary("The newest forecast of each open car, and how many finished cars kept theirs.")
            .Produces<ForecastsView>();
        api.MapPost("/forecasts", MakeAsync)
            .RequirePermission(Permission.RunJobs)
            .WithSummary("Plays the coming weeks through (trials, seed) and keeps a forecast for each open car.")
            .Produces<MakeForecast.Made>();
        api.MapGet(
                "/jobs/{id:guid}/forecast",
                async (Guid id, ApiCall call, ReadForecasts read) =>
                    (await read.OfJobAsync(JobId.From(id), call.Actor, call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.SeeOffice)
            .WithSummary("When this car will be done: P50 and P85 days, and the chance that its promise is kept.")
            .Produces<ForecastView>();
        api.MapGet(
                "/labour-learning",
                async (ApiCall call, LabourLearning learning) =>
                    (await learning.ReadAsync(call.Actor, call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.RunShop)
            .WithSummary(
                "What logged hours say of the labour standards in force, with evidence and effect on open drafts."
            )
            .Produces<LearningView>();
        api.MapPost(
                "/labour-learning/accept",
                async (ApiCall call, Body<LabourLearning.AcceptRequest> body, LabourLearning learning) =>
                    (await learning.AcceptAsync(body.Value, call.Envelope(), call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.RunShop)
            .WithSummary("Takes proposals (keys) into a new edition of the price book, in force from today.")
            .Produces<LabourLearning.Accepted>();
    }

    private static async Task<IResult> MakeAsync(
        ApiCall call,
        Body<MakeForecast.Request> body,
        MakeForecast make,
        HttpContext http
    ) =>
        (await make.RunAsync(body.Value, call.Envelope(), null, call.Cancellation)).ToHttp(
            http,
            outcome => outcome.ToHttp()
        );
}
