using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Intake;

/// <summary>What the customer reads before signing: what is authorised, the cautions, and what changes on the road.</summary>
/// <param name="Authorisation">What the signature allows.</param>
/// <param name="Cautions">Hazards of the work in a car.</param>
/// <param name="RoadUse">What a bar changes when the car is driven on the road.</param>
/// <param name="WhoDecides">Where the cautions end.</param>
public sealed record AuthorisationNotice(
    string Authorisation,
    IReadOnlyList<Caution> Cautions,
    IReadOnlyList<Caution> RoadUse,
    string WhoDecides
)
{
    /// <summary>The words in use now; a signature keeps the hash of the words that were shown.</summary>
    public static AuthorisationNotice Current { get; } =
        new(
            "I authorise the shop to take out seats, trim and insulation where the work is, to clean seams and floor to bare metal, and to cut, drill, grind and weld on this car as quoted. I know that this work cannot be undone.",
            Common.Cautions.Work,
            Common.Cautions.RoadUse,
            Common.Cautions.WhoDecides
        );

    /// <summary>SHA-256 of the canonical text, 64 lower-case hex digits: shows later which words were signed.</summary>
    public string Hash =>
        CanonicalJson.Sha256(
            CanonicalJson.Write(
                new JsonObject
                {
                    ["authorisation"] = Authorisation,
                    ["cautions"] = Texts(Cautions),
                    ["roadUse"] = Texts(RoadUse),
                    ["whoDecides"] = WhoDecides,
                }
            )
        );

    private static JsonArray Texts(IReadOnlyList<Caution> cautions) =>
        new([.. cautions.Select(c => JsonValue.Create(c.Text))]);
}
