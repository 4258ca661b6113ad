using ShopFloor.Domain.Common;
using ShopFloor.Web.Features.Progress.Words;

namespace ShopFloor.Web.Features.Decisions;

/// <summary>What a customer's page says where an answer cannot be taken: by code and field, in the customer's language.</summary>
public static class DecisionRefusals
{
    public static string Say(ProgressWords words, Failure failure)
    {
        var keys = KeysOf(failure).Select(k => $"refused.{k}").Distinct().ToList();
        return keys.Count > 0 && keys.TrueForAll(words.Has) ? string.Join(" ", keys.Select(k => words[k]))
            : words.Code == ProgressWords.Usual ? failure.Sentence
            : words["refused.other"];
    }

    private static IEnumerable<string> KeysOf(Failure failure) =>
        failure switch
        {
            Failure.Invalid invalid => invalid.Errors.Select(e => KeyOf(e.Path)),
            Failure.Refused refused => refused.Reasons.Select(r => r.Code),
            _ => [],
        };

    // The fields of the one form of the page, whatever the use case behind calls them.
    private static string KeyOf(string path) =>
        path switch
        {
            "acceptedBy" or "approvedBy" => "name",
            "text" => "reason",
            _ => path,
        };
}
