using System.Globalization;
using Microsoft.AspNetCore.Http.Features;
using ShopFloor.Application.Decisions;
using ShopFloor.Domain.Common;

namespace ShopFloor.Web.Features.Decisions;

/// <summary>What a customer typed into the page of a link, kept so that a refusal loses nothing.</summary>
public sealed record DecisionForm(
    string? Do,
    string? Choice,
    string? Name,
    string? Text,
    string? Day,
    string? Key = null
)
{
    /// <summary>Bytes of a whole form: the longest text, in four bytes a character and escaped threefold.</summary>
    private const int LargestForm = 32 * 1024;

    private const char Between = ':';

    public static DecisionForm Empty { get; } = new(null, null, null, null, null);

    /// <summary>How a paper goes back with the answer: what it is, and the hash of what was shown.</summary>
    public static string ChoiceOf(DecisionPaper paper) => $"{paper.Id}{Between}{paper.Hash}";

    public static string ChoiceOf(TimeAsked time) => $"{time.Id}{Between}{time.Hash}";

    public static string ChoiceOf(PartAsked part) => $"{part.Id}{Between}{part.Hash}";

    public static async Task<Outcome<DecisionForm>> ReadAsync(HttpRequest request, CancellationToken ct)
    {
        if (!request.HasFormContentType)
        {
            return new Failure.WrongType("Send the form of the page.");
        }

        if (request.HttpContext.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } size)
        {
            size.MaxRequestBodySize = LargestForm;
        }

        try
        {
            var form = await request.ReadFormAsync(
                new FormOptions
                {
                    BufferBodyLengthLimit = LargestForm,
                    MultipartBodyLengthLimit = LargestForm,
                    ValueLengthLimit = LargestForm,
                    ValueCountLimit = 16,
                },
                ct
            );
            string? Of(string name) => form[name] is [{ Length: > 0 } one] ? one : null;
            return new DecisionForm(Of("do"), Of("choice"), Of("name"), Of("text"), Of("day"), Of("key"));
        }
        catch (Exception exception) when (exception is BadHttpRequestException or InvalidDataException)
        {
            return Failure.Field("text", "This is more than the page takes. Shorten the text.");
        }
    }

    public DecideByLink.Request ToRequest()
    {
        var parts = (Choice ?? "").Split(Between, 2);
        return new(
            Do,
            Guid.TryParse(parts[0], out var id) ? id : null,
            parts.Length == 2 ? parts[1] : null,
            Name,
            Text,
            DateOnly.TryParseExact(Day, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
                ? day
                : null
        );
    }
}
