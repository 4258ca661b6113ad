using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.Integrations;

/// <summary>An address of another program that is told of lines of the history as they come, signed by the rules of Standard Webhooks (standardwebhooks.com, specification 1.0.0).</summary>
public sealed class Webhook : IVersioned
{
    /// <summary>Most at a time; each costs a delivery for every line of the history it wants.</summary>
    public const int Most = 20;

    public const int LongestAddress = 500;

    /// <summary>Most kinds of lines that one may choose.</summary>
    public const int MostTypes = 50;

    /// <summary>A webhook whose deliveries have failed for so long is turned off: nobody listens there any more.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromDays(5);

    private Webhook() { }

    public WebhookId Id { get; private set; }
    public long Version { get; private set; }
    public string Name { get; private set; } = "";
    public string Address { get; private set; } = "";

    /// <summary>Types of the history's lines that are told, such as <c>quote.accepted</c>; empty: all.</summary>
    public IReadOnlyList<string> Types { get; private set; } = [];

    /// <summary>The secret both sides know, encrypted.</summary>
    public string SealedSecret { get; private set; } = "";
    public bool IsOn { get; private set; }

    /// <summary>Number of the last line of the history that was looked at for it.</summary>
    public long Seen { get; private set; }
    public DateTimeOffset CreatedAt { get; private set; }

    /// <summary>Since when no delivery has been taken; null while they are.</summary>
    public DateTimeOffset? FailingSince { get; private set; }

    /// <summary>Why the program turned it off, for people; null where it is on or a person turned it off.</summary>
    public string? Trouble { get; private set; }

    /// <summary>What a person says of it.</summary>
    /// <param name="Name">What listens there.</param>
    /// <param name="Address">Absolute, https; http only for what <see cref="ReachableNetworks"/> was opened to by whoever runs the server.</param>
    /// <param name="Types">Types to tell; null or empty: all.</param>
    /// <param name="IsOn">Off: nothing is sent, and what happens meanwhile is not told later.</param>
    public sealed record Details(string? Name, string? Address, IReadOnlyList<string>? Types, bool? IsOn);

    /// <summary>Tells of what happens after line <paramref name="seen"/>.</summary>
    public static Outcome<Webhook> Open(Details details, string sealedSecret, long seen, DateTimeOffset at)
    {
        var made = new Webhook
        {
            Id = Ids.New<WebhookId>(at),
            SealedSecret = sealedSecret,
            Seen = seen,
            CreatedAt = at,
        };
        return made.Change(details, seen).TryGet(out _, out var failure) ? made : failure;
    }

    /// <param name="details">The new details, whole.</param>
    /// <param name="newest">Number of the newest line: what happened while it was off is not told.</param>
    public Outcome<Done> Change(Details details, long newest)
    {
        var errors = new FieldErrors();
        var name = TextRules.Required(details.Name, "name", "The name", TextRules.Name, errors);
        var address = details.Address?.Trim() ?? "";
        var isAddress =
            address.Length <= LongestAddress
            && Uri.TryCreate(address, UriKind.Absolute, out var uri)
            && uri.Scheme is "https" or "http"
            && uri.UserInfo.Length == 0
            && uri.Fragment.Length == 0
            && IsName(uri);
        errors.AddIf(
            !isAddress,
            "address",
            $"The address is one such as https://books.example.com/hooks, without name and password in it, and has at most {LongestAddress} characters."
        );
        var types = (details.Types ?? []).Select(t => t?.Trim() ?? "").Where(t => t.Length > 0).Distinct().ToList();
        errors.AddIf(types.Count > MostTypes, "types", $"At most {MostTypes} kinds of news can be chosen.");
        errors.AddIf(
            types.Exists(t => t.Length > 64 || !t.All(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '-')),
            "types",
            "Kinds of news are written as in the history, such as quote.accepted."
        );
        if (errors.Any)
        {
            return errors.ToFailure();
        }

        var isOn = details.IsOn ?? true;
        if (isOn && !IsOn)
        {
            (Seen, FailingSince, Trouble) = (Math.Max(Seen, newest), null, null);
        }

        (Name, Address, Types, IsOn) = (name, address, types, isOn);
        return Outcome.Ok;
    }

    /// <summary>Names in other scripts are looked up in Latin letters; some that can be written cannot be put into them.</summary>
    private static bool IsName(Uri uri)
    {
        try
        {
            return uri.IdnHost.Length > 0;
        }
        catch (UriFormatException)
        {
            return false;
        }
    }

    public bool Wants(string type) => Types.Count == 0 || Types.Contains(type);

    /// <summary>Another secret; the old one signs nothing from now on.</summary>
    public void Renew(string sealedSecret) => SealedSecret = sealedSecret;

    /// <summary>Whether one more delivery that is not taken is one too many.</summary>
    public bool IsOutOfPatience(DateTimeOffset at) => IsOn && FailingSince is { } since && at - since >= Patience;

    /// <summary>Nothing was taken for as long as <see cref="Patience"/>.</summary>
    public void GiveUp() => TurnOff($"Nothing was taken there for {Patience.TotalDays:0} days.");

    /// <summary>The other side said (410) that it wants no more.</summary>
    public void Gone() => TurnOff("The other program answered that it wants no more (410).");

    private void TurnOff(string why) => (IsOn, Trouble) = (false, why);
}
