using ShopFloor.Application.Workbench;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Workbench;

/// <summary>Writes what is typed while it is typed: one write at a time, and of the strokes that come meanwhile only the last. Used by one page alone, on its own thread of work.</summary>
public sealed class BenchWriter(
    Func<BenchValues, CancellationToken, Task<Outcome<Done>>> write,
    CancellationToken closing
)
{
    private BenchValues? next;
    private bool isWriting;

    /// <summary>Nothing is left to be written.</summary>
    public bool IsWritten => !isWriting && next is null;

    public async Task WriteAsync(BenchValues values)
    {
        next = values;
        if (isWriting)
        {
            return;
        }

        isWriting = true;
        try
        {
            while (next is { } now && !closing.IsCancellationRequested)
            {
                next = null;
                // A refusal (the database is busy) is no news to somebody who types: the next stroke writes again.
                _ = await write(now, closing);
            }
        }
        catch (OperationCanceledException) when (closing.IsCancellationRequested)
        {
            // The page was closed; what was written last is remembered.
        }
        finally
        {
            isWriting = false;
        }
    }
}
