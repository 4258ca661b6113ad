using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Routing;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Planning;

/// <summary>How pressing a job is, and what is wished for single operations; the next plan keeps it.</summary>
public sealed record PlanWishesView(JobId Job, long Version, int Weight, IReadOnlyList<OperationWish> Operations);

/// <summary>Changes what the shop wishes of the plan: a job sooner or later, an operation given to somebody, not before a day, or pinned.</summary>
public sealed class ChangePlanWishes(CommandRunner runner) : IUseCase
{
    /// <summary>Pinned beginnings lie within so many days.</summary>
    public const int MostDays = WorkAxis.MostDays;

    /// <param name="By">+1 sooner, −1 later; null to set <paramref name="Weight"/>.</param>
    public sealed record Press(int? Weight = null, int? By = null);

    public Task<Outcome<PlanWishesView>> PressAsync(JobId id, Press request, Envelope envelope, CancellationToken ct) =>
        ChangeAsync(
            id,
            new { id, request },
            envelope,
            (_, wishes, _) =>
                Task.FromResult(
                    wishes.Press(
                        request.Weight
                            ?? Math.Clamp(
                                wishes.Weight + (request.By ?? 0),
                                PlanWishes.LeastWeight,
                                PlanWishes.MostWeight
                            )
                    )
                ),
            ct
        );

    public Task<Outcome<PlanWishesView>> WishAsync(
        OperationWish wish,
        JobId id,
        Envelope envelope,
        CancellationToken ct
    ) =>
        ChangeAsync(
            id,
            new { id, wish },
            envelope,
            async (scope, wishes, job) =>
            {
                if (job.Operation(wish.Operation) is not { IsOver: false } operation)
                {
                    return Failure.Missing($"operation as {wish.Operation} left to do on {job.Number}");
                }

                var errors = new FieldErrors();
                var shop = await scope.ShopAsync();
                var today = shop.LocalDay(scope.Now);
                errors.AddIf(
                    wish.NotBefore < today || wish.NotBefore > today.AddDays(MostDays),
                    "notBefore",
                    $"The day lies within {MostDays} days from today."
                );
                errors.AddIf(
                    wish.At < scope.Now || wish.At > scope.Now.AddDays(MostDays),
                    "at",
                    $"The beginning lies within {MostDays} days from now."
                );
                if (wish.Person is { } person)
                {
                    var hands = await PlanLoading.EverybodyAsync(scope.Db, scope.Now, scope.Cancellation);
                    var hand = hands.FirstOrDefault(h => h.Id == person);
                    errors.AddIf(hand is null, "person", "There is no such person at work.");
                    errors.AddIf(
                        hand is not null && !hand.Skills.Contains(operation.Skill),
                        "person",
                        $"{hand?.Name} does not have the skill {operation.Skill} that {operation.Code} {operation.Title} needs. The owner can add it under Hours and skills."
                    );
                }

                if (errors.Any)
                {
                    return errors.ToFailure();
                }

                wishes.Wish(wish);
                return Outcome.Ok;
            },
            ct
        );

    private Task<Outcome<PlanWishesView>> ChangeAsync(
        JobId id,
        object content,
        Envelope envelope,
        Func<CommandScope, PlanWishes, Job, Task<Outcome<Done>>> change,
        CancellationToken ct
    ) =>
        runner.RunAsync<PlanWishesView>(
            Permission.RunJobs,
            envelope,
            content,
            async scope =>
            {
                var job = await scope.Db.JobsWhole().SingleOrDefaultAsync(j => j.Id == id, scope.Cancellation);
                if (job is null)
                {
                    return Failure.Missing("job");
                }

                if (job.State != JobState.Open)
                {
                    return Failure.Because("jobClosed", $"{job.Number} is no longer open; there is nothing to plan.");
                }

                var wishes = await scope.Db.Set<PlanWishes>().SingleOrDefaultAsync(w => w.Id == id, scope.Cancellation);
                if (wishes is null)
                {
                    wishes = PlanWishes.Of(id);
                    scope.Db.Add(wishes);
                }

                if (scope.Stale(wishes) is { } stale)
                {
                    return stale;
                }

                var before = new { weight = wishes.Weight, operations = wishes.Operations };
                if ((await change(scope, wishes, job)).Failure is { } wrong)
                {
                    return wrong;
                }

                scope.Record(
                    new EventDraft(
                        "plan.wished",
                        "job",
                        id.Value,
                        id,
                        before,
                        new { weight = wishes.Weight, operations = wishes.Operations }
                    )
                );
                await scope.SaveAsync();
                return new PlanWishesView(id, wishes.Version, wishes.Weight, wishes.Operations);
            },
            ct
        );
}
