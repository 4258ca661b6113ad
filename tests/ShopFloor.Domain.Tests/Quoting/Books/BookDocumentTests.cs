using System.Text.Json.Nodes;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;

namespace ShopFloor.Domain.Tests.Quoting.Books;

public sealed class BookDocumentTests
{
    [Fact]
    public void Document_survives_writing_and_reading()
    {
        var again = BookDocument.Read("\uFEFF" + BookDocument.Write(FullBook.Book)).Value;

        Assert.Equal(FullBook.JsonOf(FullBook.Book), FullBook.JsonOf(again));
    }

    [Theory]
    [MemberData(nameof(Spoilt))]
    public void Document_that_does_not_fit_is_refused_at_its_place(string path, Action<JsonObject> spoil)
    {
        var json = JsonNode.Parse(BookDocument.Write(FullBook.Book))!.AsObject();
        spoil(json);

        var failure = Assert.IsType<Failure.Invalid>(BookDocument.Read(json.ToJsonString()).Failure);

        Assert.Equal(path, Assert.Single(failure.Errors).Path);
    }

    public static TheoryData<string, Action<JsonObject>> Spoilt() =>
        new()
        {
            { "kits[0]", j => j["kits"]![0] = null },
            { "kits[0].parts[0].kind", j => j["kits"]![0]!["parts"]![0]!["kind"] = "wood" },
            { "kits[0].taxCodes[0]", j => j["kits"]![0]!["taxCodes"]![0] = null },
            { "kits[0].contents[0]", j => j["kits"]![0]!["contents"]![0] = "two\nlines" },
            { "kits[0].parts[0].wallMm", j => j["kits"]![0]!["parts"]![0]!["wallMm"] = 1e20 },
            { "rounding", j => j["rounding"] = 0 },
            { "taxPer", j => j["taxPer"] = "invoice, line" },
            { "deposit", j => j["deposit"] = null },
            { "validityDays", j => j["validityDays"] = "14" },
        };

    [Theory]
    [InlineData("[]")]
    [InlineData("null")]
    [InlineData("{")]
    [InlineData("{\"title\":\"a\",\"title\":\"b\"}")]
    [InlineData("{\"title\":\"a\"}")]
    public void Text_that_is_no_price_book_is_refused(string json)
    {
        Assert.IsType<Failure.Invalid>(BookDocument.Read(json).Failure);
    }
}
