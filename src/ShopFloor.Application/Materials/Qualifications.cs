using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Materials;

namespace ShopFloor.Application.Materials;

/// <summary>An entry of the register of welders' qualifications.</summary>
/// <param name="Words">Process, standard and number in one line.</param>
/// <param name="IsExpired">It does not hold today.</param>
/// <param name="DueInDays">Days it still holds; null where it does not run out.</param>
public sealed record QualificationView(
    WelderQualificationId Id,
    long Version,
    PersonId PersonId,
    string? Name,
    string Process,
    string Standard,
    string? Number,
    string Words,
    DateOnly? ValidUntil,
    bool IsExpired,
    int? DueInDays,
    bool IsRetired
)
{
    internal static QualificationView Of(WelderQualification q, string? name, DateOnly today) =>
        new(
            q.Id,
            q.Version,
            q.Person,
            name,
            q.Process,
            q.Standard,
            q.Number,
            q.Words,
            q.ValidUntil,
            q.IsExpiredOn(today),
            q.ValidUntil?.DayNumber - today.DayNumber,
            q.IsRetired
        );
}

/// <summary>The register, by person; and who can be entered in it.</summary>
public sealed record QualificationsView(IReadOnlyList<QualificationView> Items, IReadOnlyList<WelderView> People);

/// <summary>Reads the register of welders' qualifications.</summary>
public sealed class ReadQualifications(QueryRunner queries, TimeProvider clock) : IUseCase
{
    public Task<Outcome<QualificationsView>> RunAsync(Actor actor, CancellationToken ct) =>
        queries.RunAsync<QualificationsView>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var today = (await db.Shops.SingleAsync(ct)).LocalDay(clock.GetUtcNow());
                var people = await db.Users.AsNoTracking().OrderBy(u => u.DisplayName).ToListAsync(ct);
                var names = people.ToDictionary(u => u.Id, u => u.DisplayName);
                var all = await db.Set<WelderQualification>().AsNoTracking().ToListAsync(ct);
                return new QualificationsView(
                    [
                        .. all.Select(q =>
                                QualificationView.Of(
                                    q,
                                    names.GetValueOrDefault(q.Person.Value, "Somebody who has left"),
                                    today
                                )
                            )
                            .OrderBy(q => q.IsRetired)
                            .ThenBy(q => q.Name, StringComparer.Ordinal)
                            .ThenBy(q => q.Words, StringComparer.Ordinal),
                    ],
                    [.. people.Where(u => u.IsActive).Select(u => new WelderView(PersonId.From(u.Id), u.DisplayName))]
                );
            },
            ct
        );
}

/// <summary>Adds, changes and withdraws qualifications.</summary>
public sealed class KeepQualifications(CommandRunner runner) : IUseCase
{
    /// <param name="PersonId">Whose it is; only asked for when it is added.</param>
    public sealed record Request(
        Guid? PersonId = null,
        string? Process = null,
        string? Standard = null,
        string? Number = null,
        DateOnly? ValidUntil = null
    )
    {
        internal WelderQualification.Details Details => new(Process, Standard, Number, ValidUntil);
    }

    public Task<Outcome<QualificationView>> AddAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<QualificationView>(
            Permission.RunShop,
            envelope,
            request,
            async scope =>
            {
                await scope.LockSeriesAsync("welders");
                if (await scope.Db.Set<WelderQualification>().CountAsync(ct) >= WelderQualification.MostOfShop)
                {
                    return Failure.Because(
                        "tooManyQualifications",
                        $"The register holds at most {WelderQualification.MostOfShop} qualifications."
                    );
                }

                if (
                    request.PersonId is not { } person
                    || !await scope.Db.Users.AnyAsync(u => u.Id == person && u.IsActive, ct)
                )
                {
                    return Failure.Field("personId", "Choose whose qualification it is.");
                }

                var added = WelderQualification.Add(
                    scope.NewId<WelderQualificationId>(),
                    PersonId.From(person),
                    request.Details,
                    scope.Actor.Person,
                    scope.Now
                );
                if (!added.TryGet(out var qualification, out var failure))
                {
                    return failure;
                }

                scope.Db.Add(qualification);
                return await SavedAsync(scope, qualification, "qualification.added");
            },
            ct
        );

    public Task<Outcome<QualificationView>> ChangeAsync(
        WelderQualificationId id,
        Request request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        OneAsync(
            id,
            new { id, request },
            "qualification.changed",
            (q, scope) => q.Change(request.Details, scope.Actor.Person, scope.Now),
            envelope,
            ct
        );

    public Task<Outcome<QualificationView>> RetireAsync(
        WelderQualificationId id,
        Envelope envelope,
        CancellationToken ct
    ) =>
        OneAsync(
            id,
            new { id },
            "qualification.retired",
            (q, scope) => q.Retire(scope.Actor.Person, scope.Now),
            envelope,
            ct
        );

    private Task<Outcome<QualificationView>> OneAsync(
        WelderQualificationId id,
        object content,
        string eventType,
        Func<WelderQualification, CommandScope, Outcome<Done>> act,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<QualificationView>(
            Permission.RunShop,
            envelope,
            content,
            async scope =>
            {
                var found = await scope.Db.Set<WelderQualification>().SingleOrDefaultAsync(q => q.Id == id, ct);
                if (found is not { } qualification)
                {
                    return Failure.Missing("qualification");
                }

                return (scope.Stale(qualification) ?? act(qualification, scope).Failure) is { } refused
                    ? refused
                    : await SavedAsync(scope, qualification, eventType);
            },
            ct
        );

    private static async Task<Outcome<QualificationView>> SavedAsync(
        CommandScope scope,
        WelderQualification qualification,
        string eventType
    )
    {
        scope.Record(
            new EventDraft(
                eventType,
                "qualification",
                qualification.Id.Value,
                After: new
                {
                    person = qualification.Person,
                    qualification.Process,
                    qualification.Standard,
                    qualification.ValidUntil,
                    qualification.IsRetired,
                }
            )
        );
        await scope.SaveAsync();
        var person = qualification.Person.Value;
        var name = await scope
            .Db.Users.Where(u => u.Id == person)
            .Select(u => u.DisplayName)
            .SingleOrDefaultAsync(scope.Cancellation);
        return QualificationView.Of(qualification, name, (await scope.ShopAsync()).LocalDay(scope.Now));
    }
}
