using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Accounts;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Accounts;

/// <summary>Closes a local day: what was counted of each way to pay beside what the ledger expects. Nothing is booked on the day any more.</summary>
public sealed class CloseDay(CommandRunner runner) : IUseCase
{
    /// <param name="Method">cash, card, bankTransfer or cheque.</param>
    /// <param name="CountedMinor">What was there, minor units; below zero where more was given back than taken.</param>
    /// <param name="Note">Needed where it differs from what is expected.</param>
    public sealed record Count(string? Method, long? CountedMinor, string? Note = null);

    /// <param name="Day">Today or earlier.</param>
    /// <param name="Methods">One for each way to pay of which something is expected.</param>
    public sealed record Request(DateOnly? Day, IReadOnlyList<Count?>? Methods);

    public Task<Outcome<DayView>> RunAsync(Request request, Envelope envelope, CancellationToken ct) =>
        runner.RunAsync<DayView>(
            Permission.TakeMoney,
            envelope,
            request,
            async scope =>
            {
                if (!Read(request).TryGet(out var counts, out var failure))
                {
                    return failure;
                }

                await MoneyDays.LockAsync(scope);
                var day = request.Day!.Value;
                if (await scope.Db.Set<DayClose>().AnyAsync(d => d.Day == day, scope.Cancellation))
                {
                    return Failure.Because(
                        "dayClosed",
                        $"{day:yyyy-MM-dd} was closed already. Put a difference found later on a day that is open."
                    );
                }

                var entries = await scope.Db.Set<LedgerEntry>().Where(e => e.On == day).ToListAsync(scope.Cancellation);
                var closed = DayClose.Close(
                    scope.NewId<DayCloseId>(),
                    day,
                    (await scope.ShopAsync()).LocalDay(scope.Now),
                    DayClose.Expected(entries),
                    counts,
                    JobAccounts.Stamp(scope, day)
                );
                if (!closed.TryGet(out var close, out failure))
                {
                    return failure;
                }

                scope.Db.Add(close);
                scope.Record(
                    new EventDraft(
                        "day.closed",
                        "day",
                        close.Id.Value,
                        After: new
                        {
                            close.Day,
                            methods = close.Methods.Select(m => new
                            {
                                m.Method,
                                m.ExpectedMinor,
                                m.CountedMinor,
                            }),
                        }
                    )
                );
                await scope.SaveAsync();
                return await DayView.OfAsync(scope.Db, day, scope.Cancellation);
            },
            ct
        );

    private static Outcome<IReadOnlyList<MethodCount>> Read(Request request)
    {
        var errors = new FieldErrors();
        errors.AddIf(request.Day is null, "day", "Say which day is closed.");
        var given = request.Methods ?? [];
        errors.AddIf(given.Count > 20, "methods", "These are more ways to pay than there are.");
        var counts = new List<MethodCount>();
        for (var i = 0; i < given.Count && !errors.Any; i++)
        {
            var method = MoneyWords.Method(given[i]?.Method);
            errors.AddIf(method is null, $"methods[{i}].method", "Say cash, card, bankTransfer or cheque.");
            counts.Add(new MethodCount(method ?? default, given[i]?.CountedMinor, given[i]?.Note));
        }

        return errors.Any ? errors.ToFailure() : counts;
    }
}
