using System.Security.Cryptography;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Inspection.Packs;

public enum PrivateKind
{
    /// <summary>A person's or customer's name.</summary>
    Name,

    /// <summary>The strokes of a signature, as JSON.</summary>
    Signature,
}

/// <summary>Something about a person that belongs to a frozen record but can be forgotten.</summary>
/// <param name="Of">Id of the person or customer.</param>
/// <param name="Salt">Random; keeps a forgotten name from being guessed by its hash.</param>
public sealed record PrivateFact(PrivateKind Kind, Guid Of, string Content, string Salt)
{
    private const int SaltBytes = 16;

    public static PrivateFact Salted(PrivateKind kind, Guid of, string content) =>
        new(kind, of, content, Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(SaltBytes)));

    /// <summary>What the record says of it.</summary>
    public SealedFact Seal() => new(Kind, Of, CanonicalJson.Sha256(CanonicalJson.Write(this, FrozenJson.Options)));
}

/// <summary>The trace of a <see cref="PrivateFact"/> in the record: whoever knows content and salt can show that it is the one.</summary>
/// <param name="Sha256">Of the canonical JSON of the fact with its salt.</param>
public sealed record SealedFact(PrivateKind Kind, Guid Of, string Sha256);
