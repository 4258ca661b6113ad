using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>What whoever collects an unfinished car reads before signing.</summary>
/// <param name="Statement">What the signature says.</param>
/// <param name="Cautions">What an unfinished car can do.</param>
/// <param name="WhoDecides">Where the cautions end.</param>
public sealed record ReturnNotice(string Statement, IReadOnlyList<Caution> Cautions, string WhoDecides)
{
    /// <summary>The words in use now; a return keeps the hash of the words that were shown.</summary>
    public static ReturnNotice Current { get; } =
        new(
            "I take this car back unfinished, with the keys and parts listed here. I have read what was cut and what was left open.",
            Common.Cautions.Unfinished,
            Common.Cautions.WhoDecides
        );

    /// <summary>SHA-256 of the canonical text, 64 lower-case hex digits: shows later which words were signed.</summary>
    public string Hash =>
        CanonicalJson.Sha256(
            CanonicalJson.Write(
                new JsonObject
                {
                    ["statement"] = Statement,
                    ["cautions"] = new JsonArray([.. Cautions.Select(c => JsonValue.Create(c.Text))]),
                    ["whoDecides"] = WhoDecides,
                }
            )
        );
}
