using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Devices;

namespace ShopFloor.Application.Devices;

/// <summary>A device that was recognised by its secret.</summary>
public sealed record KnownDevice(DeviceId Id, string Name);

/// <summary>A person who may change to themselves by PIN.</summary>
public sealed record PinPerson(PersonId Id, string Name);

public sealed record DeviceView(
    DeviceId Id,
    string Name,
    DateTimeOffset EnrolledAt,
    string? EnrolledBy,
    DateTimeOffset? RevokedAt
);

/// <param name="HasPin">May change by PIN.</param>
/// <param name="PausedUntil">No PIN of theirs is taken until then; null where it is.</param>
public sealed record PinView(PersonId Person, string Name, bool HasPin, DateTimeOffset? PausedUntil);

/// <summary>Recognises devices, and reads for the owner which there are and who has a PIN.</summary>
public sealed class ReadDevices(QueryRunner queries, IDbContextFactory<ShopDbContext> contexts, TimeProvider clock)
    : IUseCase
{
    private const int LongestSecret = 200;

    /// <summary>The device with this secret; null where there is none or it was ended.</summary>
    public async Task<KnownDevice?> KnownAsync(string? secret, CancellationToken ct)
    {
        if (secret is not { Length: > 0 and <= LongestSecret })
        {
            return null;
        }

        var hash = DeviceSecrets.HashOf(secret);
        await using var db = await contexts.CreateDbContextAsync(ct);
        return await db.Set<ShopDevice>()
            .AsNoTracking()
            .Where(d => d.SecretHash == hash && d.RevokedAt == null)
            .Select(d => new KnownDevice(d.Id, d.Name))
            .SingleOrDefaultAsync(ct);
    }

    /// <summary>When the PIN of a person was set, as long as they may be signed in with it on this device; null where they may not.</summary>
    public async Task<DateTimeOffset?> PinSetAtAsync(DeviceId id, PersonId person, CancellationToken ct)
    {
        await using var db = await contexts.CreateDbContextAsync(ct);
        return await db.Set<ShopDevice>().AnyAsync(d => d.Id == id && d.RevokedAt == null, ct)
            ? await db.Set<PersonPin>()
                .Where(p => p.Person == person && p.Hash != null)
                .Select(p => (DateTimeOffset?)p.SetAt)
                .SingleOrDefaultAsync(ct)
            : null;
    }

    /// <summary>Who stands on the page of people at a known device: active, with a PIN.</summary>
    public async Task<IReadOnlyList<PinPerson>> PeopleAsync(KnownDevice device, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(device);
        await using var db = await contexts.CreateDbContextAsync(ct);
        var withPin = await db.Set<PersonPin>().Where(p => p.Hash != null).Select(p => p.Person).ToListAsync(ct);
        var ids = withPin.ConvertAll(p => p.Value);
        var found = await db
            .Users.AsNoTracking()
            .Where(u => u.IsActive && ids.Contains(u.Id))
            .OrderBy(u => u.DisplayName)
            .Take(PageRequest.LargestSize)
            .Select(u => new { u.Id, u.DisplayName })
            .ToListAsync(ct);
        return [.. found.Select(u => new PinPerson(new PersonId(u.Id), u.DisplayName))];
    }

    public Task<Outcome<IReadOnlyList<DeviceView>>> ListAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<DeviceView>>(
            Permission.RunShop,
            actor,
            async db =>
            {
                var devices = await db.Set<ShopDevice>()
                    .OrderByDescending(d => d.EnrolledAt)
                    .Take(PageRequest.LargestSize)
                    .ToListAsync(ct);
                var names = await db.Users.ToDictionaryAsync(u => u.Id, u => u.DisplayName, ct);
                return devices
                    .Select(d => new DeviceView(
                        d.Id,
                        d.Name,
                        d.EnrolledAt,
                        d.EnrolledBy is { } by ? names.GetValueOrDefault(by.Value) : null,
                        d.RevokedAt
                    ))
                    .ToList();
            },
            ct
        );

    public Task<Outcome<IReadOnlyList<PinView>>> PinsAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<IReadOnlyList<PinView>>(
            Permission.RunShop,
            actor,
            async db =>
            {
                var now = clock.GetUtcNow();
                var users = await db
                    .Users.Where(u => u.IsActive)
                    .OrderBy(u => u.DisplayName)
                    .Take(PageRequest.LargestSize)
                    .ToListAsync(ct);
                var pins = await db.Set<PersonPin>().ToDictionaryAsync(p => p.Person, p => p.Hash, ct);
                var paused = await db.Set<AttemptLimit>()
                    .Where(l => l.PausedUntil > now)
                    .ToDictionaryAsync(l => l.Key, l => l.PausedUntil, ct);
                return users
                    .Select(u => new PersonId(u.Id))
                    .Zip(users)
                    .Select(p => new PinView(
                        p.First,
                        p.Second.DisplayName,
                        pins.GetValueOrDefault(p.First) is not null,
                        paused.GetValueOrDefault(AttemptLimit.OfPerson(p.First))
                    ))
                    .ToList();
            },
            ct
        );
}
