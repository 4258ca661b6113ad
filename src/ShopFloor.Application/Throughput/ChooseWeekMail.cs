using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;
using ShopFloor.Domain.Throughput;

namespace ShopFloor.Application.Throughput;

/// <summary>Whether the person who asks gets the week by mail.</summary>
/// <param name="Hour">Of the shop's clock on Monday.</param>
/// <param name="Address">Where it goes: the address the person signs in with.</param>
/// <param name="CanBeSent">False where mail cannot be sent to that address as it is written.</param>
/// <param name="IsMailOn">The shop's mail server is set up and on; else mails wait.</param>
public sealed record WeekMailView(long Version, bool IsOn, int Hour, string? Address, bool CanBeSent, bool IsMailOn);

/// <summary>Somebody who may read the figures asks for them by mail, for themselves only.</summary>
public sealed class ChooseWeekMail(QueryRunner queries, CommandRunner runner) : IUseCase
{
    /// <param name="Hour">0 to 23; absent leaves it.</param>
    public sealed record Request(bool IsOn, int? Hour = null);

    /// <param name="Start">First day of the week that it tells of.</param>
    public sealed record Asked(DateOnly Start, string Address);

    private static readonly Failure Nobody = Failure.Because(
        "noPerson",
        "The week goes by mail to people; this key belongs to nobody. Ask with a key of your own, or on the page."
    );

    public Task<Outcome<WeekMailView>> ReadAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<WeekMailView>(
            Permission.SeeFigures,
            actor,
            async db => actor.Person is { } person ? await ViewAsync(db, person, ct) : Nobody,
            ct
        );

    public Task<Outcome<WeekMailView>> ChangeAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<WeekMailView>(
            Permission.SeeFigures,
            envelope,
            request,
            async scope =>
            {
                if (scope.Actor.Person is not { } person)
                {
                    return Nobody;
                }

                var wishes = scope.Db.Set<WeekMailWish>();
                var wish = await wishes.SingleOrDefaultAsync(w => w.Id == person, scope.Cancellation);
                if (wish is null)
                {
                    wish = WeekMailWish.Of(person);
                    scope.Db.Add(wish);
                }

                if ((scope.Stale(wish) ?? wish.Change(request.IsOn, request.Hour, scope.Now).Failure) is { } failure)
                {
                    return failure;
                }

                scope.Record(
                    new EventDraft("weekMail.chosen", "weekMail", person.Value, After: new { wish.IsOn, wish.Hour })
                );
                await scope.SaveAsync();
                return await ViewAsync(scope.Db, person, scope.Cancellation);
            },
            ct
        );

    /// <summary>Sends the last week that is over at once, whether it is wished for on Mondays or not.</summary>
    public Task<Outcome<Asked>> SendNowAsync(Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Asked>(
            Permission.SeeFigures,
            envelope,
            null,
            async scope =>
            {
                if (scope.Actor.Person is not { } person)
                {
                    return Nobody;
                }

                var view = await ViewAsync(scope.Db, person, scope.Cancellation);
                if (!view.CanBeSent)
                {
                    return Failure.Because(
                        "noAddress",
                        "Mail cannot be sent to the address you sign in with as it is written. Have it changed on the page of people."
                    );
                }

                if (!view.IsMailOn)
                {
                    return Failure.Because(
                        "mailIsOff",
                        "No mail goes out: set the mail server up and turn it on in the settings first."
                    );
                }

                var today = (await scope.ShopAsync()).LocalDay(scope.Now);
                var mail = WeekMail.Asked(scope.NewId<WeekMailId>(), person, today, scope.Now);
                WeekMails.Add(scope, mail);
                return new Asked(mail.Start, view.Address!);
            },
            ct
        );

    private static async Task<WeekMailView> ViewAsync(ShopDbContext db, PersonId person, CancellationToken ct)
    {
        var wish =
            await db.Set<WeekMailWish>().SingleOrDefaultAsync(w => w.Id == person, ct) ?? WeekMailWish.Of(person);
        var address = await db.Users.Where(u => u.Id == person.Value).Select(u => u.Email).SingleOrDefaultAsync(ct);
        return new WeekMailView(
            wish.Version,
            wish.IsOn,
            wish.Hour,
            address,
            MailAddresses.Read(address) is not null,
            await db.Set<MailSettings>().AnyAsync(s => s.IsOn, ct)
        );
    }
}

internal static class WeekMails
{
    /// <summary>The mail and its message in the outbox, in one transaction.</summary>
    public static void Add(CommandScope scope, WeekMail mail)
    {
        scope.Db.Add(mail);
        scope.Db.Add(OutboxMessage.Due(MessageKind.WeekFigures, mail.Id.Value, null, null, scope.Now));
        scope.Record(
            new EventDraft(
                "weekMail.noted",
                "weekMail",
                mail.Id.Value,
                After: new
                {
                    person = mail.Person,
                    start = mail.Start,
                    dueOn = mail.DueOn,
                }
            )
        );
    }
}
