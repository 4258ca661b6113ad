using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Devices;

namespace ShopFloor.Application.Devices;

/// <summary>A person's PIN is set or taken away: by its person, signed in with their password, or by the owner, who also lifts a lock by it.</summary>
public sealed class SetPin(CommandRunner runner, IPasswordHasher<User> hasher) : IUseCase
{
    /// <param name="Pin">Null takes it away.</param>
    public sealed record Request(string? Pin = null);

    public Task<Outcome<Done>> RunAsync(PersonId person, Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            envelope.Actor.Person == person ? Permission.SetOwnPin : Permission.KeepAccess,
            envelope,
            // The PIN must not reach the idempotency record, not even as part of a hash that could be tried out.
            new { person, isSet = request.Pin is not null },
            async scope =>
            {
                if (request.Pin is not null && PersonPin.Problem(request.Pin) is { } problem)
                {
                    return Failure.Field("pin", problem);
                }

                var user = await scope.Db.Users.SingleOrDefaultAsync(
                    u => u.Id == person.Value && u.IsActive,
                    scope.Cancellation
                );
                if (user is null)
                {
                    return Failure.Missing("person");
                }

                var pin = await scope
                    .Db.Set<PersonPin>()
                    .SingleOrDefaultAsync(p => p.Person == person, scope.Cancellation);
                if (pin is null)
                {
                    pin = new PersonPin(person);
                    scope.Db.Add(pin);
                }

                if (request.Pin is { } digits)
                {
                    pin.Set(hasher.HashPassword(user, digits), scope.Now);
                }
                else
                {
                    pin.Clear(scope.Now);
                }

                (await Attempts.OfAsync(scope, AttemptLimit.OfPerson(person))).Reset();
                scope.Record(new EventDraft(request.Pin is null ? "pin.removed" : "pin.set", "person", person.Value));
                return default(Done);
            },
            ct
        );
}

/// <summary>Somebody enters their PIN at one of the shop's devices.</summary>
public sealed class CheckPin(CommandRunner runner, IPasswordHasher<User> hasher) : IUseCase
{
    /// <param name="PinSetAt">The PIN is right, and was set then; null where the person may not be signed in.</param>
    /// <param name="Problem">Why not, for the person at the tablet.</param>
    public sealed record Answer(DateTimeOffset? PinSetAt, string? Problem);

    /// <summary>The caller has found the device by its secret.</summary>
    public Task<Outcome<Answer>> RunAsync(KnownDevice device, PersonId person, string? pin, CancellationToken ct) =>
        runner.RunUncheckedAsync<Answer>(
            Envelope.Of(Actor.OfPerson(person, [], device.Name)),
            null,
            async scope =>
            {
                // A wrong try is a success of the command, so that its count is kept; who tried at the same moment counts anew.
                var ofPerson = await Attempts.OfAsync(scope, AttemptLimit.OfPerson(person));
                var ofDevice = await Attempts.OfAsync(scope, AttemptLimit.OfDevice(device.Id));
                if (
                    (
                        ofPerson.IsPaused(scope.Now) ? ofPerson
                        : ofDevice.IsPaused(scope.Now) ? ofDevice
                        : null
                    ) is
                    { } paused
                )
                {
                    var minutes = Math.Ceiling((paused.PausedUntil!.Value - scope.Now).TotalMinutes);
                    return new Answer(
                        null,
                        $"Too many wrong PINs. Wait {minutes} {(minutes == 1 ? "minute" : "minutes")}, or ask the owner to set a new one."
                    );
                }

                var user = await scope.Db.Users.SingleOrDefaultAsync(
                    u => u.Id == person.Value && u.IsActive,
                    scope.Cancellation
                );
                var kept = await scope
                    .Db.Set<PersonPin>()
                    .AsNoTracking()
                    .SingleOrDefaultAsync(p => p.Person == person, scope.Cancellation);
                if (
                    user is not null
                    && kept is { Hash: { } hash }
                    && pin is { Length: <= PersonPin.Longest }
                    && hasher.VerifyHashedPassword(user, hash, pin) != PasswordVerificationResult.Failed
                )
                {
                    ofPerson.Reset();
                    ofDevice.Reset();
                    scope.Record(new EventDraft("pin.entered", "device", device.Id.Value));
                    return new Answer(kept.SetAt, null);
                }

                ofPerson.Fail(AttemptRule.OfPerson, scope.Now);
                ofDevice.Fail(AttemptRule.OfDevice, scope.Now);
                if (ofPerson.IsPaused(scope.Now) || ofDevice.IsPaused(scope.Now))
                {
                    scope.Record(new EventDraft("pin.locked", "device", device.Id.Value));
                }

                return new Answer(null, "That is not this person's PIN. Try again.");
            },
            ct
        );
}
