using System.Globalization;
using ShopFloor.Application.Common;
using ShopFloor.Application.Planning;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Planning;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.Planning;

/// <summary>The plan: what is in danger, each car's days, each day's work, the load of the weeks.</summary>
public partial class PlanPage(ReadPlan read, AskForPlan ask, ChangePlanWishes change, ShopHead head, TimeProvider clock)
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(1);

    private PlanView? plan;
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private string seconds = PlanRun.UsualSeconds.ToString(CultureInfo.InvariantCulture);
    private string who = "";
    private int shownDays = 10;
    private bool isBusy;
    private bool isStopping;
    private bool isWatching;
    private (JobId Job, string Operation, DateTimeOffset From)? open;
    private IReadOnlyList<FieldError> errors = [];

    private bool MayPlan => Actor.May(Permission.RunJobs);

    protected override async Task<Failure?> LoadAsync()
    {
        var outcome = await read.RunAsync(Actor, Closing);
        plan = outcome.IsSuccess ? outcome.Value : plan;
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        if (plan?.Running is { } run && !isWatching)
        {
            _ = WatchAsync(run.Id);
        }

        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject is "plan" or "shop" or "person";

    private async Task AskAsync()
    {
        isBusy = true;
        var request = new AskForPlan.Request(int.Parse(seconds, CultureInfo.InvariantCulture));
        if (Accepted(await ask.RunAsync(request, Envelope(NewKey()), Closing), out _))
        {
            await ReloadAsync();
        }

        isBusy = false;
    }

    private async Task StopAsync()
    {
        isStopping = true;
        if (plan?.Running is { } run)
        {
            Accepted(await ask.CancelAsync(run.Id, Envelope(NewKey()), Closing), out _);
        }
    }

    /// <summary>Follows a search until it has ended, here or at another server.</summary>
    private async Task WatchAsync(PlanRunId id)
    {
        isWatching = true;
        try
        {
            using var timer = new PeriodicTimer(Pause, clock);
            while (await timer.WaitForNextTickAsync(Closing))
            {
                var now = await read.RunOfAsync(id, Actor, Closing);
                var goesOn = now.IsSuccess && now.Value is { State: PlanRunState.Running, IsAlive: true };
                await InvokeAsync(async () =>
                {
                    if (goesOn && plan is not null)
                    {
                        plan = plan with { Running = now.Value };
                    }
                    else
                    {
                        isWatching = isStopping = false;
                        await ReloadAsync();
                    }

                    StateHasChanged();
                });
                if (!goesOn)
                {
                    return;
                }
            }
        }
        catch (OperationCanceledException) when (Closing.IsCancellationRequested)
        {
            // The page was closed.
        }
        catch (ObjectDisposedException)
        {
            // The circuit ended while an answer was on its way.
        }
        finally
        {
            isWatching = false;
        }
    }

    private async Task PressAsync(PlanCarView car, int by)
    {
        isBusy = true;
        var outcome = await change.PressAsync(car.Job, new ChangePlanWishes.Press(By: by), Envelope(NewKey()), Closing);
        if (
            Accepted(
                outcome,
                out var wishes,
                $"{car.Number} is now \"{PlanTimes.Weight(Said(outcome))}\". The next plan goes by it."
            )
        )
        {
            plan = plan! with
            {
                Cars = [.. plan.Cars.Select(c => c.Job == car.Job ? c with { Weight = wishes.Weight } : c)],
            };
        }

        isBusy = false;

        static int Said(Outcome<PlanWishesView> outcome) =>
            outcome.IsSuccess ? outcome.Value.Weight : PlanWishes.UsualWeight;
    }

    private async Task WishAsync(OperationWish wish)
    {
        if (open is not { } at)
        {
            return;
        }

        isBusy = true;
        var outcome = await change.WishAsync(wish, at.Job, Envelope(NewKey()), Closing);
        isBusy = false;
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out _, "Noted. The next plan keeps it."))
        {
            open = null;
            await ReloadAsync();
        }
    }

    private bool Is(PlanLineView line) => open == (line.Job, line.Operation, line.From);

    private void Open(PlanLineView line)
    {
        errors = [];
        open = Is(line) ? null : (line.Job, line.Operation, line.From);
    }

    private string Local(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("ddd d MMM HH:mm", CultureInfo.InvariantCulture);

    private static string H(decimal hours) => hours.ToString("0.#", CultureInfo.InvariantCulture);
}
