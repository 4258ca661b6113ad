using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Intake.Photos;

/// <summary>A photo as shown; its picture and thumbnail are fetched by its id.</summary>
/// <param name="Place">On the plan of the car; null until placed.</param>
/// <param name="OriginalSha256">Hash of the file as the camera wrote it.</param>
/// <param name="IsShown">It is on the customer's page.</param>
/// <param name="IsRemoved">The picture was deleted; only the record is left.</param>
public sealed record PhotoView(
    PhotoId Id,
    long Version,
    JobId JobId,
    PhotoKind Kind,
    string? Operation,
    ReadingId? ReadingId,
    PlanPlace? Place,
    string? Caption,
    string OriginalSha256,
    int Width,
    int Height,
    DateTimeOffset? TakenAt,
    DateTimeOffset AddedAt,
    bool IsRemoved,
    bool IsShown
)
{
    public static PhotoView Of(Photo photo) =>
        new(
            photo.Id,
            photo.Version,
            photo.JobId,
            photo.Kind,
            photo.OperationCode,
            photo.ReadingId,
            photo.Place,
            photo.Caption,
            photo.OriginalHash,
            photo.Width,
            photo.Height,
            photo.TakenAt,
            photo.AddedAt,
            photo.RemovedAt is not null,
            photo.IsShown
        );
}
