using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data.Identity;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.SignIns;

namespace ShopFloor.Application.SignIns;

/// <summary>How a person's second step stands.</summary>
/// <param name="ConfirmedAt">Since when it is asked for; null: it is not.</param>
/// <param name="IsBegun">A secret was made, and no app has shown yet that it knows it.</param>
/// <param name="CodesLeft">Codes on paper that were not used.</param>
public sealed record SecondFactorView(DateTimeOffset? ConfirmedAt, bool IsBegun, int CodesLeft);

/// <summary>A person's authenticator app is set up, replaced and taken away; asks for the password each time.</summary>
public sealed class KeepSecondFactor(
    CommandRunner runner,
    QueryRunner queries,
    SignInSecrets secrets,
    IPasswordHasher<User> hasher
) : IUseCase
{
    /// <param name="Uri">For the picture.</param>
    /// <param name="Said">To type in where the picture cannot be read.</param>
    public sealed record Begun(string Uri, string Said);

    private const string WrongPassword = "This is not your password.";

    public Task<Outcome<SecondFactorView>> ReadAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<SecondFactorView>(
            Permission.KeepOwnSignIn,
            actor,
            async db =>
            {
                var person = actor.Person ?? default;
                var kept = await db.Set<SecondFactor>().SingleOrDefaultAsync(f => f.Person == person, ct);
                var left = await db.Set<RecoveryCode>().CountAsync(c => c.Person == person && c.UsedAt == null, ct);
                return new SecondFactorView(kept?.ConfirmedAt, kept is { ConfirmedAt: null }, left);
            },
            ct
        );

    /// <summary>Makes a secret. One that is in use stays so until a code of the new one is shown: see <see cref="ConfirmAsync"/>.</summary>
    public Task<Outcome<Begun>> BeginAsync(string? password, Envelope envelope, CancellationToken ct)
    {
        var secret = SignInSecrets.NewSecret();
        // Before the command: the first use of the keys writes.
        var kept = secrets.Protect(secret);
        return runner.RunAsync<Begun>(
            Permission.KeepOwnSignIn,
            envelope with
            {
                IdempotencyKey = null,
            },
            null,
            async scope =>
            {
                var user = await OwnAsync(scope);
                if (!Knows(user, password))
                {
                    return Failure.Field("password", WrongPassword);
                }

                var factor = await FactorAsync(scope);
                if (factor?.ConfirmedAt is not null)
                {
                    return Failure.Because("secondFactor", "The app is set up already. Take it away first.");
                }

                if (factor is null)
                {
                    factor = new SecondFactor(scope.Actor.Person!.Value);
                    scope.Db.Add(factor);
                }

                factor.Begin(kept);
                var shop = await scope.ShopAsync();
                return new Begun(SignInSecrets.UriOf(secret, shop.Name, user.Email!), SignInSecrets.Said(secret));
            },
            ct
        );
    }

    /// <summary>A code of the app shows that it has the secret: from now on it is asked for. Hands back the codes for paper, this once.</summary>
    public Task<Outcome<IReadOnlyList<string>>> ConfirmAsync(string? code, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<IReadOnlyList<string>>(
            Permission.KeepOwnSignIn,
            envelope with
            {
                IdempotencyKey = null,
            },
            null,
            async scope =>
            {
                var factor = await FactorAsync(scope);
                if (factor is not { ConfirmedAt: null })
                {
                    return Failure.Because("secondFactor", "Begin anew: no app is being set up.");
                }

                if (
                    SignInSecrets.StepOf(secrets.Unprotect(factor.ProtectedSecret), Digits(code), scope.Now)
                        is not { } step
                    || !factor.Take(step)
                )
                {
                    return Failure.Field(
                        "code",
                        "This code is not right. Wait for the next one, and check that the phone's clock is right."
                    );
                }

                factor.Confirm(scope.Now);
                (await OwnAsync(scope)).TwoFactorEnabled = true;
                scope.Record(new EventDraft("person.secondFactorSet", "person", factor.Person.Value));
                return await NewCodesAsync(scope, factor.Person);
            },
            ct
        );

    /// <summary>New codes for paper; the old ones count no more.</summary>
    public Task<Outcome<IReadOnlyList<string>>> RenewCodesAsync(
        string? password,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<IReadOnlyList<string>>(
            Permission.KeepOwnSignIn,
            envelope with
            {
                IdempotencyKey = null,
            },
            null,
            async scope =>
            {
                if (!Knows(await OwnAsync(scope), password))
                {
                    return Failure.Field("password", WrongPassword);
                }

                if ((await FactorAsync(scope))?.ConfirmedAt is null)
                {
                    return Failure.Because("secondFactor", "Set up an app first: the codes stand in for it.");
                }

                var person = scope.Actor.Person!.Value;
                scope.Record(new EventDraft("person.recoveryCodesMade", "person", person.Value));
                return await NewCodesAsync(scope, person);
            },
            ct
        );

    public Task<Outcome<Done>> RemoveAsync(string? password, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.KeepOwnSignIn,
            envelope,
            new { },
            async scope =>
            {
                if (!Knows(await OwnAsync(scope), password))
                {
                    return Failure.Field("password", WrongPassword);
                }

                await RemoveAsync(scope, scope.Actor.Person!.Value);
                return default(Done);
            },
            ct
        );

    /// <summary>By the owner, for somebody who lost app and paper; they are signed out everywhere.</summary>
    public Task<Outcome<Done>> TakeAwayAsync(PersonId person, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<Done>(
            Permission.KeepAccess,
            envelope,
            new { person },
            async scope =>
            {
                await RemoveAsync(scope, person);
                await EndSessions.AllAsync(scope, person, kept: null);
                return default(Done);
            },
            ct
        );

    /// <summary>Within another command: for a person who lost app and paper.</summary>
    internal static async Task RemoveAsync(CommandScope scope, PersonId person)
    {
        var factor = await scope
            .Db.Set<SecondFactor>()
            .SingleOrDefaultAsync(f => f.Person == person, scope.Cancellation);
        if (factor is null)
        {
            return;
        }

        scope.Db.Remove(factor);
        await DropCodesAsync(scope, person);
        var user = await scope.Db.Users.SingleAsync(u => u.Id == person.Value, scope.Cancellation);
        user.TwoFactorEnabled = false;
        scope.Record(new EventDraft("person.secondFactorRemoved", "person", person.Value));
    }

    private static async Task<List<string>> NewCodesAsync(CommandScope scope, PersonId person)
    {
        await DropCodesAsync(scope, person);
        var codes = Enumerable.Range(0, RecoveryCode.Many).Select(_ => SignInSecrets.NewRecoveryCode()).ToList();
        scope.Db.AddRange(
            codes.Select(c => new RecoveryCode(scope.NewId<RecoveryCodeId>(), person, Devices.DeviceSecrets.HashOf(c)))
        );
        return [.. codes.Select(SignInSecrets.Said)];
    }

    private static async Task DropCodesAsync(CommandScope scope, PersonId person) =>
        scope.Db.RemoveRange(
            await scope.Db.Set<RecoveryCode>().Where(c => c.Person == person).ToListAsync(scope.Cancellation)
        );

    private static Task<User> OwnAsync(CommandScope scope)
    {
        var person = scope.Actor.Person?.Value;
        return scope.Db.Users.SingleAsync(u => u.Id == person, scope.Cancellation);
    }

    private static Task<SecondFactor?> FactorAsync(CommandScope scope)
    {
        var person = scope.Actor.Person ?? default;
        return scope.Db.Set<SecondFactor>().SingleOrDefaultAsync(f => f.Person == person, scope.Cancellation);
    }

    private bool Knows(User user, string? password) => Passwords.IsOf(hasher, user, password);

    internal static string Digits(string? code) => new([.. (code ?? "").Where(char.IsAsciiDigit).Take(8)]);
}

/// <summary>The second step of signing in: a code of the app, or one from paper. The caller has checked the password, and counts wrong tries.</summary>
public sealed class CheckSecondFactor(CommandRunner runner, SignInSecrets secrets) : IUseCase
{
    /// <summary>How it was shown; null where the code is wrong or was used before.</summary>
    public async Task<SignInWay?> RunAsync(PersonId person, string? code, CancellationToken ct)
    {
        var typed = Devices.DeviceSecrets.Typed(code);
        var checkedCode = await runner.RunUncheckedAsync<SignInWay?>(
            Envelope.Of(Actor.OfPerson(person, [])),
            null,
            async scope =>
                SignInSecrets.IsRecoveryCode(typed)
                    ? await UseRecoveryCodeAsync(scope, person, typed)
                    : await TakeCodeAsync(scope, person, KeepSecondFactor.Digits(code)),
            ct
        );
        return checkedCode.IsSuccess ? checkedCode.Value : null;
    }

    private async Task<SignInWay?> TakeCodeAsync(CommandScope scope, PersonId person, string code)
    {
        var factor = await scope
            .Db.Set<SecondFactor>()
            .SingleOrDefaultAsync(f => f.Person == person, scope.Cancellation);
        return
            factor is { ConfirmedAt: not null }
            && SignInSecrets.StepOf(secrets.Unprotect(factor.ProtectedSecret), code, scope.Now) is { } step
            && factor.Take(step)
            ? SignInWay.PasswordAndCode
            : null;
    }

    private static async Task<SignInWay?> UseRecoveryCodeAsync(CommandScope scope, PersonId person, string typed)
    {
        var hash = Devices.DeviceSecrets.HashOf(typed);
        var code = await scope
            .Db.Set<RecoveryCode>()
            .SingleOrDefaultAsync(c => c.Person == person && c.Hash == hash && c.UsedAt == null, scope.Cancellation);
        if (code is null)
        {
            return null;
        }

        code.Use(scope.Now);
        scope.Record(new EventDraft("person.recoveryCodeUsed", "person", person.Value));
        return SignInWay.PasswordAndRecoveryCode;
    }
}
