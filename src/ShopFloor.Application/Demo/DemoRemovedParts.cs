using System.Globalization;
using ShopFloor.Application.Removed;

namespace ShopFloor.Application.Demo;

/// <summary>What comes out of the demo's cars with the trim, and goes back with it; where the cars and keys are.</summary>
internal sealed class DemoRemovedParts(DemoWorld world)
{
    private const string MadeSafe = "20";
    private const string TrimOut = "30";
    private const string TrimBack = "250";

    private static readonly (string What, string From, int Fasteners)[] Usual =
    [
        ("Driver's seat", "front left", 4),
        ("Passenger's seat", "front right", 4),
        ("Rear bench", "behind the front seats", 2),
        ("Sill trim left", "left door opening", 6),
        ("Sill trim right", "right door opening", 6),
        ("Belt reels, pair", "B-pillars, low", 4),
    ];

    public async Task FollowAsync(DemoJob job, string code, string person)
    {
        if (job.Data.Car is null || job.Data.Kit is null)
        {
            return;
        }

        var (id, by) = (job.Id!.Value, world.By(person));
        switch (code)
        {
            case MadeSafe:
                await Do(
                    job,
                    world
                        .Use<NoteWhereabouts>()
                        .RunAsync(
                            id,
                            new($"Bay {1 + (job.Number % 3)}", $"Key board, hook {job.Number}"),
                            by,
                            CancellationToken.None
                        )
                );
                break;
            case TrimOut:
                foreach (var (what, from, fasteners) in Usual)
                {
                    var shelf = string.Create(CultureInfo.InvariantCulture, $"Shelf {job.Number}");
                    await Do(
                        job,
                        world
                            .Use<TakePartOut>()
                            .RunAsync(id, new(what, from, fasteners, shelf), by, CancellationToken.None)
                    );
                }

                break;
            case TrimBack:
                var things = await Do(job, world.Use<ReadCarThings>().RunAsync(id, by.Actor, CancellationToken.None));
                foreach (var part in things.Parts.Where(p => p.IsUnaccounted))
                {
                    await Do(
                        job,
                        world.Use<RefitPart>().RunAsync(part.Id, new(part.Fasteners), by, CancellationToken.None)
                    );
                }

                break;
        }
    }

    private static Task<T> Do<T>(DemoJob job, Task<Domain.Common.Outcome<T>> task) =>
        DemoWorld.DoAsync(task, job.Data.Key);
}
