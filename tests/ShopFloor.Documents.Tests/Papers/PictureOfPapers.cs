using ShopFloor.Documents.Papers.Models;

namespace ShopFloor.Documents.Tests.Papers;

/// <summary>Writes every paper into the folder named by SHOPFLOOR_PAPERS_OUT, to be looked at; without it the files go to a temporary folder.</summary>
public sealed class PictureOfPapers
{
    [Fact]
    public async Task Every_paper_can_be_written_to_a_file()
    {
        var named = Environment.GetEnvironmentVariable("SHOPFLOOR_PAPERS_OUT");
        var folder = named ?? Directory.CreateTempSubdirectory("papers").FullName;
        foreach (var kind in PaperTests.Kinds.Select(k => k.Data))
        {
            foreach (var settings in (PaperSettings[])[Samples.A4, Samples.Letter])
            {
                var file = Path.Combine(folder, $"{kind}-{settings.Size}.pdf");
                await File.WriteAllBytesAsync(
                    file,
                    PaperTests.Make(kind, settings),
                    TestContext.Current.CancellationToken
                );
                Assert.True(new FileInfo(file).Length > 5_000);
            }
        }

        if (named is null)
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
