using System.Text;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.Quoting;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>Files of the price book: names, bytes, and how a file is read.</summary>
public static class PriceBookFile
{
    public const int LargestBytes = BookDocument.LargestBytes;

    /// <summary>Reads a document strictly: unknown and missing fields are named, not guessed.</summary>
    public static Outcome<Book> Read(string json) => BookDocument.Read(json);

    /// <summary>Writes the document so that a person can change it.</summary>
    public static string Write(Book book) => BookDocument.Write(book);

    /// <summary>A part as a CSV download; its byte-order mark tells spreadsheets that it is UTF-8.</summary>
    public static IResult Csv(Book book, string? part) =>
        part is not null && PriceBookCsv.Find(part) is not null
            ? Results.File(
                [.. Encoding.UTF8.GetPreamble(), .. Encoding.UTF8.GetBytes(PriceBookCsv.Write(book, part))],
                "text/csv; charset=utf-8",
                $"price-book-{part}.csv"
            )
            : Failure
                .Field("part", $"Choose a part: {string.Join(", ", PriceBookCsv.Parts.Select(p => p.Code))}.")
                .ToFileProblem();

    /// <summary>The document as a JSON download.</summary>
    public static IResult Json(Book book) =>
        Results.File(Encoding.UTF8.GetBytes(Write(book)), "application/json", $"price-book-{book.Edition}.json");

    private static IResult ToFileProblem(this Failure failure) => Api.Problems.ToProblem(failure);
}
