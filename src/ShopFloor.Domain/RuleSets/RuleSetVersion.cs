using ShopFloor.Domain.Common;

namespace ShopFloor.Domain.RuleSets;

/// <summary>Where a stored version of a rule set came from.</summary>
public enum RuleSetOrigin
{
    /// <summary>A file that came with the program.</summary>
    Shipped,

    /// <summary>The owner's copy of another set, as it was begun.</summary>
    Copied,

    /// <summary>Changed by the owner on the screen.</summary>
    Edited,

    /// <summary>A file that the owner brought in.</summary>
    Imported,
}

/// <summary>One version of a rule set as the shop keeps it. It is never changed: whatever differs is another version.</summary>
public sealed class RuleSetVersion
{
    private RuleSetVersion() { }

    public RuleSetVersionId Id { get; private set; }
    public string Code { get; private set; } = "";

    /// <summary>Goes up; unique with the code.</summary>
    public int Number { get; private set; }
    public RuleSetOrigin Origin { get; private set; }

    /// <summary>Canonical JSON, see <see cref="RuleSetContent"/>.</summary>
    public string Content { get; private set; } = "";

    /// <summary>SHA-256 of <see cref="Content"/>.</summary>
    public string ContentHash { get; private set; } = "";

    /// <summary>Of a shipped file, with the version it names itself: by it a later start knows that it has the file already.</summary>
    public string? FileHash { get; private set; }
    public DateTimeOffset StoredAt { get; private set; }

    /// <summary>Null where the program itself did it.</summary>
    public PersonId? StoredBy { get; private set; }

    /// <summary>The hash by which a shipped file is known again.</summary>
    public static string HashOf(RuleSet file)
    {
        ArgumentNullException.ThrowIfNull(file);
        return CanonicalJson.Sha256(RuleSetContent.Write(RuleSetContent.Clean(file.Document)));
    }

    /// <param name="id">New.</param>
    /// <param name="rules">Checked; its own version gives way to <paramref name="number"/>.</param>
    /// <param name="number">Above every stored version of the code.</param>
    /// <param name="origin">Where it came from.</param>
    /// <param name="at">Now.</param>
    /// <param name="by">Who stores it.</param>
    public static RuleSetVersion Store(
        RuleSetVersionId id,
        RuleSet rules,
        int number,
        RuleSetOrigin origin,
        DateTimeOffset at,
        PersonId? by
    )
    {
        ArgumentNullException.ThrowIfNull(rules);
        var content = RuleSetContent.Write(RuleSetContent.Clean(rules.Document) with { Version = number });
        return new RuleSetVersion
        {
            Id = id,
            Code = rules.Code,
            Number = number,
            Origin = origin,
            Content = content,
            ContentHash = CanonicalJson.Sha256(content),
            FileHash = origin == RuleSetOrigin.Shipped ? HashOf(rules) : null,
            StoredAt = at,
            StoredBy = by,
        };
    }

    /// <summary>The rule set. What is stored was checked before; content that is none was tampered with.</summary>
    /// <exception cref="InvalidDataException">The content was changed behind the program's back.</exception>
    public RuleSet Read() =>
        RuleSetContent.Read(Content).TryGet(out var rules, out var failure)
            ? rules
            : throw new InvalidDataException($"Rule set {Code}, version {Number}: {failure.Sentence}");

    /// <summary>A sentence for each way in which it is not what was stored.</summary>
    public IEnumerable<string> Audit()
    {
        if (CanonicalJson.Sha256(Content) != ContentHash)
        {
            yield return "its content is not what was stored, the hash differs";
        }
        else if (!RuleSetContent.Read(Content).TryGet(out var rules, out _))
        {
            yield return "its content is no rule set";
        }
        else if (rules.Code != Code || rules.Version != Number)
        {
            yield return $"it is kept as {Code}, version {Number}, but its content says {rules.Code}, version {rules.Version}";
        }
    }
}

/// <summary>How a rule set stands in the shop: whether new quotes and jobs may take it. Versions are kept either way.</summary>
public sealed class RuleSetShelf : IVersioned
{
    private RuleSetShelf() { }

    public string Code { get; private set; } = "";
    public long Version { get; private set; }
    public DateTimeOffset? WithdrawnAt { get; private set; }
    public PersonId? WithdrawnBy { get; private set; }

    public static RuleSetShelf Of(string code) => new() { Code = code };

    public Outcome<Done> Withdraw(DateTimeOffset at, PersonId? by)
    {
        if (WithdrawnAt is not null)
        {
            return Failure.Because("withdrawn", "The rule set is withdrawn from new jobs already.");
        }

        (WithdrawnAt, WithdrawnBy) = (at, by);
        return Outcome.Ok;
    }

    public Outcome<Done> Offer()
    {
        if (WithdrawnAt is null)
        {
            return Failure.Because("offered", "New jobs may take the rule set already.");
        }

        (WithdrawnAt, WithdrawnBy) = (null, null);
        return Outcome.Ok;
    }
}
