using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Removed;

/// <summary>Where a job's car and its keys are in the shop.</summary>
public sealed class Whereabouts : IVersioned
{
    /// <summary>Moves shown; older ones stay in the history.</summary>
    public const int MostMoves = 50;

    private Whereabouts() { }

    public JobId JobId { get; private set; }
    public long Version { get; private set; }

    /// <summary>Null until somebody says.</summary>
    public string? Car { get; private set; }
    public string? Keys { get; private set; }
    public IReadOnlyList<PlaceMove> CarMoves { get; private set; } = [];
    public IReadOnlyList<PlaceMove> KeyMoves { get; private set; } = [];

    public static Whereabouts Of(JobId job) => new() { JobId = job };

    /// <summary>Notes where car and keys are now; null leaves one as it is.</summary>
    public Outcome<Done> Note(string? car, string? keys, PartOut.Hand by)
    {
        var errors = new FieldErrors();
        var cleanCar = TextRules.Optional(car, "car", "The car's place", TextRules.Name, errors);
        var cleanKeys = TextRules.Optional(keys, "keys", "The keys' place", TextRules.Name, errors);
        errors.AddIf(
            !errors.Any && cleanCar is null && cleanKeys is null,
            "car",
            "Say where the car stands or where its keys are."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        if (cleanCar is not null && cleanCar != Car)
        {
            Car = cleanCar;
            CarMoves = [.. CarMoves.TakeLast(MostMoves - 1), new PlaceMove(cleanCar, by.Person, by.At)];
        }

        if (cleanKeys is not null && cleanKeys != Keys)
        {
            Keys = cleanKeys;
            KeyMoves = [.. KeyMoves.TakeLast(MostMoves - 1), new PlaceMove(cleanKeys, by.Person, by.At)];
        }

        return Outcome.Ok;
    }
}
