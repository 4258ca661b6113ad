using System.Globalization;
using System.Net.Http.Headers;
using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Tests.Features.Inspection;
using ShopFloor.Web.Tests.Fixtures;
using SkiaSharp;

namespace ShopFloor.Web.Tests.Story;

/// <summary>One car through the whole shop by the API alone, as four people, on both databases.</summary>
public abstract class OneCarApiTests(ShopHost shop)
{
    private const string Api = "/api/v1";
    private HttpClient desk = null!;
    private HttpClient fabricator = null!;
    private HttpClient inspector = null!;
    private HttpClient owner = null!;

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_car_goes_from_the_counter_to_the_hand_over()
    {
        await SignInAsync();
        var quote = await QuoteAsync();
        var job = await desk.PostAsync($"{Api}/jobs", new { quoteId = quote });
        var id = job.GetProperty("id").GetString()!;
        Assert.Equal("waiting", StateOf(job, "20"));
        Assert.InRange(job.GetProperty("operations").GetArrayLength(), 20, 30);

        // Nothing starts before the customer has signed.
        using (
            var early = await fabricator.SendAsync(
                HttpMethod.Post,
                $"{Api}/jobs/{id}/operations/10/start",
                new { occurredAt = Now }
            )
        )
        {
            var refusal = await early.JsonAsync(409);
            Assert.Contains(
                refusal.GetProperty("reasons").EnumerateArray(),
                r => r.GetProperty("code").GetString() == "authorisation"
            );
        }

        await BookInAsync(id);
        var part = await desk.PostAsync(
            $"{Api}/jobs/{id}/customer-parts",
            new
            {
                code = "door-panels",
                what = "Door panels",
                dueOn = "2026-05-12",
            }
        );
        await desk.PostAsync(
            $"{Api}/jobs/{id}/account/deposits",
            new
            {
                amountMinor = 50_000,
                method = "card",
                reference = "T-1",
            },
            200
        );
        var link = await desk.PostAsync($"{Api}/jobs/{id}/progress-links", new { });
        var page = new Uri(link.GetProperty("url").GetString()!).PathAndQuery;
        await WorkAsync(id, part.GetProperty("id").GetString()!);
        await SignOffAndHandOverAsync(id);
        await LookBackAsync(id, page, link.GetProperty("id").GetString()!);
    }

    private DateTimeOffset Now => shop.Clock.GetUtcNow();

    private async Task SignInAsync()
    {
        desk = await shop.ApiAsync(Role.FrontDesk);
        fabricator = await shop.ApiAsync(Role.Fabricator);
        inspector = await shop.ApiAsync(Role.Inspector);
        owner = await shop.ApiAsync(Role.Owner);
    }

    private async Task<string> QuoteAsync()
    {
        var customer = (
            await desk.PostAsync(
                $"{Api}/customers",
                new
                {
                    name = "Maren Holt",
                    email = "maren@example.com",
                    addressLines = new[] { "2 Mill Row" },
                }
            )
        ).GetProperty("id");
        var car = await desk.PostAsync(
            $"{Api}/cars",
            new
            {
                customerId = customer,
                make = "Corvane",
                model = "Tarn",
                modelYear = 2024,
                vin = "1X9TEST01RT000001",
                registration = "SF 24",
                odometerKm = 42_000,
                facts = new
                {
                    body = "coupe",
                    steeringSide = "left",
                    energy = "petrol",
                    airbags = "front",
                    tankPosition = "rearFloor",
                    rearSeatsUsed = false,
                },
            }
        );
        var quote = await desk.PostAsync(
            $"{Api}/quotes",
            new
            {
                customerId = customer,
                carId = car.GetProperty("id"),
                kitCode = "six-point-weld-in",
                useCode = "street",
                doors = new[]
                {
                    new { door = "left", hingeOptionCode = "swing-out-pin" },
                    new { door = "right", hingeOptionCode = "fixed" },
                },
                condition = new Dictionary<string, string> { ["floor"] = "sound" },
                promiseDate = "2026-06-12",
            }
        );
        var id = quote.GetProperty("id").GetString()!;
        Assert.True(quote.GetProperty("totalMinor").GetInt64() > 0);
        Assert.True(
            quote.GetProperty("hours").GetProperty("p80").GetDouble()
                > quote.GetProperty("hours").GetProperty("p50").GetDouble()
        );
        await desk.PostAsync($"{Api}/jobs", new { quoteId = id }, 409);
        var sent = await desk.PostAsync($"{Api}/quotes/{id}/send", new { }, 200);
        await desk.PostAsync(
            $"{Api}/quotes/{id}/accept",
            new { acceptedBy = "Maren Holt", contentHash = new string('0', 64) },
            409
        );
        var accepted = await desk.PostAsync(
            $"{Api}/quotes/{id}/accept",
            new { acceptedBy = "Maren Holt", contentHash = sent.GetProperty("contentHash") },
            200
        );
        Assert.Equal("accepted", accepted.GetProperty("state").GetString());
        return id;
    }

    private async Task BookInAsync(string id)
    {
        using var photo = await PhotoAsync(desk, id, "walkRound", null);
        await photo.JsonAsync(201);
        var record = new
        {
            odometerKm = 42_010,
            warningLights = Array.Empty<string>(),
            fuelPercent = 40,
            keys = 2,
            conditionFound = new Dictionary<string, string> { ["floor"] = "thin" },
            staysFitted = new[] { "Headliner" },
            inTheCar = Array.Empty<string>(),
            battery = "good",
            photoConsent = "withoutPlates",
        };
        using var dropOff = await desk.SendAsync(HttpMethod.Put, $"{Api}/jobs/{id}/drop-off", record);
        Assert.True(dropOff.IsSuccessStatusCode, await dropOff.Content.ReadAsStringAsync(Ct));
        using var difference = await desk.SendAsync(
            HttpMethod.Post,
            $"{Api}/jobs/{id}/condition-difference",
            new { conditionFound = record.conditionFound }
        );
        var more = await difference.JsonAsync(200);
        Assert.True(more.GetProperty("hoursMore").GetDecimal() > 0, more.ToString());
        await desk.PostAsync(
            $"{Api}/jobs/{id}/authorisation",
            new { signature = new { kind = "printedSheet", signedBy = "Maren Holt" } },
            200
        );
    }

    /// <summary>Does whatever is ready until nothing is; reads lines as they fall due; lets the part arrive and paint cure when the car waits for them.</summary>
    private async Task WorkAsync(string id, string partId)
    {
        var failedOnce = false;
        var hotWork = new HotWorkDuty(shop);
        for (var round = 0; round < 80; round++)
        {
            await hotWork.TendAsync(id);
            var job = await desk.GetJsonAsync($"{Api}/jobs/{id}");
            var ready = job.GetProperty("operations")
                .EnumerateArray()
                .Where(o => o.GetProperty("state").GetString() == "ready")
                .ToList();
            if (ready.Count == 0)
            {
                var open = job.GetProperty("operations")
                    .EnumerateArray()
                    .Where(o => o.GetProperty("state").GetString() != "done")
                    .ToList();
                if (open.Count == 0)
                {
                    return;
                }

                if (open.Any(o => o.ToString().Contains("door", StringComparison.Ordinal)) && round > 2)
                {
                    await ArriveAsync(partId);
                }

                shop.Clock.Advance(TimeSpan.FromHours(13));
                continue;
            }

            var code = ready[0].GetProperty("code").GetString()!;
            if (code == "270")
            {
                // Done by the second person's sign-off, not by hand.
                var byHand = await inspector.PostAsync(
                    $"{Api}/jobs/{id}/operations/270/finish",
                    new { occurredAt = Now },
                    409
                );
                Assert.Contains("notSignedOff", byHand.ToString(), StringComparison.Ordinal);
                await hotWork.CloseAllAsync();
                return;
            }

            var who = ready[0].GetProperty("skill").GetString() == "inspector" ? inspector : fabricator;
            await who.PostAsync($"{Api}/jobs/{id}/operations/{code}/start", new { occurredAt = Now }, 200);
            shop.Clock.Advance(TimeSpan.FromMinutes(25));
            failedOnce |= await ReadLinesAsync(id, code, failedOnce);
            using var finished = await who.SendAsync(
                HttpMethod.Post,
                $"{Api}/jobs/{id}/operations/{code}/finish",
                new { occurredAt = Now }
            );
            await finished.JsonAsync(200);
        }

        var stuck = await desk.GetJsonAsync($"{Api}/jobs/{id}");
        Assert.Fail("The job did not end: " + stuck.GetProperty("waitsFor"));
    }

    private async Task ArriveAsync(string partId)
    {
        using var arrived = await desk.SendAsync(
            HttpMethod.Post,
            $"{Api}/customer-parts/{partId}/arrive",
            new { occurredAt = Now }
        );
        Assert.True((int)arrived.StatusCode is 200 or 409, await arrived.Content.ReadAsStringAsync(Ct));
    }

    /// <summary>Passes every line of an operation; the first measured one is first read out of limit, which fails by itself and blocks the finish.</summary>
    private async Task<bool> ReadLinesAsync(string id, string operation, bool failedOnce)
    {
        var plan = await inspector.GetJsonAsync($"{Api}/jobs/{id}/inspection");
        var lines = plan.GetProperty("operations")
            .EnumerateArray()
            .SelectMany(o => o.GetProperty("lines").EnumerateArray());
        var failed = false;
        foreach (var line in lines.Where(l => l.GetProperty("operation").GetString() == operation))
        {
            var code = line.GetProperty("code").GetString();
            var photos = Array.Empty<string>();
            if (line.GetProperty("photoRequired").GetBoolean())
            {
                using var added = await PhotoAsync(inspector, id, "reading", operation);
                photos = [(await added.JsonAsync(201)).GetProperty("id").GetString()!];
            }

            var isMeasured = line.TryGetProperty("unit", out var unit) && unit.ValueKind == JsonValueKind.String;
            var limits = Limits(line);
            if (isMeasured && !failedOnce && !failed && limits.Upper is { } upper)
            {
                var bad = await inspector.PostAsync(
                    $"{Api}/jobs/{id}/readings",
                    new
                    {
                        line = code,
                        value = upper + 100,
                        photoIds = photos,
                        note = "Out of limit",
                    }
                );
                Assert.Equal("failed", bad.GetProperty("result").GetString());
                failed = true;
                await inspector.PostAsync($"{Api}/jobs/{id}/sign-off", new { }, 409);
            }

            var good = isMeasured
                ? await inspector.PostAsync(
                    $"{Api}/jobs/{id}/readings",
                    new
                    {
                        line = code,
                        value = limits.Middle,
                        photoIds = photos,
                    }
                )
                : await inspector.PostAsync(
                    $"{Api}/jobs/{id}/readings",
                    new
                    {
                        line = code,
                        result = "passed",
                        photoIds = photos,
                    }
                );
            Assert.True(good.GetProperty("result").GetString() == "passed", good.ToString());
        }

        return failed;
    }

    /// <summary>Every tube and plate with heat and certificate, every joint with its welder; nothing is left for the owner to accept.</summary>
    private async Task WriteDownMaterialAsync(string id)
    {
        object[] pieces =
        [
            new
            {
                kind = "tube",
                what = "Main hoop and braces",
                size = "45 x 2.5 mm",
                mark = "H 4711",
                origin = "stock",
            },
            new
            {
                kind = "plate",
                what = "Foot plates",
                size = "3 mm",
                mark = "P 12",
                origin = "bought",
                from = "Tarnside",
            },
            new
            {
                kind = "bolt",
                what = "Hinge bolts",
                size = "M10 x 60",
                mark = "B 3",
                origin = "stock",
            },
            new
            {
                kind = "filler",
                what = "G3Si1",
                size = "0.8 mm",
                mark = "L 9",
                origin = "stock",
            },
            new
            {
                kind = "gas",
                what = "M21",
                mark = "C 77",
                origin = "stock",
            },
        ];
        foreach (var piece in pieces)
        {
            await fabricator.PostAsync($"{Api}/jobs/{id}/materials", piece);
        }

        var trace = await fabricator.GetJsonAsync($"{Api}/jobs/{id}/materials");
        foreach (var material in trace.GetProperty("materials").EnumerateArray().Take(2))
        {
            using var form = new MultipartFormDataContent();
            using var file = new ByteArrayContent(CarStory.Picture());
            form.Add(file, "file", "certificate.png");
            using var kept = await fabricator.PostAsync(
                new Uri(
                    $"{Api}/jobs/{id}/materials/{material.GetProperty("id").GetString()}/certificate",
                    UriKind.Relative
                ),
                form,
                Ct
            );
            await kept.JsonAsync(200);
        }

        var register = await owner.GetJsonAsync($"{Api}/qualifications");
        var welder = register
            .GetProperty("people")
            .EnumerateArray()
            .First(p => p.GetProperty("name").GetString() == "Fabricator Person")
            .GetProperty("id");
        var qualification = await owner.PostAsync(
            $"{Api}/qualifications",
            new
            {
                personId = welder,
                process = "135",
                standard = "the shop's own test piece",
            }
        );
        await fabricator.PostAsync(
            $"{Api}/jobs/{id}/welds",
            new
            {
                joints = trace.GetProperty("joints").EnumerateArray().Select(j => j.GetProperty("code").GetString()),
                qualificationId = qualification.GetProperty("id"),
                procedure = "WPS 3",
                filler = 4,
                gas = 5,
            },
            200
        );
    }

    private async Task SignOffAndHandOverAsync(string id)
    {
        await fabricator.PostAsync($"{Api}/jobs/{id}/sign-off", new { }, 403);
        var unpaid = await inspector.PostAsync($"{Api}/jobs/{id}/sign-off", new { note = "Looked over" }, 409);
        Assert.Contains("\"balanceDue\"", unpaid.ToString(), StringComparison.Ordinal);
        await WriteDownMaterialAsync(id);
        var account = await desk.GetJsonAsync($"{Api}/jobs/{id}/account");
        var due = account.GetProperty("balanceMinor").GetInt64();
        Assert.True(due > 0);
        using var invoice = await desk.SendAsync(HttpMethod.Post, $"{Api}/jobs/{id}/invoices", new { });
        Assert.True(invoice.IsSuccessStatusCode, await invoice.Content.ReadAsStringAsync(Ct));
        await desk.PostAsync(
            $"{Api}/jobs/{id}/account/payments",
            new
            {
                amountMinor = due,
                method = "bankTransfer",
                reference = "T-2",
            },
            200
        );
        await inspector.PostAsync($"{Api}/jobs/{id}/sign-off", new { note = "Looked over" }, 200);
        var sheet = await desk.GetJsonAsync($"{Api}/jobs/{id}/hand-over");
        var intake = (await desk.GetJsonAsync($"{Api}/jobs/{id}/photos?kind=walkRound"))
            .GetProperty("items")
            .EnumerateArray()
            .Select(p => p.GetProperty("id").GetString())
            .ToList();
        Assert.NotEmpty(intake);
        await desk.PostAsync(
            $"{Api}/jobs/{id}/hand-over",
            new
            {
                odometerKm = 42_011,
                warningLights = Array.Empty<string>(),
                keysReturned = 2,
                looks = intake.Select(p => new { intakePhotoId = p, isSame = true }),
                signature = new { kind = "printedSheet", signedBy = "Maren Holt" },
            },
            200
        );
        var closed = await desk.GetJsonAsync($"{Api}/jobs/{id}");
        Assert.Equal("closed", closed.GetProperty("state").GetString());
        Assert.Equal(0, closed.GetProperty("balanceMinor").GetInt64());
        Assert.NotEqual(JsonValueKind.Undefined, sheet.ValueKind);
    }

    private async Task LookBackAsync(string id, string page, string linkId)
    {
        using var customer = shop.CreateClient();
        using var progress = await customer.GetAsync(new Uri(page, UriKind.Relative), Ct);
        Assert.Equal(200, (int)progress.StatusCode);
        using var revoked = await desk.SendAsync(HttpMethod.Delete, $"{Api}/progress-links/{linkId}");
        Assert.True(revoked.IsSuccessStatusCode);
        using var gone = await customer.GetAsync(new Uri(page, UriKind.Relative), Ct);
        using var wrong = await customer.GetAsync(new Uri("/p/" + new string('A', 43), UriKind.Relative), Ct);
        Assert.Equal(404, (int)gone.StatusCode);
        Assert.Equal(await wrong.Content.ReadAsByteArrayAsync(Ct), await gone.Content.ReadAsByteArrayAsync(Ct));

        var monday = Now.AddDays(-(((int)Now.DayOfWeek + 6) % 7)).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        var week = await owner.GetJsonAsync($"{Api}/reports/week?start={monday}");
        Assert.Contains(id, week.ToString(), StringComparison.Ordinal);
        var events = (await owner.GetJsonAsync($"{Api}/events?after=0"))
            .GetProperty("items")
            .EnumerateArray()
            .Where(e => e.GetProperty("jobId").ToString() == id)
            .ToList();
        Assert.True(events.Count > 40);
        Assert.DoesNotContain(events, e => e.ToString().Contains("Maren", StringComparison.Ordinal));
        Assert.Empty(
            await shop.WithAsync<Application.History.VerifyHistory, IReadOnlyList<string>>(v => v.RunAsync(Ct))
        );
    }

    private static string StateOf(JsonElement job, string code) =>
        job.GetProperty("operations")
            .EnumerateArray()
            .Single(o => o.GetProperty("code").GetString() == code)
            .GetProperty("state")
            .GetString()!;

    private static (decimal? Upper, decimal Middle) Limits(JsonElement line)
    {
        var lower = Number(line, "lower");
        var upper = Number(line, "upper");
        return (upper, lower is { } l && upper is { } u ? (l + u) / 2 : upper ?? lower ?? Number(line, "nominal") ?? 0);
    }

    private static decimal? Number(JsonElement line, string name) =>
        line.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.Number ? value.GetDecimal() : null;

    private static async Task<HttpResponseMessage> PhotoAsync(
        HttpClient client,
        string job,
        string kind,
        string? operation
    )
    {
        using var bitmap = new SKBitmap(64, 48);
        bitmap.Erase(SKColors.SlateGray);
        using var image = SKImage.FromBitmap(bitmap);
        using var data = image.Encode(SKEncodedImageFormat.Jpeg, 80);
        using var form = new MultipartFormDataContent();
        var file = new ByteArrayContent(data.ToArray());
        file.Headers.ContentType = new MediaTypeHeaderValue("image/jpeg");
        form.Add(file, "file", "photo.jpg");
        form.Add(new StringContent(kind), "kind");
        if (operation is not null)
        {
            form.Add(new StringContent(operation), "operation");
        }

        return await client.PostAsync(new Uri($"{Api}/jobs/{job}/photos", UriKind.Relative), form, Ct);
    }
}

public sealed class OneCarOnSqlite(SqliteShop shop) : OneCarApiTests(shop), IClassFixture<SqliteShop>;

public sealed class OneCarOnPostgres(PostgresShop shop) : OneCarApiTests(shop), IClassFixture<PostgresShop>;
