using System.Reflection;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Conventions;
using ShopFloor.Domain.Messages;

namespace ShopFloor.Application.Messages;

/// <summary>The words that come with the program, and those in force.</summary>
public static class MessageTemplates
{
    private static readonly Dictionary<string, IReadOnlyDictionary<MessageKind, MessageWords>> Shipped =
        MessageLanguages.All.ToDictionary(l => l, Read, StringComparer.Ordinal);

    public static MessageWords ShippedOf(MessageKind kind, string language) => Shipped[language][kind];

    /// <summary>The shop's newest words, or the shipped ones; with the number of the version, 0 where the shop never changed them.</summary>
    internal static async Task<(MessageWords Words, int Edition)> InForceAsync(
        ShopDbContext db,
        MessageKind kind,
        string language,
        CancellationToken ct
    )
    {
        var newest = await db.Set<MessageTemplateEdition>()
            .AsNoTracking()
            .Where(t => t.Kind == kind && t.Language == language)
            .OrderByDescending(t => t.Edition)
            .FirstOrDefaultAsync(ct);
        return newest is { Subject: { } subject, Body: { } body }
            ? (new MessageWords(subject, body), newest.Edition)
            : (ShippedOf(kind, language), newest?.Edition ?? 0);
    }

    private static IReadOnlyDictionary<MessageKind, MessageWords> Read(string language)
    {
        using var stream = Assembly
            .GetExecutingAssembly()
            .GetManifestResourceStream($"StarterData/messages/{language}.json")!;
        return JsonSerializer.Deserialize<Dictionary<MessageKind, MessageWords>>(stream, StoredJson.Options)!;
    }
}
