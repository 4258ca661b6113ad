using System.Net;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Devices;

namespace ShopFloor.Application.Devices;

/// <summary>The owner makes a code for a new tablet. The code is handed back once and never stored.</summary>
public sealed class MakeEnrolmentCode(CommandRunner runner) : IUseCase
{
    public sealed record Made(string Code, DateTimeOffset ExpiresAt);

    public Task<Outcome<Made>> RunAsync(Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Made>(
            Permission.KeepAccess,
            // No repeat by key: remembering the answer would store the secret.
            envelope with
            {
                IdempotencyKey = null,
            },
            null,
            scope =>
            {
                var code = DeviceSecrets.NewCode();
                var row = new EnrolmentCode(
                    scope.NewId<EnrolmentCodeId>(),
                    DeviceSecrets.HashOf(code),
                    scope.Actor.Person,
                    scope.Now
                );
                scope.Db.Add(row);
                scope.Record(new EventDraft("device.codeMade", "enrolmentCode", row.Id.Value));
                return Task.FromResult<Outcome<Made>>(new Made(DeviceSecrets.Said(code), row.ExpiresAt));
            },
            ct
        );
}

/// <summary>A tablet shows the code and becomes one of the shop's devices. The caller is not signed in: the code is the secret.</summary>
public sealed class EnrolDevice(CommandRunner runner) : IUseCase
{
    /// <param name="Code">As typed.</param>
    /// <param name="Name">Of the tablet.</param>
    /// <param name="From">The network address that asks; null where it is not known.</param>
    public sealed record Request(string? Code, string? Name, IPAddress? From = null);

    /// <param name="Secret">For the device's cookie; null where the code was not accepted.</param>
    /// <param name="Problem">Why not, for the person at the tablet.</param>
    public sealed record Answer(DeviceId? Device, string? Secret, string? Problem);

    public Task<Outcome<Answer>> RunAsync(Request request, CancellationToken ct) =>
        runner.RunUncheckedAsync<Answer>(
            Envelope.Of(Actor.System),
            null,
            async scope =>
            {
                var errors = new FieldErrors();
                var name = TextRules.Required(request.Name, "name", "The tablet's name", TextRules.Code, errors);
                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                // A wrong try is a success of the command, so that its count is kept.
                var own = await Attempts.OfAsync(
                    scope,
                    AttemptLimit.OfCodesFrom(DeviceSecrets.NetworkOf(request.From))
                );
                if (own.IsPaused(scope.Now))
                {
                    return new Answer(
                        null,
                        null,
                        "Too many wrong codes were tried from here. Wait a quarter of an hour, or try on another network, and ask the owner for a new code."
                    );
                }

                var all = await Attempts.OfAsync(scope, AttemptLimit.Codes);
                if (all.IsPaused(scope.Now))
                {
                    return new Answer(
                        null,
                        null,
                        "Too many wrong codes were tried, from many places. Wait a quarter of an hour and ask the owner for a new one."
                    );
                }

                var hash = DeviceSecrets.HashOf(DeviceSecrets.Typed(request.Code));
                var code = await scope
                    .Db.Set<EnrolmentCode>()
                    .SingleOrDefaultAsync(c => c.Hash == hash, scope.Cancellation);
                if (code is null || !code.IsGood(scope.Now))
                {
                    own.Fail(AttemptRule.OfAddress, scope.Now);
                    all.Fail(AttemptRule.OfAllAddresses, scope.Now);
                    if (all.IsPaused(scope.Now))
                    {
                        await Attempts.ForgetAddressesAsync(scope, except: own.Key);
                    }

                    return new Answer(
                        null,
                        null,
                        "This code is wrong, used or older than 15 minutes. Ask the owner for a new one."
                    );
                }

                code.Use(scope.Now);
                own.Reset();
                all.Reset();
                await Attempts.ForgetAddressesAsync(scope, except: own.Key);
                var secret = DeviceSecrets.NewSecret();
                var device = ShopDevice.Enrol(
                    scope.NewId<DeviceId>(),
                    name,
                    DeviceSecrets.HashOf(secret),
                    code.MadeBy,
                    scope.Now
                );
                scope.Db.Add(device);
                scope.Record(
                    new EventDraft("device.enrolled", "device", device.Id.Value, After: new { by = code.MadeBy })
                );
                return new Answer(device.Id, secret, null);
            },
            ct
        );
}

/// <summary>The owner ends a device: whoever is signed in on it is signed out with the next request.</summary>
public sealed class RevokeDevice(CommandRunner runner) : IUseCase
{
    public Task<Outcome<Done>> RunAsync(DeviceId id, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.KeepAccess,
            envelope,
            new { id },
            async scope =>
            {
                var device = await scope.Db.Set<ShopDevice>().SingleOrDefaultAsync(d => d.Id == id, scope.Cancellation);
                if (device is null)
                {
                    return Failure.Missing("device");
                }

                if (device.RevokedAt is null)
                {
                    device.Revoke(scope.Actor.Person, scope.Now);
                    scope.Record(new EventDraft("device.revoked", "device", id.Value));
                }

                return default(Done);
            },
            ct
        );
}

internal static class Attempts
{
    /// <summary>The count of wrong tries at something; begun where there is none yet.</summary>
    public static async Task<AttemptLimit> OfAsync(CommandScope scope, string key)
    {
        var limit = await scope.Db.Set<AttemptLimit>().SingleOrDefaultAsync(l => l.Key == key, scope.Cancellation);
        if (limit is null)
        {
            limit = new AttemptLimit(key);
            scope.Db.Add(limit);
        }

        return limit;
    }

    /// <summary>Counts of addresses that need not wait are let go, so that they do not pile up.</summary>
    public static Task ForgetAddressesAsync(CommandScope scope, string except) =>
        scope
            .Db.Set<AttemptLimit>()
            .Where(l =>
                l.Key.StartsWith(AttemptLimit.CodesFrom)
                && l.Key != except
                && (l.PausedUntil == null || l.PausedUntil < scope.Now)
            )
            .ExecuteDeleteAsync(scope.Cancellation);
}
