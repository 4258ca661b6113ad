using ShopFloor.Domain.Integrations;

namespace ShopFloor.Application.Integrations;

/// <summary>What is posted to another program.</summary>
/// <param name="Address">Where to.</param>
/// <param name="Id">The same at every try.</param>
/// <param name="At">When this try is made.</param>
/// <param name="Signature">Of id, time and body.</param>
/// <param name="Body">JSON.</param>
public sealed record WebhookPost(Uri Address, string Id, DateTimeOffset At, string Signature, string Body)
{
    /// <summary>What is to be posted to a webhook, signed.</summary>
    public static WebhookPost To(Webhook webhook, string secret, string id, string body, DateTimeOffset now) =>
        new(new Uri(webhook.Address), id, now, WebhookSecrets.Sign(secret, id, now, body), body);
}

/// <summary>What came of a try.</summary>
/// <param name="Status">The answer's HTTP status; null where there was none.</param>
/// <param name="Problem">Why it was not taken, for people; null where it was.</param>
public sealed record WebhookAnswer(int? Status, string? Problem)
{
    public bool IsTaken => Problem is null;

    /// <summary>410: the other side wants no more.</summary>
    public bool IsGone => Status == 410;
}

/// <summary>Posts to other programs.</summary>
public interface IWebhookTransport
{
    /// <summary>One try. Never fails: what went wrong is in the answer, without anything that the other side said.</summary>
    Task<WebhookAnswer> PostAsync(WebhookPost post, CancellationToken ct);
}
