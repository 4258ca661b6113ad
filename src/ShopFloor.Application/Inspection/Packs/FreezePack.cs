using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Inspection;
using ShopFloor.Domain.Inspection.Packs;
using ShopFloor.Domain.Intake;
using ShopFloor.Domain.Routing;

namespace ShopFloor.Application.Inspection.Packs;

/// <summary>Freezes the record of a sign-off, in the sign-off's own transaction.</summary>
public sealed class FreezePack(PackComposer composer) : IUseCase
{
    /// <param name="strokes">The signature as drawn; null where it is given by pen.</param>
    internal async Task<Outcome<InspectionPack>> AddAsync(
        CommandScope scope,
        Job job,
        JobInspection inspection,
        SignOff signOff,
        IReadOnlyList<IReadOnlyList<int>>? strokes
    )
    {
        var draft = await composer.ComposeAsync(scope.Db, job, inspection, scope.Cancellation);
        var facts = draft.Names.Select(n => PrivateFact.Salted(PrivateKind.Name, n.Key, n.Value)).ToList();
        if (strokes is not null)
        {
            var signature = Signature.Take(
                new SignatureDetails(SignatureKind.OnScreen, draft.Names[signOff.SignedBy.Value], strokes),
                "signature",
                signOff.SignedAt
            );
            if (!signature.TryGet(out var drawn, out var failure))
            {
                return failure;
            }

            facts.Add(
                PrivateFact.Salted(PrivateKind.Signature, signOff.SignedBy.Value, InspectionPack.Write(drawn.Strokes))
            );
        }

        var pack = InspectionPack.Freeze(signOff.Id, job.Id, draft.Record, facts, scope.Now);
        scope.Db.Add(pack);
        return pack;
    }
}
