using System.Net;
using System.Text;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;

namespace ShopFloor.Web.Tests.Workbench;

/// <summary>Papers of the workbench by address. They store nothing, so one database is enough; what is drawn is checked where it is drawn.</summary>
public sealed class BenchPaperApiTests(SqliteShop shop) : IClassFixture<SqliteShop>
{
    private const string Root = "/api/v1/workbench/";

    [Theory]
    [InlineData(
        "notch/papers/wrap.pdf?unit=in&branchOutsideDiameterMm=1%201/2&branchWallMm=0.095&headerOutsideDiameterMm=1.75&angleDegrees=60",
        "application/pdf",
        "%PDF"
    )]
    [InlineData("notch/papers/wrap.svg", "image/svg+xml", "<svg")]
    [InlineData("notch/papers/wrap.dxf", "image/vnd.dxf", "999")]
    [InlineData("tube-path/papers/card.pdf?size=letter", "application/pdf", "%PDF")]
    [InlineData("hinge-cut/papers/card.pdf?size=a4", "application/pdf", "%PDF")]
    [InlineData("heat-input/papers/card.pdf", "application/pdf", "%PDF")]
    public async Task A_paper_is_made_of_the_figures_in_its_address(string path, string type, string begins)
    {
        var (status, answerType, body) = await GetAsync(path);

        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Equal(type, answerType);
        Assert.StartsWith(begins, Encoding.UTF8.GetString(body).TrimStart(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("notch/papers/wrap.pdf?angleDegrees=91", 400, "angleDegrees")]
    [InlineData("notch/papers/wrap.pdf?angleDegrees=NaN", 400, "angleDegrees")]
    [InlineData("notch/papers/wrap.pdf?branchOutsideDiameterMm=", 400, "branchOutsideDiameterMm")]
    [InlineData("notch/papers/wrap.pdf?branchWallMm=1e3", 400, "branchWallMm")]
    [InlineData("notch/papers/wrap.pdf?offsetMm=999999999999", 400, "offsetMm")]
    [InlineData("notch/papers/wrap.pdf?edge=sharp", 400, "edge")]
    [InlineData("notch/papers/wrap.pdf?bendPlaneDegrees=400", 400, "bendPlaneDegrees")]
    [InlineData("notch/papers/wrap.pdf?size=a3", 400, "size")]
    [InlineData(
        "notch/papers/wrap.pdf?branchOutsideDiameterMm=4000&headerOutsideDiameterMm=5000&angleDegrees=20",
        409,
        "tooManySheets"
    )]
    [InlineData("tube-path/papers/card.pdf?points=0;0;0", 400, "points")]
    [InlineData("tube-path/papers/card.pdf?points=0;0;0%0A0;0", 400, "points")]
    [InlineData("tube-path/papers/card.pdf?points=0;0;0%0A0;0;0", 400, "points")]
    [InlineData("hinge-cut/papers/card.pdf?ends[0].bendTangentMm=10", 400, "ends[0].bendTangentMm")]
    [InlineData("heat-input/papers/card.pdf?currentA=0", 400, "currentA")]
    [InlineData("heat-input/papers/card.pdf?runMm=0.0001", 400, "runMm")]
    [InlineData("notch/papers/nothing.pdf", 404, "paper")]
    [InlineData("nothing/papers/wrap.pdf", 404, "calculator")]
    public async Task What_does_not_fit_is_named(string path, int status, string named)
    {
        var (answered, _, body) = await GetAsync(path);

        Assert.Equal(status, (int)answered);
        Assert.Contains(named, Encoding.UTF8.GetString(body), StringComparison.Ordinal);
    }

    private async Task<(HttpStatusCode Status, string? Type, byte[] Body)> GetAsync(string path)
    {
        using var api = await shop.ApiAsync(Role.Fabricator);
        using var answer = await api.GetAsync(
            new Uri(Root + path, UriKind.Relative),
            TestContext.Current.CancellationToken
        );
        return (
            answer.StatusCode,
            answer.Content.Headers.ContentType?.MediaType,
            await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken)
        );
    }
}
