using ShopFloor.Application.Common;
using ShopFloor.Application.Planning;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Week;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Planning;

/// <summary>The plan of the coming weeks, what is wished of it, and the hours it is made from.</summary>
public sealed class PlanEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/plan", ReadAsync)
            .RequirePermission(Permission.SeeOffice)
            .WithSummary("The plan that stands: days, cars, load of the weeks, what it takes for granted.")
            .Produces<PlanView>();
        api.MapPost("/plan/runs", AskAsync)
            .RequirePermission(Permission.RunJobs)
            .WithSummary("Asks for a new plan, made in the background.")
            .Produces<PlanRunView>(StatusCodes.Status202Accepted);
        api.MapGet("/plan/runs/{id:guid}", RunAsync)
            .RequirePermission(Permission.SeeOffice)
            .WithSummary("How far a plan is, and how good it is known to be.")
            .Produces<PlanRunView>();
        api.MapPost("/plan/runs/{id:guid}/cancel", CancelAsync)
            .RequirePermission(Permission.RunJobs)
            .WithSummary("Stops looking; the best plan found until then stands.")
            .Produces<PlanRunView>();
        api.MapPut("/plan/jobs/{id:guid}", PressAsync)
            .RequirePermission(Permission.RunJobs)
            .WithSummary("How pressing a job is, from 1 (can wait) to 5.")
            .Produces<PlanWishesView>();
        api.MapPut("/plan/jobs/{id:guid}/operations/{code}", WishAsync)
            .RequirePermission(Permission.RunJobs)
            .WithSummary(
                "Who does an operation, not before which day, or exactly when it begins; all absent removes the wish."
            )
            .Produces<PlanWishesView>();
        api.MapGet("/plan/what-if", WhatIfAsync)
            .RequirePermission(Permission.SeeMoney)
            .WithSummary("When the car of a quote would be ready if it came on a day, without moving any other.")
            .Produces<WhatIfView>();
        api.MapGet("/shop/hours", HoursAsync)
            .RequirePermission(Permission.SeeOffice)
            .WithSummary("When the shop works, its closed days, and which places share a room.")
            .Produces<ShopHoursView>();
        api.MapPut("/shop/hours", ChangeHoursAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Changes the shop's hours, closed days and rooms.")
            .Produces<ShopHoursView>();
        api.MapGet("/people/hours", PeopleAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Skills, hours and days off of everybody.");
        api.MapPut("/people/{id:guid}/hours", ChangePersonAsync)
            .RequirePermission(Permission.RunShop)
            .WithSummary("Changes the skills, hours and days off of one person.")
            .Produces<PersonHoursView>();
    }

    /// <summary>A wish as it is sent; the operation is in the address.</summary>
    public sealed record WishRequest(Guid? PersonId = null, DateOnly? NotBefore = null, DateTimeOffset? At = null);

    private static async Task<IResult> ReadAsync(ApiCall call, ReadPlan read) =>
        (await read.RunAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> AskAsync(ApiCall call, Body<AskForPlan.Request> body, AskForPlan ask) =>
        (await ask.RunAsync(body.Value, call.Envelope(), call.Cancellation)).Match(
            v => Results.Accepted($"/api/v1/plan/runs/{v.Id}", v),
            f => f.ToProblem()
        );

    private static async Task<IResult> RunAsync(Guid id, ApiCall call, ReadPlan read) =>
        (await read.RunOfAsync(new PlanRunId(id), call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> CancelAsync(Guid id, ApiCall call, AskForPlan ask) =>
        (await ask.CancelAsync(new PlanRunId(id), call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> PressAsync(
        Guid id,
        ApiCall call,
        Body<ChangePlanWishes.Press> body,
        ChangePlanWishes change
    ) => (await change.PressAsync(new JobId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> WishAsync(
        Guid id,
        string code,
        ApiCall call,
        Body<WishRequest> body,
        ChangePlanWishes change
    )
    {
        var person = body.Value.PersonId is { } who ? new PersonId(who) : (PersonId?)null;
        var wish = new OperationWish(code, person, body.Value.NotBefore, body.Value.At);
        return (await change.WishAsync(wish, new JobId(id), call.Envelope(), call.Cancellation)).ToHttp();
    }

    private static async Task<IResult> WhatIfAsync(ApiCall call, WhatIfCar whatIf, Guid? quoteId, string? day)
    {
        if (quoteId is not { } quote)
        {
            return Failure.Field("quoteId", "Name the quote whose car would come.").ToProblem();
        }

        return WeekEndpoints.TryReadDay(day, out var on)
            ? (await whatIf.RunAsync(new QuoteId(quote), on, call.Actor, call.Cancellation)).ToHttp()
            : Failure.Field("day", "Give the day as YYYY-MM-DD, such as 2026-03-02.").ToProblem();
    }

    private static async Task<IResult> HoursAsync(ApiCall call, KeepShopHours keep) =>
        (await keep.ReadAsync(call.Actor, call.Cancellation)).ToHttp();

    private static async Task<IResult> ChangeHoursAsync(
        ApiCall call,
        Body<ShopHours.Details> body,
        KeepShopHours keep
    ) => (await keep.ChangeAsync(body.Value, call.Envelope(), call.Cancellation)).ToHttp();

    private static async Task<IResult> PeopleAsync(ApiCall call, KeepPersonHours keep) =>
        (await keep.ReadAsync(call.Actor, call.Cancellation)).ToHttp(items => new { items });

    private static async Task<IResult> ChangePersonAsync(
        Guid id,
        ApiCall call,
        Body<PersonHours.Details> body,
        KeepPersonHours keep
    ) => (await keep.ChangeAsync(new PersonId(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
