using ShopFloor.Web.Api;

namespace ShopFloor.Web.Features.ApiDocs;

/// <summary>A reader for the OpenAPI document: our own page, no outside script.</summary>
public sealed class ApiDocsEndpoint : IEndpoints
{
    private const string Html = """
        <!DOCTYPE html>
        <html lang="en">
        <head>
          <meta charset="utf-8" />
          <meta name="viewport" content="width=device-width, initial-scale=1" />
          <title>API</title>
          <link rel="stylesheet" href="/app.css" />
        </head>
        <body>
          <main class="public" style="max-width:60rem">
            <h1>API, version 1</h1>
            <p>Every call needs <code>Authorization: Bearer KEY</code>. The document itself: <a href="/openapi/v1.json">/openapi/v1.json</a>.</p>
            <div class="field"><label for="filter">Find a call</label><input id="filter" type="search" autocomplete="off" maxlength="100" /></div>
            <p id="state" role="status">Loading…</p>
            <div id="calls"></div>
            <noscript><p>Without script, read the document itself.</p></noscript>
          </main>
          <script type="module" src="/api-docs.js"></script>
        </body>
        </html>
        """;

    public static void Map(IEndpointRouteBuilder app) =>
        app.MapGet("/api/docs", () => Results.Content(Html, "text/html; charset=utf-8"))
            .AllowAnonymous()
            .ExcludeFromDescription();
}
