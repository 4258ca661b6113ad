using System.Text;
using System.Text.Json;

namespace ShopFloor.Web.Features.History;

/// <summary>Events as people read them.</summary>
public static class EventWords
{
    /// <summary>Types whose name, taken apart, is not what a person would say.</summary>
    private static readonly Dictionary<string, string> Said = new(StringComparer.Ordinal)
    {
        ["account.charge"] = "Charged to the account",
        ["account.deposit"] = "Deposit taken",
        ["account.payment"] = "Payment taken",
        ["account.refund"] = "Money given back",
        ["account.tradeCredit"] = "Work or goods taken in exchange",
        ["dropOff.begun"] = "Drop-off recorded",
        ["dropOff.changed"] = "Drop-off changed",
        ["dropOff.appointed"] = "Day for the drop-off agreed",
        ["dropOff.moved"] = "Day for the drop-off moved",
        ["customer.messagesChosen"] = "Customer's choice of messages changed",
        ["mail.settingsChanged"] = "Mail server's settings changed",
        ["weekMail.chosen"] = "Week by mail turned on or off",
        ["weekMail.noted"] = "Week to be sent by mail",
        ["message.notNeeded"] = "Message not sent, not needed",
        ["message.repeated"] = "Message to be sent again",
        ["messageTemplate.changed"] = "Words of a message changed",
        ["device.codeMade"] = "Code for a tablet made",
        ["device.enrolled"] = "Tablet added",
        ["device.revoked"] = "Tablet ended",
        ["job.placed"] = "Stands in another place",
        ["joint.added"] = "Joint to weld added",
        ["material.certified"] = "Certificate put beside material",
        ["material.entered"] = "Material written down",
        ["material.withdrawn"] = "Material taken out of the job",
        ["operation.personPresent"] = "Somebody is present at the operation",
        ["pin.entered"] = "Changed person by PIN",
        ["pin.locked"] = "PIN locked after wrong tries",
        ["routePicture.added"] = "Picture for an instruction added",
        ["shop.placesChanged"] = "The shop's places changed",
        ["time.added"] = "Time entered afterwards",
        ["time.arrived"] = "Came to the shop",
        ["time.begun"] = "Break or time without a job begun",
        ["time.confirmed"] = "Still at it, said when asked",
        ["time.ended"] = "Break or time without a job ended",
        ["time.left"] = "Left the shop",
        ["trace.gapsAccepted"] = "Missing papers accepted by the owner",
        ["uploadLink.made"] = "Link for a phone's photos made",
        ["customerNote.withdrawn"] = "Note for the customer taken back",
        ["customerNote.written"] = "Note for the customer written",
        ["photo.hidden"] = "Photo taken off the customer's page",
        ["photo.shown"] = "Photo shown to the customer",
        ["progressSharing.changed"] = "What the customer's page shows changed",
        ["progressSharing.reasonTold"] = "Reason of the moved day told to the customer",
        ["progressSharing.reasonTakenBack"] = "Reason of the moved day taken off the customer's page",
        ["progressLink.created"] = "Customer's link made",
        ["weld.writtenDown"] = "Weld written down",
        ["progressLink.revoked"] = "Customer's link revoked",
    };

    /// <summary><c>operation.finished</c> becomes "Operation finished", <c>signOff.withdrawn</c> "Sign off withdrawn".</summary>
    public static string Of(string type)
    {
        if (Said.TryGetValue(type, out var said))
        {
            return said;
        }

        var words = new StringBuilder();
        foreach (var c in type)
        {
            if (c is '.' or '-')
            {
                words.Append(' ');
            }
            else if (char.IsUpper(c))
            {
                words.Append(' ').Append(char.ToLowerInvariant(c));
            }
            else
            {
                words.Append(words.Length == 0 ? char.ToUpperInvariant(c) : c);
            }
        }

        return words.ToString();
    }

    /// <summary>What the event was about, in short: the number of a paper, an operation, a line with its result. Null where its data name nothing of the kind.</summary>
    public static string? About(JsonElement data)
    {
        if (Part(data, "after") is not { ValueKind: JsonValueKind.Object } after)
        {
            return null;
        }

        if (Text(after, "line") is { } line)
        {
            return string.Join(' ', new[] { Text(after, "operation"), line, Text(after, "result") }.OfType<string>());
        }

        return Text(after, "number")
            ?? Text(after, "receipt")
            ?? (Part(after, "state") is { } state ? Text(state, "code") : null)
            ?? Text(after, "operation")
            ?? Text(after, "code");
    }

    public static string Actor(string kind) =>
        kind switch
        {
            "integration" => "A program, by its key",
            "link" => "Somebody with the link",
            "system" => "The program itself",
            _ => "Somebody who has left",
        };

    private static JsonElement? Part(JsonElement of, string name) =>
        of.ValueKind == JsonValueKind.Object && of.TryGetProperty(name, out var part) ? part : null;

    private static string? Text(JsonElement of, string name) =>
        Part(of, name) is { ValueKind: JsonValueKind.String } text ? text.GetString() : null;
}
