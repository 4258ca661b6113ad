using System.Globalization;
using System.Text.RegularExpressions;
using ShopFloor.Application.Common;
using ShopFloor.Application.People;
using ShopFloor.Domain.Common;
using ShopFloor.Web.Layout;

namespace ShopFloor.Web.Features.People;

/// <summary>Which programs hold a key.</summary>
public partial class KeysPanel(
    ReadPeople read,
    CreateApiKey createKey,
    RevokeApiKey revokeKey,
    ShopHead head,
    TimeProvider clock
)
{
    private readonly HashSet<Permission> keyScopes = [];
    private IReadOnlyList<ApiKeyView> keys = [];
    private IReadOnlyList<FieldError> errors = [];
    private TimeZoneInfo zone = TimeZoneInfo.Utc;
    private string? keyName;
    private string keyRole = "front-desk";
    private string keyDays = "365";
    private bool keyReads;
    private string? newKey;

    protected override async Task<Failure?> LoadAsync()
    {
        if (await head.ReadAsync(Closing) is { } shop)
        {
            zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        }

        var outcome = await read.KeysAsync(Actor, Closing);
        keys = outcome.IsSuccess ? outcome.Value : [];
        return outcome.Failure;
    }

    protected override bool Concerns(ChangeNotice notice) => notice.Subject is "apiKey";

    private async Task MakeKeyAsync()
    {
        var outcome = await createKey.RunAsync(
            new CreateApiKey.Request(
                keyName,
                keyRole,
                null,
                [.. keyScopes.Select(p => p.ToString())],
                keyReads,
                int.TryParse(keyDays, CultureInfo.InvariantCulture, out var days) ? days : null
            ),
            Envelope(),
            Closing
        );
        errors = outcome.Failure is Failure.Invalid invalid ? invalid.Errors : [];
        if (outcome.Failure is not Failure.Invalid && Accepted(outcome, out var created))
        {
            newKey = created.Key;
            keyName = null;
            keyScopes.Clear();
        }
    }

    private async Task RevokeAsync(ApiKeyView key) =>
        Accepted(await revokeKey.RunAsync(key.Id, Envelope(), Closing), out _, "Revoked.");

    /// <summary>What was ticked was ticked of another role.</summary>
    private void ChooseRole(string role)
    {
        keyRole = role;
        keyScopes.Clear();
    }

    private void Limit(Permission permission, bool isChosen) =>
        _ = isChosen ? keyScopes.Add(permission) : keyScopes.Remove(permission);

    private bool HasEnded(ApiKeyView key) => key.EndsAt <= clock.GetUtcNow();

    private static string ReachOf(ApiKeyView key) =>
        (key.IsReader ? "Read " : "Read and write ")
        + (key.Scopes.Count == 0 ? "all that the role may" : "only: " + string.Join(", ", key.Scopes.Select(InWords)));

    /// <summary>SeeOffice becomes "see office".</summary>
    private static string InWords(Permission permission) => InWords(permission.ToString());

    /// <summary>As it is stored: an older program may have known one that is gone.</summary>
    private static string InWords(string scope) => WordBreak().Replace(scope, " ").ToLowerInvariant();

    [GeneratedRegex("(?<=[a-z])(?=[A-Z])")]
    private static partial Regex WordBreak();

    private string Day(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    private string? SayOfKey(string path) => errors.FirstOrDefault(e => e.Path == path)?.Text;
}
