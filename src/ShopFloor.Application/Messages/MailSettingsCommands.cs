using Microsoft.EntityFrameworkCore;
using MimeKit;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Messages;

namespace ShopFloor.Application.Messages;

/// <summary>The mail server as shown; of the password only whether there is one.</summary>
/// <param name="Waiting">Messages that wait to be sent.</param>
public sealed record MailSettingsView(
    long Version,
    bool IsOn,
    string Host,
    int Port,
    MailSecurity Security,
    string? User,
    bool HasPassword,
    string SenderName,
    string SenderAddress,
    string? ReplyTo,
    int Waiting
);

/// <summary>Reads the mail server's settings; before they were made, what is usual.</summary>
public sealed class ReadMailSettings(QueryRunner queries) : IUseCase
{
    public const int UsualPort = 587;

    public Task<Outcome<MailSettingsView>> RunAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<MailSettingsView>(Permission.RunShop, actor, async db => await ViewAsync(db, ct), ct);

    internal static async Task<MailSettingsView> ViewAsync(Data.ShopDbContext db, CancellationToken ct)
    {
        var settings = await db.Set<MailSettings>().SingleOrDefaultAsync(ct);
        var shop = await db.Shops.SingleAsync(ct);
        var waiting = await db.Set<OutboxMessage>().CountAsync(m => m.State == MessageState.Waiting, ct);
        return settings is null
            ? new(0, false, "", UsualPort, MailSecurity.StartTls, null, false, shop.Name, "", shop.Email, waiting)
            : new(
                settings.Version,
                settings.IsOn,
                settings.Host,
                settings.Port,
                settings.Security,
                settings.User,
                settings.SealedPassword is not null,
                settings.SenderName,
                settings.SenderAddress,
                settings.ReplyTo,
                waiting
            );
    }
}

/// <summary>Changes the mail server's settings.</summary>
public sealed class ChangeMailSettings(CommandRunner runner, MessageSeal seal) : IUseCase
{
    public Task<Outcome<MailSettingsView>> RunAsync(
        MailSettings.Details details,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<MailSettingsView>(
            Permission.RunShop,
            envelope,
            // The password has no place in what is remembered, not even in a hash that could be guessed at.
            details with
            {
                Password = null,
            },
            async scope =>
            {
                var settings = await scope.Db.Set<MailSettings>().SingleOrDefaultAsync(scope.Cancellation);
                if (settings is null)
                {
                    settings = MailSettings.Empty();
                    scope.Db.Add(settings);
                }

                if ((scope.Stale(settings) ?? settings.Change(details, seal.Password).Failure) is { } failure)
                {
                    return failure;
                }

                scope.Record(
                    new EventDraft(
                        "mail.settingsChanged",
                        "mailSettings",
                        settings.Id.Value,
                        After: new
                        {
                            settings.IsOn,
                            settings.Port,
                            security = settings.Security,
                            hasPassword = settings.SealedPassword is not null,
                        }
                    )
                );
                await scope.SaveAsync();
                return await ReadMailSettings.ViewAsync(scope.Db, scope.Cancellation);
            },
            ct
        );
}

/// <summary>Sends one mail at once, by the settings as they are stored, and says in plain words what went wrong.</summary>
public sealed class TestMail(QueryRunner queries, IMailTransport transport, MessageSeal seal, TimeProvider clock)
    : IUseCase
{
    public sealed record Request(string? To);

    public sealed record Result(bool IsSent, string Sentence);

    public async Task<Outcome<Result>> RunAsync(Request request, Actor actor, CancellationToken ct)
    {
        if (!actor.MayDo(Permission.RunShop))
        {
            return new Failure.Forbidden("You do not have the role that this needs. Ask the owner.");
        }

        var errors = new FieldErrors();
        var to = MailAddresses.Optional(request.To, "to", "The address for the test", errors);
        errors.AddIf(string.IsNullOrWhiteSpace(request.To), "to", "Say to which address the test goes.");
        var read = await queries.RunAsync<(MailSettings? Settings, string Shop)>(
            Permission.RunShop,
            actor,
            async db =>
                ((await db.Set<MailSettings>().SingleOrDefaultAsync(ct)), (await db.Shops.SingleAsync(ct)).Name),
            ct
        );
        if (!read.TryGet(out var found, out var failure))
        {
            return failure;
        }

        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (found.Settings is not { } settings)
        {
            return Failure.Because(
                "noMailServer",
                "No mail server is set up: fill in the settings and save them first."
            );
        }

        var answer = await transport.SendAsync(MailServers.Of(settings, seal), Mail(settings, found.Shop, to!), ct);
        return answer.Result == MailResult.Taken
            ? new Result(true, $"{settings.Host} took the test message. Look whether it arrived at {to}.")
            : new Result(false, answer.Sentence);
    }

    private byte[] Mail(MailSettings settings, string shop, string to)
    {
        using var mail = new MimeMessage();
        mail.From.Add(new MailboxAddress(settings.SenderName, settings.SenderAddress));
        mail.To.Add(new MailboxAddress("", to));
        mail.Subject = MessageWriting.OneLine($"Test message of {shop}");
        mail.Date = clock.GetUtcNow();
        mail.MessageId = $"{Guid.CreateVersion7(clock.GetUtcNow()):N}@{MailAddresses.Domain(settings.SenderAddress)}";
        mail.Body = new TextPart("plain") { Text = "Messages to customers can be sent by these settings.\n" };
        using var bytes = new MemoryStream();
        mail.WriteTo(bytes);
        return bytes.ToArray();
    }
}
