using ShopFloor.Application.Intake.HandOvers;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Web.Features.HandOvers;

/// <summary>One photo of the drop-off and what is said of its place now.</summary>
public sealed class WalkRoundPlace(PhotoView photo)
{
    public PhotoView Photo => photo;

    public string Title => photo.Caption ?? (photo.Place is { } place ? PlanZone.Nearest(place).Title : "not placed");

    public bool? IsSame { get; set; }

    public string? Note { get; set; }

    public string? NewPhoto { get; set; }

    /// <summary>One place a walk-round photo; what was said of it already stays.</summary>
    public static IReadOnlyList<WalkRoundPlace> Of(IReadOnlyList<PhotoView> photos, IReadOnlyList<WalkRoundPlace> said)
    {
        var known = said.ToDictionary(l => l.Photo.Id);
        return
        [
            .. photos
                .Where(p => p.Kind == PhotoKind.WalkRound)
                .Select(p => known.GetValueOrDefault(p.Id) ?? new WalkRoundPlace(p)),
        ];
    }

    /// <summary>Those that were compared, as sent.</summary>
    public static IReadOnlyList<LookInput> Compared(IReadOnlyList<WalkRoundPlace> places) =>
        [.. places.Where(p => p.IsSame is not null).Select(p => p.ToInput())];

    private LookInput ToInput() =>
        new(
            photo.Id,
            Guid.TryParse(NewPhoto, out var id) ? new PhotoId(id) : null,
            IsSame,
            IsSame == false ? Note : null
        );
}
