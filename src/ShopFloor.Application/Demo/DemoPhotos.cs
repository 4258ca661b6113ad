using ShopFloor.Application.Common;
using ShopFloor.Application.Intake.Photos;
using ShopFloor.Documents.Demo;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Intake;

namespace ShopFloor.Application.Demo;

/// <summary>Drawings in the place of photos.</summary>
internal sealed class DemoPhotos(DemoWorld world)
{
    private static readonly (DemoScene Scene, string Caption, double X, double Y)[] WalkRound =
    [
        (DemoScene.CarSide, "Left side", 0.05, 0.5),
        (DemoScene.CarSide, "Right side", 0.95, 0.5),
        (DemoScene.CarEnd, "Rear", 0.5, 0.97),
        (DemoScene.Dashboard, "Instruments", 0.6, 0.38),
    ];

    public async Task WalkRoundAsync(DemoJob job, Envelope by)
    {
        foreach (var (scene, caption, x, y) in WalkRound)
        {
            await AddAsync(job, scene, caption, new PhotoInput(PhotoKind.WalkRound, null, x, y, caption), by);
        }
    }

    /// <summary>A picture that proves a reading.</summary>
    public Task<PhotoId> ProveAsync(DemoJob job, string operation, string what, Envelope by) =>
        AddAsync(
            job,
            (job.Data.Kind, operation) switch
            {
                (SaleKind.Shipped, _) or (_, "90") => DemoScene.Plate,
                (_, "60") => DemoScene.Floor,
                _ => DemoScene.Weld,
            },
            what,
            new PhotoInput(PhotoKind.Reading, operation, Caption: what),
            by
        );

    private async Task<PhotoId> AddAsync(DemoJob job, DemoScene scene, string caption, PhotoInput input, Envelope by)
    {
        var drawing = DemoDrawing.Png(scene, $"{job.Data.Car ?? job.Data.Kind.Title()}: {caption}", job.Number);
        var photo = await DemoWorld.DoAsync(
            world.Use<AddPhoto>().RunAsync(job.Id!.Value, input, drawing, by, CancellationToken.None),
            job.Data.Key
        );
        return photo.Id;
    }
}
