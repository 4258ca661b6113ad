using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Workbench.Dies;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Fabrication;

namespace ShopFloor.Application.Workbench;

/// <summary>What a calculator's page begins with.</summary>
/// <param name="Unit">How the shop measures.</param>
/// <param name="Typed">What this person typed here last, as an address carries it; null where nothing was.</param>
/// <param name="Dies">Those in use.</param>
public sealed record BenchStart(LengthUnit Unit, string? Typed, IReadOnlyList<BenderDieView> Dies);

/// <summary>Opens a calculator for a person.</summary>
public sealed class OpenBench(QueryRunner runner) : IUseCase
{
    public Task<Outcome<BenchStart>> RunAsync(string calculator, Actor actor, CancellationToken ct) =>
        runner.RunAsync<BenchStart>(
            Permission.SeeFloor,
            actor,
            async db =>
            {
                var shop = await db.Shops.SingleAsync(ct);
                var typed = actor.Person is { } person
                    ? await db.Set<BenchMemory>()
                        .Where(m => m.Person == person && m.Calculator == calculator)
                        .Select(m => m.Typed)
                        .SingleOrDefaultAsync(ct)
                    : null;
                return new BenchStart(shop.LengthUnit, typed, await DieViews.InUseAsync(db, ct));
            },
            ct
        );
}

/// <summary>Remembers what a person typed at a calculator. It is nobody else's business, so the history does not hold it.</summary>
public sealed class RememberBench(CommandRunner runner) : IUseCase
{
    public Task<Outcome<Done>> RunAsync(
        BenchSheet sheet,
        BenchValues values,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync(
            Permission.SeeFloor,
            envelope,
            null,
            async scope =>
            {
                var typed = values.ToQuery();
                if (scope.Actor.Person is not { } person || typed.Length > 3 * BenchValues.LongestText)
                {
                    return Outcome.Ok;
                }

                var memory = await scope
                    .Db.Set<BenchMemory>()
                    .SingleOrDefaultAsync(m => m.Person == person && m.Calculator == sheet.Code, ct);
                if (memory is null)
                {
                    memory = BenchMemory.Of(person, sheet.Code);
                    scope.Db.Add(memory);
                }

                memory.Keep(typed, scope.Now);
                return Outcome.Ok;
            },
            ct
        );
}
