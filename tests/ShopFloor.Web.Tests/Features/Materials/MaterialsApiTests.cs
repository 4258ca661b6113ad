using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Files;
using ShopFloor.Application.History;
using ShopFloor.Application.Inspection.Packs;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using ShopFloor.Web.Tests.Quotes;
using UglyToad.PdfPig;

namespace ShopFloor.Web.Tests.Features.Materials;

/// <summary>Material and welds of a job from the first tube to the frozen pack, on both databases.</summary>
public abstract class MaterialsApiTests(ShopHost shop)
{
    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Sign_off_names_what_is_missing_takes_the_owners_word_and_freezes_material_welds_and_certificate()
    {
        var car = await CarStory.BeginAsync(shop, "Tilda Spur");
        await car.WorkUntilAsync();
        await car.PayAsync();
        var (tube, certificate) = await TubeAsync(car);
        var filler = new
        {
            kind = "filler",
            what = "G3Si1",
            size = "0.8 mm",
            mark = "L 9",
            origin = "stock",
        };
        await car.Fabricator.PostAsync($"{car.JobPath}/materials", filler);
        await car.Fabricator.PostAsync(
            $"{car.JobPath}/materials/{tube}/correct",
            new
            {
                what = "Main hoop",
                size = "45 x 2.5 mm",
                mark = "H 4712",
                origin = "stock",
                reason = "Misread",
            },
            200
        );
        var qualification = await QualifyAsync(car, DateOnly.FromDateTime(shop.Clock.GetUtcNow().DateTime).AddDays(-1));
        var all = await car.Fabricator.GetJsonAsync($"{car.JobPath}/materials");
        var codes = all.GetProperty("joints").EnumerateArray().Select(j => j.Text("code")).ToList();
        Assert.Equal(
            [
                "stand-joints",
                "plates-left",
                "plates-right",
                "hoop-foot-left",
                "hoop-foot-right",
                "brace-left",
                "brace-right",
            ],
            codes
        );
        var weld = new
        {
            joints = codes.SkipLast(1),
            qualificationId = qualification,
            procedure = "WPS 3",
            filler = 2,
        };
        await car.Fabricator.PostAsync($"{car.JobPath}/welds", weld, 200);

        var refused = await car.Inspector.PostAsync($"{car.JobPath}/sign-off", new { }, 409);
        Assert.Equal(
            ["expiredQualification", "noMaterial", "noWelder"],
            refused.GetProperty("reasons").EnumerateArray().Select(r => r.Text("code")).Order(StringComparer.Ordinal)
        );
        await car.Fabricator.PostAsync($"{car.JobPath}/materials/accept-missing", new { reason = "x" }, 403);
        await car.Owner.PostAsync($"{car.JobPath}/materials/accept-missing", new { }, 400);
        var accepted = await car.Owner.PostAsync(
            $"{car.JobPath}/materials/accept-missing",
            new { reason = "Plates cut from the rack, seen by me" },
            200
        );
        Assert.Equal(0, accepted.GetProperty("gaps").GetArrayLength());
        await car.Inspector.PostAsync($"{car.JobPath}/sign-off", new { }, 200);
        await car.Fabricator.PostAsync($"{car.JobPath}/materials", filler, 409);

        await FrozenAsync(car, certificate);
        await ChangesAreFoundAsync(car, certificate);
        Assert.Empty(await shop.WithAsync<VerifyHistory, IReadOnlyList<string>>(v => v.RunAsync(Ct)));
    }

    [Fact]
    public async Task Certificate_is_a_pdf_or_a_picture_and_an_earlier_one_stays()
    {
        var car = await CarStory.BeginAsync(shop, "Nils Spur");
        var (tube, first) = await TubeAsync(car);
        var path = $"{car.JobPath}/materials/{tube}/certificate";
        using (var text = await UploadAsync(car, path, "no certificate"u8.ToArray()))
        {
            Assert.Equal(415, (int)text.StatusCode);
        }

        using (var picture = await UploadAsync(car, path, CarStory.Picture()))
        {
            Assert.Equal(200, (int)picture.StatusCode);
        }

        Assert.Equal(first, await car.Inspector.GetByteArrayAsync(CertificateOf(tube, 2), Ct));
        using var latest = await car.Inspector.GetAsync(CertificateOf(tube, null), Ct);
        Assert.Equal("image/jpeg", latest.Content.Headers.ContentType!.MediaType);
        using var none = await car.Inspector.GetAsync(CertificateOf(tube, 1), Ct);
        Assert.Equal(404, (int)none.StatusCode);
        using var guest = shop.CreateClient();
        using var closed = await guest.GetAsync(CertificateOf(tube, null), Ct);
        Assert.Equal(401, (int)closed.StatusCode);
    }

    [Fact]
    public async Task Two_people_who_write_down_at_once_both_leave_their_piece()
    {
        var car = await CarStory.BeginAsync(shop, "Karl Spur");
        using var other = await shop.ApiAsync(Role.Fabricator, shop.OtherFabricator);
        object Piece(string mark) =>
            new
            {
                kind = "plate",
                what = "Foot plate",
                size = "3 mm",
                mark,
                origin = "bought",
            };
        await Task.WhenAll(
            car.Fabricator.PostAsync($"{car.JobPath}/materials", Piece("P 1")),
            other.PostAsync($"{car.JobPath}/materials", Piece("P 2"))
        );
        var all = await car.Inspector.GetJsonAsync($"{car.JobPath}/materials");
        Assert.Equal([1, 2], all.GetProperty("materials").EnumerateArray().Select(m => m.Number("number")).Order());
        await car.Inspector.PostAsync($"{car.JobPath}/joints", new { what = "Gusset", operation = "190" });
        await car.Inspector.PostAsync($"{car.JobPath}/joints", new { what = "Gusset", operation = "nowhere" }, 400);
    }

    private async Task FrozenAsync(CarStory car, byte[] certificate)
    {
        var json = await car.Inspector.GetByteArrayAsync(
            new Uri($"{car.JobPath}/inspection/record", UriKind.Relative),
            Ct
        );
        Assert.DoesNotContain("Fabricator Person", Encoding.UTF8.GetString(json), StringComparison.Ordinal);
        using var record = JsonDocument.Parse(json);
        var tube = record.RootElement.GetProperty("materials")[0];
        Assert.Equal(
            ["H 4711", "H 4711", "H 4712"],
            tube.GetProperty("entries").EnumerateArray().Select(e => e.Text("mark"))
        );
        var hash = Convert.ToHexStringLower(SHA256.HashData(certificate));
        Assert.Equal(hash, tube.GetProperty("entries")[2].Text("certificateSha256"));
        Assert.True(
            record.RootElement.GetProperty("joints")[0].GetProperty("entries")[0].GetProperty("expired").GetBoolean()
        );

        var pdf = await car.Owner.GetByteArrayAsync(new Uri($"{car.JobPath}/inspection/pdf", UriKind.Relative), Ct);
        using var paper = PdfDocument.Open(pdf);
        var text = string.Join(' ', paper.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        foreach (
            var said in new[]
            {
                "Main hoop",
                "H 4712",
                "H 4711",
                "G3Si1",
                "Fabricator Person",
                "WPS 3",
                "run out",
                "Plates cut from the rack",
            }
        )
        {
            Assert.Contains(said, text, StringComparison.Ordinal);
        }

        Assert.Contains(hash, text.Replace(" ", "", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    /// <summary>What is changed behind the program's back, rolled back again.</summary>
    private async Task ChangesAreFoundAsync(CarStory car, byte[] certificate)
    {
        var hash = Convert.ToHexStringLower(SHA256.HashData(certificate));
        foreach (
            var (sql, says) in new[]
            {
                (
                    """UPDATE "JobMaterials" SET "Entries" = REPLACE("Entries", 'H 4711', 'H 4719') WHERE "JobId" = {0}""",
                    "materials and welds stored now"
                ),
                (
                    """UPDATE "WeldedJoints" SET "Entries" = REPLACE("Entries", 'WPS 3', 'WPS 4') WHERE "JobId" = {0}""",
                    "materials and welds stored now"
                ),
                (
                    """UPDATE "JobTraces" SET "Acceptances" = '[]' WHERE "JobId" = {0}""",
                    "materials and welds stored now"
                ),
            }
        )
        {
            var found = await shop.WithAsync<IDbContextFactory<ShopDbContext>, IReadOnlyList<string>>(async contexts =>
            {
                await using var db = await contexts.CreateDbContextAsync(Ct);
                await using var transaction = await db.Database.BeginTransactionAsync(Ct);
                Assert.True(await db.Database.ExecuteSqlRawAsync(sql, [JobId.From(new Guid(car.JobId)).Value], Ct) > 0);
                return await shop.WithAsync<IFileStore, IReadOnlyList<string>>(files =>
                    new PackVerifier(files).VerifyAsync(db, Ct)
                );
            });
            Assert.Contains(found, f => f.Contains(says, StringComparison.Ordinal));
        }

        await shop.FlipBitAsync(hash);
        var damaged = await shop.WithAsync<VerifyHistory, IReadOnlyList<string>>(v => v.RunAsync(Ct));
        Assert.Contains(
            damaged,
            f => f.Contains("the certificate of material 1 was changed", StringComparison.Ordinal)
        );
        await shop.FlipBitAsync(hash);
    }

    private static Uri CertificateOf(string tube, int? entry) =>
        new($"/api/v1/materials/{tube}/certificate{(entry is { } n ? $"?entry={n}" : "")}", UriKind.Relative);

    /// <summary>A tube with its certificate; its id and the file.</summary>
    private static async Task<(string Id, byte[] Certificate)> TubeAsync(CarStory car)
    {
        var written = await car.Fabricator.PostAsync(
            $"{car.JobPath}/materials",
            new
            {
                kind = "tube",
                what = "Main hoop",
                size = "45 x 2.5 mm",
                grade = "E355",
                mark = "H 4711",
                origin = "stock",
                from = "Rack 2",
            }
        );
        var id = written.GetProperty("materials").EnumerateArray().Last().Text("id");
        var pdf = Encoding.ASCII.GetBytes(
            $"%PDF-1.4\n1 0 obj<</Type/Catalog>>endobj\n% {id}\ntrailer<</Root 1 0 R>>\n%%EOF\n"
        );
        using var kept = await UploadAsync(car, $"{car.JobPath}/materials/{id}/certificate", pdf);
        Assert.True(kept.IsSuccessStatusCode, await kept.Content.ReadAsStringAsync(Ct));
        return (id, pdf);
    }

    private static async Task<HttpResponseMessage> UploadAsync(CarStory car, string path, byte[] bytes)
    {
        using var form = new MultipartFormDataContent();
        using var file = new ByteArrayContent(bytes);
        file.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        form.Add(file, "file", "certificate");
        return await car.Fabricator.PostAsync(new Uri(path, UriKind.Relative), form, Ct);
    }

    private static async Task<string> QualifyAsync(CarStory car, DateOnly until)
    {
        var people = await car.Owner.GetJsonAsync("/api/v1/qualifications");
        var welder = people
            .GetProperty("people")
            .EnumerateArray()
            .First(p => p.Text("name") == "Fabricator Person")
            .Text("id");
        var body = new
        {
            personId = welder,
            process = "135",
            standard = "the shop's own test piece",
            number = $"W {car.JobId[^6..]}",
            validUntil = until,
        };
        await car.Fabricator.PostAsync("/api/v1/qualifications", body, 403);
        return (await car.Owner.PostAsync("/api/v1/qualifications", body)).Text("id");
    }
}

public sealed class MaterialsApiOnSqlite(SqliteShop shop) : MaterialsApiTests(shop), IClassFixture<SqliteShop>;

public sealed class MaterialsApiOnPostgres(PostgresShop shop) : MaterialsApiTests(shop), IClassFixture<PostgresShop>;
