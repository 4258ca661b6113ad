using System.Text.Encodings.Web;
using System.Text.Json;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;
using Book = ShopFloor.Domain.Quoting.PriceBook;

namespace ShopFloor.Web.Features.PriceBook;

/// <summary>The price book as a file that can be changed and adopted again.</summary>
public static class PriceBookFile
{
    public const int LargestBytes = 1024 * 1024;

    private static readonly JsonSerializerOptions Readable = new(DataFiles.Json)
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>Reads a document strictly: unknown and missing fields are named, not guessed.</summary>
    public static Outcome<Book> Read(string json) => DataFiles.Read<Book>(json);

    /// <summary>Writes the document so that a person can change it.</summary>
    public static string Write(Book book) => JsonSerializer.Serialize(book, Readable);
}
