using System.Text.Json;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection.Packs;

/// <summary>The record of one sign-off, frozen for good: canonical JSON (RFC 8785) and its SHA-256. Names and signatures stand beside it, so that the hash outlives their erasure.</summary>
public sealed class InspectionPack
{
    private InspectionPack() { }

    /// <summary>The sign-off that froze it.</summary>
    public SignOffId SignOffId { get; private set; }

    public JobId JobId { get; private set; }

    public DateTimeOffset FrozenAt { get; private set; }

    /// <summary>The canonical JSON, as it is given out.</summary>
    public string Record { get; private set; } = "";

    /// <summary>SHA-256 of the UTF-8 bytes of <see cref="Record"/>, 64 lower-case hexadecimal digits.</summary>
    public string RecordHash { get; private set; } = "";

    /// <summary>What can be forgotten.</summary>
    public IReadOnlyList<PrivateFact> Private { get; private set; } = [];

    /// <summary>Freezes what was found; the seals of the private facts become part of the record.</summary>
    public static InspectionPack Freeze(
        SignOffId signOff,
        JobId job,
        PackRecord record,
        IReadOnlyList<PrivateFact> facts,
        DateTimeOffset at
    )
    {
        var text = Write(record with { Sealed = [.. facts.Select(f => f.Seal())] });
        return new InspectionPack
        {
            SignOffId = signOff,
            JobId = job,
            FrozenAt = at,
            Record = text,
            RecordHash = CanonicalJson.Sha256(text),
            Private = facts,
        };
    }

    /// <summary>The canonical text of a record or of a part of one.</summary>
    public static string Write<T>(T part) => CanonicalJson.Write(part, FrozenJson.Options);

    /// <summary>The record as it was frozen.</summary>
    /// <exception cref="JsonException">The stored text was changed so that it cannot be read any more.</exception>
    public PackRecord Read() =>
        JsonSerializer.Deserialize<PackRecord>(Record, FrozenJson.Options) ?? throw new JsonException("null");

    /// <summary>Names of those who are not forgotten, by id.</summary>
    public IReadOnlyDictionary<Guid, string> Names() =>
        Private.Where(f => f.Kind == PrivateKind.Name).ToDictionary(f => f.Of, f => f.Content);

    /// <summary>The strokes with which somebody signed; null where the signature was given by pen or is forgotten.</summary>
    public IReadOnlyList<IReadOnlyList<int>>? StrokesOf(PersonId person) =>
        Private.FirstOrDefault(f => f.Kind == PrivateKind.Signature && f.Of == person.Value) is { } fact
            ? JsonSerializer.Deserialize<int[][]>(fact.Content, FrozenJson.Options)
            : null;

    /// <summary>Forgets a person; the record and its hash stay as they are.</summary>
    public void Forget(Guid person) => Private = [.. Private.Where(f => f.Of != person)];

    /// <summary>What is not as it was frozen; empty when all is well.</summary>
    public IReadOnlyList<string> Audit()
    {
        if (CanonicalJson.Sha256(Record) != RecordHash)
        {
            return ["its hash differs"];
        }

        try
        {
            var seals = Read().Sealed.ToHashSet();
            return Private.All(f => seals.Contains(f.Seal())) ? [] : ["a name or signature beside it was changed"];
        }
        catch (JsonException)
        {
            return ["it cannot be read any more"];
        }
    }
}
