using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Decisions;
using ShopFloor.Application.Diary;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Decisions;
using ShopFloor.Domain.Diary;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Messages;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Messages;

/// <summary>The link on which the customer answers what a message asks: whether the time suits, or when a part comes. Agreeing on the time, or waiting for the part, is what releases it.</summary>
public sealed class AnswerMessageLink(PublicAddress address) : IMessageLink
{
    public IReadOnlyCollection<MessageKind> Kinds { get; } =
    [MessageKind.BookedIn, MessageKind.CollectionAgreed, MessageKind.WaitingForPart];

    public string Placeholder => MessageKinds.Confirm.Name;

    public async Task<string?> IssueAsync(CommandScope scope, OutboxMessage message)
    {
        ArgumentNullException.ThrowIfNull(scope);
        ArgumentNullException.ThrowIfNull(message);
        var about =
            message.Kind == MessageKind.WaitingForPart
                ? await PartAsync(scope, CustomerPartId.From(message.SubjectId))
                : await TimeAsync(scope, JobId.From(message.SubjectId), KindOf(message.Kind));
        if (about is not var (kind, job, subject, days))
        {
            return null;
        }

        var customer = await scope
            .Db.Set<Job>()
            .Where(j => j.Id == job)
            .Select(j => j.CustomerId)
            .SingleAsync(scope.Cancellation);
        var made = DecisionLink.Create(kind, customer, job, [subject], days, scope.Now).Value;
        scope.Db.Add(made.Link);
        scope.Record(DecisionEvents.Of("decisionLink.created", made.Link));
        return $"{address.Root}/d/{made.Token}";
    }

    private static AppointmentKind KindOf(MessageKind kind) =>
        kind == MessageKind.BookedIn ? AppointmentKind.DropOff : AppointmentKind.Collection;

    /// <summary>Until the day itself, as far as a link may live.</summary>
    private static int Days(DateOnly day, DateOnly today) =>
        Math.Clamp(day.DayNumber - today.DayNumber + 1, DecisionLink.DefaultDays, DecisionLink.MostDays);

    private static async Task<(DecisionKind, JobId, Guid, int)?> TimeAsync(
        CommandScope scope,
        JobId job,
        AppointmentKind kind
    )
    {
        var today = (await scope.ShopAsync()).LocalDay(scope.Now);
        return
            await AppointmentBook.FindAsync(scope.Db, job, kind, scope.Cancellation) is { } time
            && await AppointmentBook.WhyOverAsync(scope.Db, time, today, scope.Cancellation) is null
            ? (DecisionKind.Appointment, job, time.Id.Value, Days(time.Day, today))
            : null;
    }

    private static async Task<(DecisionKind, JobId, Guid, int)?> PartAsync(CommandScope scope, CustomerPartId id) =>
        await scope
            .Db.Set<CustomerPart>()
            .SingleOrDefaultAsync(p => p.Id == id && p.State == CustomerPartState.Awaited, scope.Cancellation)
            is { } part
            ? (DecisionKind.PartDay, part.JobId, id.Value, DecisionLink.DefaultDays)
            : null;
}
