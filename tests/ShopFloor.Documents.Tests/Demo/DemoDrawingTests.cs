using ShopFloor.Documents.Demo;
using ShopFloor.Documents.Images;

namespace ShopFloor.Documents.Tests.Demo;

public sealed class DemoDrawingTests
{
    public static TheoryData<DemoScene> Scenes => [.. Enum.GetValues<DemoScene>()];

    [Theory]
    [MemberData(nameof(Scenes))]
    public async Task Every_demo_drawing_is_taken_as_a_photo_and_the_same_number_gives_the_same_picture(DemoScene scene)
    {
        using var processor = new SkiaImageProcessor();
        var drawing = DemoDrawing.Png(scene, "Left plate, tacked", 3);
        if (Environment.GetEnvironmentVariable("SHOPFLOOR_PAPERS_OUT") is { } folder)
        {
            await File.WriteAllBytesAsync(
                Path.Combine(folder, $"demo-{scene}.png"),
                drawing,
                TestContext.Current.CancellationToken
            );
        }

        var photo = await processor.ProcessAsync(drawing, ct: TestContext.Current.CancellationToken);

        Assert.Equal((1600, 1200), (photo.Value.Width, photo.Value.Height));
        Assert.Equal(drawing, DemoDrawing.Png(scene, "Left plate, tacked", 3));
        Assert.NotEqual(drawing, DemoDrawing.Png(scene, "Right plate, tacked", 3));
    }
}
