using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Stock;

/// <summary>One kind of piece that a job needs from tube.</summary>
/// <param name="Number">Stays with the line as long as it exists.</param>
/// <param name="Label">Written on the piece.</param>
/// <param name="LengthMm">As it comes off the saw, before it is notched or bent.</param>
/// <param name="Sawn">How many are cut.</param>
/// <param name="From">What it was taken over from: a part of the kit, a saved figure; null where typed.</param>
public sealed record CutLine(
    int Number,
    string Label,
    StockItemId ItemId,
    decimal LengthMm,
    int Quantity,
    int Sawn,
    string? From
)
{
    public int Open => Math.Max(0, Quantity - Sawn);
}

/// <summary>Which pieces of tube a job needs, and how many of them are sawn.</summary>
public sealed class CutList : IVersioned
{
    public const int MostLines = 200;
    public const int MostPieces = 500;

    private CutList() { }

    public JobId JobId { get; private set; }
    public long Version { get; private set; }
    public IReadOnlyList<CutLine> Lines { get; private set; } = [];
    public int LastNumber { get; private set; }

    /// <summary>A line as typed.</summary>
    /// <param name="Number">Of a line that exists; absent for a new one.</param>
    public sealed record LineDetails(
        int? Number,
        string? Label,
        Guid? ItemId,
        decimal? LengthMm,
        int? Quantity,
        string? From = null
    );

    public static CutList Of(JobId job) => new() { JobId = job };

    /// <summary>Writes the list anew. Lines keep their numbers; one of which pieces are sawn or on a saw card stays and does not fall below these.</summary>
    /// <param name="planned">Pieces on saw cards, by line.</param>
    public Outcome<Done> Write(
        IReadOnlyList<LineDetails> lines,
        IReadOnlyDictionary<StockItemId, StockItem> tubes,
        IReadOnlyDictionary<int, int> planned
    )
    {
        ArgumentNullException.ThrowIfNull(lines);
        ArgumentNullException.ThrowIfNull(planned);
        var errors = new FieldErrors();
        errors.AddIf(lines.Count > MostLines, "lines", $"A cut list has at most {MostLines} lines.");
        var read = new List<CutLine>();
        var last = LastNumber;
        for (var i = 0; i < lines.Count && i < MostLines; i++)
        {
            if (ReadLine(lines[i], i, tubes, planned, errors) is { } line)
            {
                var isTwice = line.Number > 0 && read.Exists(r => r.Number == line.Number);
                errors.AddIf(isTwice, $"lines[{i}].number", "This line is in the list twice.");
                read.Add(line.Number > 0 ? line : line with { Number = ++last });
            }
        }

        errors.AddIf(
            read.Sum(l => (long)l.Quantity) > MostPieces,
            "lines",
            $"A job's cut list has at most {MostPieces} pieces."
        );
        foreach (var gone in Lines.Where(l => lines.All(n => n.Number != l.Number)))
        {
            errors.AddIf(
                gone.Sawn + planned.GetValueOrDefault(gone.Number) > 0,
                "lines",
                $"{gone.Label} is sawn or on a saw card and stays in the list."
            );
        }

        if (errors.Any)
        {
            return errors.ToFailure();
        }

        (Lines, LastNumber) = (read, last);
        return Outcome.Ok;
    }

    /// <summary>Pieces of a line came off the saw.</summary>
    internal void Saw(int number, int pieces) =>
        Lines = [.. Lines.Select(l => l.Number == number ? l with { Sawn = l.Sawn + pieces } : l)];

    private CutLine? ReadLine(
        LineDetails line,
        int index,
        IReadOnlyDictionary<StockItemId, StockItem> tubes,
        IReadOnlyDictionary<int, int> planned,
        FieldErrors errors
    )
    {
        var path = $"lines[{index}]";
        var label = TextRules.Required(line.Label, path + ".label", "What the piece is", TextRules.Name, errors);
        var from = TextRules.Optional(line.From, path + ".from", "Where it is from", TextRules.Name, errors);
        var item = line.ItemId is { } id ? tubes.GetValueOrDefault(StockItemId.From(id)) : null;
        errors.AddIf(item is null, path + ".itemId", "Choose a tube that the shop keeps in store.");
        errors.AddIf(
            line.LengthMm is not (> 0 and <= StockItem.LongestStickMm)
                || decimal.Round(line.LengthMm.Value, 3) != line.LengthMm,
            path + ".lengthMm",
            "The length is over 0 and at most 20 m, to a thousandth of a millimetre."
        );
        errors.AddIf(
            line.Quantity is not (> 0 and <= MostPieces),
            path + ".quantity",
            $"How many is a whole number from 1 to {MostPieces}."
        );
        var old = line.Number is { } number ? Lines.FirstOrDefault(l => l.Number == number) : null;
        errors.AddIf(line.Number is not null && old is null, path + ".number", "There is no such line any more.");
        var bound = old is null ? 0 : old.Sawn + planned.GetValueOrDefault(old.Number);
        errors.AddIf(
            line.Quantity < bound,
            path + ".quantity",
            $"{bound} of {label} are sawn or on a saw card: there cannot be fewer."
        );
        errors.AddIf(
            bound > 0 && (old!.ItemId != item?.Id || old.LengthMm != line.LengthMm),
            path + ".lengthMm",
            $"{label} is sawn or on a saw card: its tube and length stay. Add another line for what is different."
        );
        return errors.Any || item is null
            ? null
            : new CutLine(
                old?.Number ?? 0,
                label,
                item.Id,
                line.LengthMm!.Value,
                line.Quantity!.Value,
                old?.Sawn ?? 0,
                from ?? old?.From
            );
    }
}
