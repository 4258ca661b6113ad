using ShopFloor.Documents.Tests.Papers;
using ShopFloor.Documents.Workbench;

namespace ShopFloor.Documents.Tests.Workbench;

/// <summary>Writes the workbench's papers into the folder named by SHOPFLOOR_PAPERS_OUT, to be looked at.</summary>
public sealed class PictureOfWorkbenchPapers
{
    [Fact]
    public async Task Every_paper_of_the_workbench_can_be_written_to_a_file()
    {
        var named = Environment.GetEnvironmentVariable("SHOPFLOOR_PAPERS_OUT");
        var folder = named ?? Directory.CreateTempSubdirectory("workbench").FullName;
        var papers = new WorkbenchPapers();
        foreach (
            var (name, pdf) in ((string, byte[])[])
                [
                    ("wrap", papers.Wrap(WrapSamples.Skew.Template(bendPlane: 130), Samples.A4)),
                    ("wrap-wide", papers.Wrap(WrapSamples.Wide.Template(), Samples.Letter)),
                    ("bends", papers.Bends(CardTests.Hoop, Samples.A4)),
                    ("hinges", papers.HingeCuts(CardTests.DoorBar, Samples.A4)),
                    ("saw", papers.SawCuts(CardTests.Saw, Samples.A4)),
                    ("skip-weld", papers.SkipWelds(CardTests.Plate, Samples.A4)),
                ]
        )
        {
            var file = Path.Combine(folder, $"workbench-{name}.pdf");
            await File.WriteAllBytesAsync(file, pdf, TestContext.Current.CancellationToken);
            Assert.True(new FileInfo(file).Length > 5_000);
        }

        if (named is null)
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
