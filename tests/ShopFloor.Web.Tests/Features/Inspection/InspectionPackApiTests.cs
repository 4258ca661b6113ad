using System.Net;
using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Files;
using ShopFloor.Application.Inspection.Packs;
using ShopFloor.Data;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Fixtures;
using UglyToad.PdfPig;

namespace ShopFloor.Web.Tests.Features.Inspection;

/// <summary>The record that a sign-off freezes: given out, printed, checked by anybody, kept when people are forgotten.</summary>
public abstract class InspectionPackApiTests(ShopHost shop)
{
    private static readonly object Signed = new { strokes = new[] { new[] { 10, 10, 900, 800 } } };

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Nothing_is_frozen_before_the_sign_off()
    {
        var car = await CarStory.BeginAsync(shop);

        using var record = await car.Inspector.GetAsync(Path(car, "record"), Ct);

        Assert.Equal(HttpStatusCode.NotFound, record.StatusCode);
        Assert.Equal(0, (await PacksAsync(car)).GetArrayLength());
        Assert.Contains("NOT SIGNED OFF", await PaperAsync(car, ""), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Signed_off_record_is_given_out_with_its_hash_and_anybody_can_check_it()
    {
        var car = await SignedOffAsync(Signed);
        var (json, hash) = await RecordAsync(car);

        Assert.Equal(hash, (await PacksAsync(car))[0].GetProperty("record").GetString());
        var text = Encoding.UTF8.GetString(json);
        Assert.DoesNotContain("Ada Kremer", text, StringComparison.Ordinal);

        var page = await PublicAsync($"/record/{hash}");
        Assert.Contains("This record exists, unchanged", page, StringComparison.Ordinal);
        Assert.Contains("Signed on", page, StringComparison.Ordinal);
        foreach (var secret in new[] { "Ferrow", "Ada Kremer", "J-20", "Lynx" })
        {
            Assert.DoesNotContain(secret, page, StringComparison.Ordinal);
        }

        Assert.Contains("This file is the record, unchanged.", await CheckAsync(hash, json), StringComparison.Ordinal);
        // The same JSON with other white space is the same record (RFC 8785).
        Assert.Contains(
            "This file is the record, unchanged.",
            await CheckAsync(hash, Encoding.UTF8.GetBytes(" " + text.Replace(",\"", ", \"", StringComparison.Ordinal))),
            StringComparison.Ordinal
        );
        json[^3] ^= 1;
        Assert.Contains("is not the record", await CheckAsync(hash, json), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Paper_says_hash_address_people_and_shows_the_photos_and_the_signature()
    {
        var car = await SignedOffAsync(Signed);
        var (_, hash) = await RecordAsync(car);

        using var pdf = PdfDocument.Open(await PdfAsync(car, ""));
        var text = string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));

        Assert.Contains(hash, text.Replace(" ", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains("Ada Kremer", text, StringComparison.Ordinal);
        Assert.Contains("Work done", text, StringComparison.Ordinal);
        Assert.Contains(Cautions.LookAgain.Text, text, StringComparison.Ordinal);
        Assert.Contains("Released by another person", text, StringComparison.Ordinal);
        var pictures = pdf.GetPages().SelectMany(p => p.GetImages()).ToList();
        Assert.Contains(pictures, i => i is { WidthInSamples: 64, HeightInSamples: 48 });
        Assert.Contains(pictures, i => i is { WidthInSamples: 800, HeightInSamples: 280 });
    }

    [Fact]
    public async Task Withdrawn_sign_off_keeps_its_record_and_says_so()
    {
        var car = await SignedOffAsync(Signed);
        var (json, hash) = await RecordAsync(car);

        await car.Inspector.PostAsync($"{car.JobPath}/sign-off/withdraw", new { reason = "Strap moved" }, 200);

        var pack = (await PacksAsync(car))[0];
        Assert.True(pack.GetProperty("withdrawn").GetBoolean());
        Assert.Contains("its sign-off was withdrawn", await PublicAsync($"/record/{hash}"), StringComparison.Ordinal);
        var query = $"?signOff={pack.GetProperty("signOff").GetString()}";
        Assert.Equal(json, (await RecordAsync(car, query)).Json);
        Assert.Contains("SIGN-OFF WITHDRAWN", await PaperAsync(car, query), StringComparison.Ordinal);
        Assert.Contains("NOT SIGNED OFF", await PaperAsync(car, ""), StringComparison.Ordinal);

        shop.Clock.Advance(TimeSpan.FromMinutes(5));
        await car.SignOffAsync();

        Assert.Equal(2, (await PacksAsync(car)).GetArrayLength());
        Assert.NotEqual(hash, (await RecordAsync(car)).Hash);
        Assert.Equal(hash, (await RecordAsync(car, query)).Hash);
    }

    [Fact]
    public async Task Signature_of_nothing_is_refused_and_nothing_is_signed()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync();
        await car.SettleAsync();

        var refused = await car.Inspector.PostAsync(
            $"{car.JobPath}/sign-off",
            new { strokes = Array.Empty<int[]>() },
            400
        );

        Assert.Contains("signature.strokes", refused.ToString(), StringComparison.Ordinal);
        Assert.Equal(0, (await PacksAsync(car)).GetArrayLength());
        Assert.Equal(
            System.Text.Json.JsonValueKind.Null,
            (await car.InspectionAsync()).GetProperty("inspection").GetProperty("signOff").ValueKind
        );
    }

    [Theory]
    [InlineData(
        """UPDATE "InspectionPacks" SET "Record" = REPLACE("Record", 'schema', 'schemb') WHERE "JobId" = {0}""",
        "its hash differs"
    )]
    [InlineData(
        """UPDATE "InspectionPacks" SET "Private" = REPLACE("Private", 'Ada', 'Ida') WHERE "JobId" = {0}""",
        "a name or signature beside it was changed"
    )]
    [InlineData(
        """UPDATE "Photos" SET "StoredHash" = REPLACE("StoredHash", 'a', 'b') WHERE "JobId" = {0}""",
        "is not the one that was frozen"
    )]
    [InlineData(
        """UPDATE "Readings" SET "Value" = "Value" + 0.01 WHERE "LineId" IN (SELECT "Id" FROM "InspectionLines" WHERE "JobId" = {0})""",
        "not those that were signed off"
    )]
    [InlineData(
        """UPDATE "InspectionLines" SET "Upper" = "Upper" + 1 WHERE "JobId" = {0}""",
        "not those that were signed off"
    )]
    public async Task Change_behind_the_programs_back_is_found(string sql, string says)
    {
        var car = await SignedOffAsync(Signed);
        Assert.DoesNotContain(await VerifyAsync(null, car), f => f.Contains("pack", StringComparison.Ordinal));

        var found = await VerifyAsync(sql, car);

        Assert.Contains(found, f => f.Contains(says, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Flipped_bit_in_a_picture_of_the_record_is_found()
    {
        var car = await SignedOffAsync(Signed);
        var (json, _) = await RecordAsync(car);
        using var record = System.Text.Json.JsonDocument.Parse(json);
        var picture = record.RootElement.GetProperty("photos")[0].GetProperty("storedSha256").GetString()!;

        await shop.FlipBitAsync(picture);

        Assert.Contains(
            await VerifyAsync(null, car),
            f => f.Contains("was changed or is gone", StringComparison.Ordinal)
        );
        await shop.FlipBitAsync(picture);
        Assert.DoesNotContain(await VerifyAsync(null, car), f => f.Contains("pack", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Self_inspection_that_the_shop_allows_is_printed_on_the_papers_and_in_the_record()
    {
        var car = await CarStory.BeginAsync(shop);
        await car.Owner.PostAsync($"{car.JobPath}/operations/10/start", new { }, 200);
        await car.Owner.PostAsync($"{car.JobPath}/operations/10/finish", new { }, 200);
        await car.WorkUntilAsync();
        await car.SettleAsync();
        await car.Owner.PostAsync($"{car.JobPath}/sign-off", new { }, 409);
        await AllowSelfInspectionAsync(car, true);
        try
        {
            var signed = await car.Owner.PostAsync($"{car.JobPath}/sign-off", new { }, 200);
            Assert.True(signed.GetProperty("isSelfInspection").GetBoolean());
        }
        finally
        {
            await AllowSelfInspectionAsync(car, false);
        }

        Assert.Contains(
            "Self-inspection: the person who released",
            await PaperAsync(car, ""),
            StringComparison.Ordinal
        );
        var (json, _) = await RecordAsync(car);
        Assert.Contains("\"isSelfInspection\":true", Encoding.UTF8.GetString(json), StringComparison.Ordinal);
    }

    private static async Task AllowSelfInspectionAsync(CarStory car, bool isAllowed)
    {
        var details = (await car.Owner.GetJsonAsync("/api/v1/shop")).GetProperty("details");
        var changed = details
            .EnumerateObject()
            .ToDictionary(p => p.Name, p => p.Name == "selfInspection" ? (object)isAllowed : p.Value);
        using var saved = await car.Owner.SendAsync(HttpMethod.Put, "/api/v1/shop", changed);
        await saved.JsonAsync(200);
    }

    [Fact]
    public async Task Erasing_the_customer_leaves_the_record_valid()
    {
        var car = await SignedOffAsync(Signed);
        var (_, hash) = await RecordAsync(car);
        await car.Owner.PostAsync($"{car.JobPath}/cancel", new { reason = "sold" }, 200);
        var customer = (await car.JobAsync()).GetProperty("customerId").GetString();

        await car.Owner.PostAsync($"/api/v1/customers/{customer}/erase", new { }, 200);

        Assert.Equal(hash, (await RecordAsync(car)).Hash);
        Assert.Empty(await VerifyAsync(null, car));
        Assert.Contains("exists, unchanged", await PublicAsync($"/record/{hash}"), StringComparison.Ordinal);
        Assert.DoesNotContain("Ada Kremer", await PaperAsync(car, ""), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("0123")]
    [InlineData("ABCDEF6d15c4dcfb8f25a6b6a5b9f7c1d2e3f405162738495a6b7c8d9e0f1a2b3")]
    [InlineData("0000000000000000000000000000000000000000000000000000000000000000")]
    public async Task Unknown_hash_is_answered_without_a_word_more(string hash)
    {
        using var client = shop.CreateClient();
        using var shown = await client.GetAsync(new Uri($"/record/{hash}", UriKind.Relative), Ct);

        Assert.Equal(HttpStatusCode.NotFound, shown.StatusCode);
        Assert.Contains(
            "No inspection record with this hash",
            await shown.Content.ReadAsStringAsync(Ct),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task File_that_is_too_large_or_none_is_refused_in_words()
    {
        var car = await SignedOffAsync(Signed);
        var (_, hash) = await RecordAsync(car);

        Assert.Contains(
            "at most 4 MB",
            await CheckAsync(hash, new byte[(4 * 1024 * 1024) + 1], 413),
            StringComparison.Ordinal
        );
        Assert.Contains("is not the record", await CheckAsync(hash, [0xff, 0xfe, 0x00]), StringComparison.Ordinal);
        Assert.Contains(
            "is not the record",
            await CheckAsync(hash, "{\"a\":1,\"a\":2}"u8.ToArray()),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "is not the record",
            await CheckAsync(hash, "\"\\ud800\""u8.ToArray()),
            StringComparison.Ordinal
        );
        using var client = shop.CreateClient();
        using var empty = await client.PostAsync(new Uri($"/record/{hash}", UriKind.Relative), null, Ct);
        Assert.Equal(HttpStatusCode.BadRequest, empty.StatusCode);
    }

    private static Uri Path(CarStory car, string what) => new($"{car.JobPath}/inspection/{what}", UriKind.Relative);

    private async Task<CarStory> SignedOffAsync(object body)
    {
        var car = await CarStory.BeginAsync(shop);
        await car.WorkUntilAsync();
        await car.SignOffAsync(body);
        return car;
    }

    private static async Task<System.Text.Json.JsonElement> PacksAsync(CarStory car) =>
        (await car.Inspector.GetJsonAsync($"{car.JobPath}/inspection/packs")).GetProperty("items");

    private static async Task<(byte[] Json, string Hash)> RecordAsync(CarStory car, string query = "")
    {
        var json = await car.Inspector.GetByteArrayAsync(Path(car, "record" + query), Ct);
        return (json, Convert.ToHexStringLower(SHA256.HashData(json)));
    }

    private static Task<byte[]> PdfAsync(CarStory car, string query) =>
        car.Inspector.GetByteArrayAsync(Path(car, "pdf" + query), Ct);

    private static async Task<string> PaperAsync(CarStory car, string query)
    {
        using var pdf = PdfDocument.Open(await PdfAsync(car, query));
        return string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
    }

    private async Task<string> PublicAsync(string path)
    {
        using var client = shop.CreateClient();
        using var answer = await client.GetAsync(new Uri(path, UriKind.Relative), Ct);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.False(answer.Headers.Contains("Set-Cookie"));
        Assert.DoesNotContain("<script", await answer.Content.ReadAsStringAsync(Ct), StringComparison.Ordinal);
        return await answer.Content.ReadAsStringAsync(Ct);
    }

    private async Task<string> CheckAsync(string hash, byte[] file, int status = 200)
    {
        using var client = shop.CreateClient();
        using var form = new MultipartFormDataContent();
        using var content = new ByteArrayContent(file);
        form.Add(content, "file", "record.json");
        using var answer = await client.PostAsync(new Uri($"/record/{hash}", UriKind.Relative), form, Ct);
        Assert.Equal(status, (int)answer.StatusCode);
        return await answer.Content.ReadAsStringAsync(Ct);
    }

    /// <summary>What the verifier finds after a change that is rolled back again.</summary>
    private Task<IReadOnlyList<string>> VerifyAsync(string? sql, CarStory car) =>
        shop.WithAsync<IDbContextFactory<ShopDbContext>, IReadOnlyList<string>>(async contexts =>
        {
            await using var db = await contexts.CreateDbContextAsync(Ct);
            await using var transaction = await db.Database.BeginTransactionAsync(Ct);
            if (sql is not null)
            {
                Assert.True(await db.Database.ExecuteSqlRawAsync(sql, [JobId.From(new Guid(car.JobId)).Value], Ct) > 0);
            }

            return await shop.WithAsync<IFileStore, IReadOnlyList<string>>(files =>
                new PackVerifier(files).VerifyAsync(db, Ct)
            );
        });
}

public sealed class InspectionPackApiOnSqlite(SqliteShop shop)
    : InspectionPackApiTests(shop),
        IClassFixture<SqliteShop>;

public sealed class InspectionPackApiOnPostgres(PostgresShop shop)
    : InspectionPackApiTests(shop),
        IClassFixture<PostgresShop>;
