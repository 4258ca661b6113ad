using ShopFloor.Application.Common;
using ShopFloor.Application.Diary;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;
using ShopFloor.Web.Api;
using ShopFloor.Web.Features.Week;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Features.Diary;

/// <summary>The front desk's diary: days, appointments, reminders.</summary>
public sealed class DiaryEndpoints : IApiEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/diary", ReadAsync)
            .RequirePermission(Permission.SeeOffice)
            .WithSummary("What is late, whom to call, enquiries, and days with how full they are (from, days).")
            .Produces<DiaryView>();
        api.MapPost("/reminders", WriteAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("Writes a reminder for a day, with or without a job or customer.")
            .Produces<ReminderView>(201);
        api.MapPatch("/reminders/{id:guid}", ChangeAsync)
            .RequirePermission(Permission.BookIn)
            .WithSummary("Moves a reminder, changes its words, ticks it off or takes the tick back.")
            .Produces<ReminderView>();
        MapAppointment(api, "drop-off-appointment", AppointmentKind.DropOff, "the car is brought");
        MapAppointment(api, "collection-appointment", AppointmentKind.Collection, "the car is fetched");
    }

    private static void MapAppointment(RouteGroupBuilder api, string name, AppointmentKind kind, string what)
    {
        api.MapGet(
                $"/jobs/{{id:guid}}/{name}",
                async (Guid id, ApiCall call, AgreeAppointment agree) =>
                    (await agree.ReadAsync(JobId.From(id), kind, call.Actor, call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.SeeOffice)
            .WithSummary($"When {what}, and what the customer said to it.")
            .Produces<AppointmentView>();
        api.MapPut(
                $"/jobs/{{id:guid}}/{name}",
                async (Guid id, ApiCall call, Body<AgreeAppointment.Request> body, AgreeAppointment agree) =>
                    (
                        await agree.RunAsync(JobId.From(id), kind, body.Value, call.Envelope(), call.Cancellation)
                    ).ToHttp()
            )
            .RequirePermission(Permission.BookIn)
            .WithSummary(
                $"Agrees or moves the day on which {what} (time as 08:30, or none); the customer gets it by mail."
            )
            .Produces<AppointmentView>();
        api.MapPost(
                $"/jobs/{{id:guid}}/{name}/confirm",
                async (Guid id, ApiCall call, AgreeAppointment agree) =>
                    (await agree.ConfirmAsync(JobId.From(id), kind, call.Envelope(), call.Cancellation)).ToHttp()
            )
            .RequirePermission(Permission.BookIn)
            .WithSummary($"Notes that the customer confirmed at the desk when {what}.")
            .Produces<AppointmentView>();
    }

    private static async Task<IResult> ReadAsync(string? from, int? days, ApiCall call, ReadDiary read) =>
        WeekEndpoints.TryReadDay(from, out var first)
            ? (await read.RunAsync(first, days, call.Actor, call.Cancellation)).ToHttp()
            : WeekEndpoints.NoDay("from");

    private static async Task<IResult> WriteAsync(
        ApiCall call,
        Body<KeepReminders.WriteRequest> body,
        KeepReminders keep
    ) =>
        (await keep.WriteAsync(body.Value, call.Envelope(), call.Cancellation)).ToCreated(
            _ => $"{EndpointScan.ApiPrefix}/diary",
            r => r
        );

    private static async Task<IResult> ChangeAsync(
        Guid id,
        ApiCall call,
        Body<KeepReminders.ChangeRequest> body,
        KeepReminders keep
    ) => (await keep.ChangeAsync(ReminderId.From(id), body.Value, call.Envelope(), call.Cancellation)).ToHttp();
}
