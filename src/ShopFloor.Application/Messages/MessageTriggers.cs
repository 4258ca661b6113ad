using ShopFloor.Application.Diary;
using ShopFloor.Data.History;
using ShopFloor.Domain.Messages;

namespace ShopFloor.Application.Messages;

/// <summary>Which events cause a message. The message is noted by <see cref="Common.CommandScope"/> in the transaction that writes the event, with ids only, so that neither can be without the other.</summary>
internal static class MessageTriggers
{
    public static OutboxMessage? Of(EventRow row) =>
        row.Type switch
        {
            "quote.sent" => Due(MessageKind.QuoteSent, row),
            "quote.accepted" => Due(MessageKind.QuoteAccepted, row),
            AppointmentBook.DropOffAgreed or AppointmentBook.DropOffMoved => DueOfJob(MessageKind.BookedIn, row),
            AppointmentBook.CollectionAgreed or AppointmentBook.CollectionMoved => DueOfJob(
                MessageKind.CollectionAgreed,
                row
            ),
            MissCustomerParts.Missed => Due(MessageKind.WaitingForPart, row),
            "changeOrder.offered" => Due(MessageKind.ChangeToApprove, row),
            "job.promiseMoved" => DueOfJob(MessageKind.DateMoved, row),
            "job.signedOff" => DueOfJob(MessageKind.ReadyForCollection, row),
            "invoice.issued" => Due(MessageKind.Invoice, row),
            "car.handedOver" => DueOfJob(MessageKind.Thanks, row),
            _ => null,
        };

    private static OutboxMessage? DueOfJob(MessageKind kind, EventRow row) =>
        row.Job is { } job ? OutboxMessage.Due(kind, job.Value, job, row.Sequence, row.RecordedAt) : null;

    private static OutboxMessage Due(MessageKind kind, EventRow row) =>
        OutboxMessage.Due(kind, row.SubjectId, row.Job, row.Sequence, row.RecordedAt);
}
