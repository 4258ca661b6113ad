namespace ShopFloor.Web.Features.Progress.Words;

/// <summary>What a request says about language; only languages that are there.</summary>
/// <param name="ByLink">Chosen on the page itself; goes before everything.</param>
/// <param name="ByBrowser">The first one the browser asks for that is there.</param>
public readonly record struct AskedLanguage(string? ByLink, string? ByBrowser)
{
    /// <summary>Name of the query that the page's own links to another language use.</summary>
    public const string Query = "lang";

    /// <summary>More of a header is not looked at.</summary>
    private const int MostAsked = 20;

    public static AskedLanguage Of(HttpRequest request)
    {
        var link = request.Query[Query] is [{ } code] && ProgressWords.IsKnown(code) ? code : null;
        var header = request.Headers.AcceptLanguage;
        return header.Count == 0 ? new(link, null) : new(link, First(request));
    }

    /// <summary>The query that keeps the page's own choice, with its question mark; empty where nothing was chosen on the page.</summary>
    public string Kept => ByLink is null ? "" : $"?{Query}={ByLink}";

    /// <summary>The page's own choice, then the customer's, then the browser's.</summary>
    public ProgressWords Choose(string? customers) =>
        ProgressWords.Of(ByLink ?? (ProgressWords.IsKnown(customers) ? customers : ByBrowser));

    // RFC 9110, 12.5.4: by weight, the order of the list within one weight; 0 means not wanted.
    private static string? First(HttpRequest request) =>
        request
            .GetTypedHeaders()
            .AcceptLanguage.Take(MostAsked)
            .Where(l => l.Quality is not 0)
            .OrderByDescending(l => l.Quality ?? 1)
            .Select(l => l.Value.Value?.Split('-')[0].ToLowerInvariant())
            .FirstOrDefault(ProgressWords.IsKnown);
}
