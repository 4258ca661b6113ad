using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Diary;
using ShopFloor.Application.Quoting;
using ShopFloor.Application.Routing;
using ShopFloor.Data;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Changes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Diary;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Messages;
using ShopFloor.Domain.Progress;
using ShopFloor.Domain.Quoting;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Messages;

/// <summary>What a message has to say: to whom, with which words, which appointments. Only what is named in <see cref="MessageKinds"/> is read.</summary>
/// <param name="WhyNot">It is not needed (any more), in a sentence; else null.</param>
internal sealed record MessageFacts(
    Customer Customer,
    string Language,
    IReadOnlyDictionary<string, string?> Values,
    IReadOnlyList<CalendarEntry> Appointments,
    string? WhyNot
)
{
    /// <summary>Null where the thing it is about does not exist.</summary>
    public static async Task<MessageFacts?> ReadAsync(
        ShopDbContext db,
        OutboxMessage message,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var shop = await db.Shops.SingleAsync(ct);
        return message.Kind switch
        {
            MessageKind.QuoteSent or MessageKind.QuoteAccepted => await OfQuoteAsync(db, shop, message, now, ct),
            MessageKind.ChangeToApprove => await OfChangeAsync(db, shop, message, ct),
            MessageKind.WaitingForPart => await OfPartAsync(db, shop, message, ct),
            MessageKind.Invoice => await OfInvoiceAsync(db, shop, message, ct),
            _ => await OfJobAsync(db, shop, message, now, ct),
        };
    }

    private static async Task<MessageFacts?> OfQuoteAsync(
        ShopDbContext db,
        Shop shop,
        OutboxMessage message,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var id = new QuoteId(message.SubjectId);
        if (await db.Set<Quote>().SingleOrDefaultAsync(q => q.Id == id, ct) is not { } quote)
        {
            return null;
        }

        var customer = await db.Set<Customer>().SingleAsync(c => c.Id == quote.CustomerId, ct);
        var car = await CarAsync(db, quote.CarId, ct);
        var language = MessageLanguages.For(customer.Language);
        var values = Common(shop, customer, car?.Title ?? quote.Scope.Kind.Title());
        values["number"] = quote.Number;
        values["total"] = Money(quote.TotalMinor, quote.Priced.CurrencyCode, language);
        values["until"] = quote.ValidUntil is { } until ? MessageWriting.Day(until, language) : null;
        var state = quote.StateOn(shop.LocalDay(now));
        var wanted = message.Kind == MessageKind.QuoteSent ? QuoteState.Sent : QuoteState.Accepted;
        return new MessageFacts(
            customer,
            language,
            values,
            [],
            state == wanted ? null : $"The quote is {Quote.Word(state)} meanwhile."
        );
    }

    private static async Task<MessageFacts?> OfChangeAsync(
        ShopDbContext db,
        Shop shop,
        OutboxMessage message,
        CancellationToken ct
    )
    {
        var id = new ChangeOrderId(message.SubjectId);
        if (await db.Set<ChangeOrder>().SingleOrDefaultAsync(c => c.Id == id, ct) is not { } change)
        {
            return null;
        }

        var (customer, values, language, _) = await JobWordsAsync(db, shop, change.JobId, ct);
        values["number"] = change.Number;
        values["total"] = Money(change.TotalMinor, change.Priced.CurrencyCode, language);
        return new MessageFacts(
            customer,
            language,
            values,
            [],
            change.State == ChangeState.Offered ? null : "The change order waits for no answer any more."
        );
    }

    private static async Task<MessageFacts?> OfPartAsync(
        ShopDbContext db,
        Shop shop,
        OutboxMessage message,
        CancellationToken ct
    )
    {
        var id = new CustomerPartId(message.SubjectId);
        if (await db.Set<CustomerPart>().SingleOrDefaultAsync(p => p.Id == id, ct) is not { } part)
        {
            return null;
        }

        var (customer, values, language, job) = await JobWordsAsync(db, shop, part.JobId, ct);
        values["part"] = part.What;
        values["due"] = MessageWriting.Day(part.DueOn, language);
        return new MessageFacts(
            customer,
            language,
            values,
            [],
            part.State == CustomerPartState.Awaited && job.State == JobState.Open
                ? null
                : "The part is not awaited any more."
        );
    }

    private static async Task<MessageFacts?> OfInvoiceAsync(
        ShopDbContext db,
        Shop shop,
        OutboxMessage message,
        CancellationToken ct
    )
    {
        var id = new InvoiceId(message.SubjectId);
        if (await db.Set<Invoice>().SingleOrDefaultAsync(i => i.Id == id, ct) is not { } invoice)
        {
            return null;
        }

        var (customer, values, language, _) = await JobWordsAsync(db, shop, invoice.JobId, ct);
        values["number"] = invoice.Number;
        values["total"] = Money(invoice.TotalMinor, shop.Currency.Code, language);
        return new MessageFacts(customer, language, values, [], null);
    }

    private static async Task<MessageFacts?> OfJobAsync(
        ShopDbContext db,
        Shop shop,
        OutboxMessage message,
        DateTimeOffset now,
        CancellationToken ct
    )
    {
        var id = new JobId(message.SubjectId);
        if (!await db.Set<Job>().AnyAsync(j => j.Id == id, ct))
        {
            return null;
        }

        var (customer, values, language, job) = await JobWordsAsync(db, shop, id, ct);
        var dropOff = await AppointmentBook.FindAsync(db, id, AppointmentKind.DropOff, ct);
        var collection = await AppointmentBook.FindAsync(db, id, AppointmentKind.Collection, ct);
        var today = shop.LocalDay(now);
        var agreed = message.Kind == MessageKind.BookedIn ? dropOff : collection;
        // A day that is over, or that lies before the promised one, is nothing to come on.
        if (collection?.Day < today || (message.Kind == MessageKind.DateMoved && collection?.Day < job.PromisedOn))
        {
            collection = null;
        }

        var whyNot = await WhyNotAsync(db, message, job, agreed, today, ct);
        values["promised"] = job.PromisedOn is { } promised ? MessageWriting.Day(promised, language) : null;
        values["dropOff"] = dropOff is null ? null : Words(dropOff, language);
        values["collection"] = collection is null ? null : Words(collection, language);
        if (message.Kind == MessageKind.DateMoved && job.PromiseMoves is [.., var move])
        {
            values["before"] = MessageWriting.Day(move.From, language);
            // As on the customer's page: the reason may be internal, and is said where the shop tells it.
            var sharing = await db.Set<ProgressSharing>().SingleOrDefaultAsync(s => s.JobId == id, ct);
            values["reason"] = sharing?.ReasonFor(move);
        }

        return new MessageFacts(
            customer,
            language,
            values,
            [.. AppointmentsOf(message.Kind, shop, job, (dropOff, collection), values["car"]!, language, now)],
            whyNot
        );
    }

    private static async Task<string?> WhyNotAsync(
        ShopDbContext db,
        OutboxMessage message,
        Job job,
        Appointment? agreed,
        DateOnly today,
        CancellationToken ct
    ) =>
        message.Kind switch
        {
            MessageKind.Thanks => job.State == JobState.Closed ? null : "The job is not handed over.",
            _ when job.State != JobState.Open => "The job has ended meanwhile.",
            MessageKind.BookedIn or MessageKind.CollectionAgreed when agreed is not null =>
                await AppointmentBook.WhyOverAsync(db, agreed, today, ct) is { } over ? over.Sentence() : null,
            MessageKind.BookedIn => "No day for the drop-off is agreed.",
            MessageKind.CollectionAgreed => "No day for the collection is agreed.",
            MessageKind.DateMoved => job.PromiseMoves.Count == 0
                ? "A day was promised for the first time; nothing has moved."
                : null,
            MessageKind.ReadyForCollection => !job.HasCarHere ? "Nothing stands here to be collected."
            : await db.Set<SignOff>().AnyAsync(s => s.JobId == job.Id && s.WithdrawnAt == null, ct) ? null
            : "The sign-off was withdrawn.",
            _ => null,
        };

    /// <summary>The drop-off as agreed, and the collection as agreed or else on the promised day. The UIDs hold the job's id and stay; the numbers rise with each move.</summary>
    private static IEnumerable<CalendarEntry> AppointmentsOf(
        MessageKind kind,
        Shop shop,
        Job job,
        (Appointment? DropOff, Appointment? Collection) agreed,
        string car,
        string language,
        DateTimeOffset now
    )
    {
        var isGerman = language == MessageLanguages.German;
        if (kind == MessageKind.BookedIn && agreed.DropOff is { } dropOff)
        {
            yield return new CalendarEntry(
                $"dropoff-{job.Id.Value}",
                dropOff.Moves,
                now,
                dropOff.Day,
                dropOff.Time is { } time ? shop.InstantOf(dropOff.Day, time) : null,
                isGerman ? $"{car} zu {shop.Name} bringen" : $"Bring the {car} to {shop.Name}",
                shop.Address
            );
        }

        var hasCollection =
            kind
            is MessageKind.BookedIn
                or MessageKind.DateMoved
                or MessageKind.ReadyForCollection
                or MessageKind.CollectionAgreed;
        // A promised day alone is sent with the booking and its moves; once a time is agreed, that is the entry.
        var day =
            agreed.Collection?.Day ?? (kind is MessageKind.BookedIn or MessageKind.DateMoved ? job.PromisedOn : null);
        if (hasCollection && day is { } on)
        {
            yield return new CalendarEntry(
                $"collection-{job.Id.Value}",
                job.PromiseMoves.Count + (agreed.Collection is { } fixedOn ? fixedOn.Moves + 1 : 0),
                now,
                on,
                agreed.Collection?.Time is { } at ? shop.InstantOf(on, at) : null,
                isGerman ? $"{car} bei {shop.Name} abholen" : $"Collect the {car} from {shop.Name}",
                shop.Address
            );
        }
    }

    private static async Task<(Customer, Dictionary<string, string?>, string Language, Job)> JobWordsAsync(
        ShopDbContext db,
        Shop shop,
        JobId id,
        CancellationToken ct
    )
    {
        var job = await db.Set<Job>().SingleAsync(j => j.Id == id, ct);
        var customer = await db.Set<Customer>().SingleAsync(c => c.Id == job.CustomerId, ct);
        var values = Common(shop, customer, JobSubject.Title(job, await CarAsync(db, job.CarId, ct)));
        values["number"] = job.Number;
        return (customer, values, MessageLanguages.For(customer.Language), job);
    }

    private static async Task<Car?> CarAsync(ShopDbContext db, CarId? id, CancellationToken ct) =>
        id is null ? null : await db.Set<Car>().SingleAsync(c => c.Id == id, ct);

    private static Dictionary<string, string?> Common(Shop shop, Customer customer, string car) =>
        new(StringComparer.Ordinal)
        {
            ["customer"] = customer.Name,
            ["shop"] = shop.Name,
            ["phone"] = shop.Phone,
            ["hours"] = shop.OpeningHours,
            ["car"] = car,
        };

    private static string Words(Appointment appointment, string language)
    {
        var day = MessageWriting.Day(appointment.Day, language);
        return appointment.Time is { } time
            ? $"{day}, {time.ToString("HH:mm", CultureInfo.InvariantCulture)}"
                + (language == MessageLanguages.German ? " Uhr" : "")
            : day;
    }

    private static string Money(long minor, string currency, string language) =>
        new Money(minor, Currency.Of(currency)).ToString(MessageWriting.Culture(language));
}
