using ShopFloor.Application.Quoting;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Application.Demo;

/// <summary>One change of the price book by the owner.</summary>
/// <param name="From">The day from which it is in force; null while it is still a draft today.</param>
internal sealed record DemoBookData(int Day, string Title, IReadOnlyList<DemoBookSet> Set, int? From = null);

/// <summary>A field of one entry, written as it would be typed.</summary>
internal sealed record DemoBookSet(string Table, string Entry, string Field, string Value);

/// <summary>How the owner changes the price book over the weeks: each time in a draft, adopted from a day.</summary>
internal sealed class DemoPriceBook(DemoWorld world)
{
    private const string Owner = "rosa";

    public async IAsyncEnumerable<DateTimeOffset> FollowAsync(IReadOnlyList<DemoBookData> steps)
    {
        foreach (var step in steps)
        {
            yield return world.Calendar.At(step.Day, 8, 30);
            await ChangeAsync(step);
        }
    }

    private async Task ChangeAsync(DemoBookData step)
    {
        var draft = await DemoWorld.DoAsync(
            world.Use<BeginPriceBookDraft>().RunAsync(new(null), world.By(Owner), CancellationToken.None),
            step.Title
        );
        var root = BookRows.Of(draft.Book);
        root.Texts["title"] = step.Title;
        foreach (var set in step.Set)
        {
            var entry = root.Tables[set.Table].Single(r => r.Texts["code"] == set.Entry);
            entry.Texts[set.Field] = set.Value;
        }

        var (book, errors) = BookRows.Read(root, draft.Book.Currency);
        if (book is null)
        {
            throw new InvalidOperationException($"The demo's price book: {errors[0].Path}: {errors[0].Text}");
        }

        await DemoWorld.DoAsync(
            world.Use<SavePriceBookDraft>().RunAsync(new(book), world.By(Owner), CancellationToken.None),
            step.Title
        );
        if (step.From is { } from)
        {
            await DemoWorld.DoAsync(
                world
                    .Use<AdoptPriceBookDraft>()
                    .RunAsync(new(world.Calendar.Day(from)), world.By(Owner), CancellationToken.None),
                step.Title
            );
        }
    }
}
