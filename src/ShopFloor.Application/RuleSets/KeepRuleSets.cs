using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Domain.Common;
using ShopFloor.Domain.RuleSets;

namespace ShopFloor.Application.RuleSets;

/// <summary>The owner's work on rule sets: copy one, change the copy, bring in a file, withdraw a set from new jobs and offer it again. Stored versions are never changed.</summary>
public sealed class KeepRuleSets(CommandRunner runner) : IUseCase
{
    /// <param name="Version">Which version is copied; null for the newest.</param>
    /// <param name="Title">Null for the original's title with "own copy" behind it.</param>
    public sealed record CopyRequest(int? Version = null, string? Title = null);

    /// <param name="FromVersion">The version that the change was made on.</param>
    /// <param name="Document">The whole set; its code, version and origin are kept as they are.</param>
    public sealed record SaveRequest(int FromVersion, RuleSetDocument Document);

    private const string Suffix = "-own";

    public Task<Outcome<RuleSetView>> CopyAsync(
        string code,
        CopyRequest request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<RuleSetView>(
            Permission.RunShop,
            envelope,
            new
            {
                code,
                request,
                copy = true,
            },
            async scope =>
            {
                var source = await scope
                    .Db.Set<RuleSetVersion>()
                    .AsNoTracking()
                    .Where(v => v.Code == code && (request.Version == null || v.Number == request.Version))
                    .OrderByDescending(v => v.Number)
                    .FirstOrDefaultAsync(ct);
                if (source is null)
                {
                    return Failure.Missing(request.Version is null ? "rule set" : "version of this rule set");
                }

                if (Damaged(source) is { } damaged)
                {
                    return damaged;
                }

                var original = source.Read().Document;
                var title = request.Title ?? OwnTitle(original.Title);
                var checkedSet = RuleSet.From(
                    original with
                    {
                        Code = await FreeCodeAsync(scope, code),
                        Title = title,
                        // A copy of a copy stands for the same original, whose codes the inspection plans name.
                        CopyOf = original.CopyOf ?? original.Code,
                        CopyOfVersion = original.CopyOfVersion ?? original.Version,
                    }
                );
                return checkedSet.TryGet(out var copy, out var failure)
                    ? await StoredAsync(scope, copy, RuleSetOrigin.Copied)
                    : failure;
            },
            ct
        );

    public Task<Outcome<RuleSetView>> SaveAsync(
        string code,
        SaveRequest request,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<RuleSetView>(
            Permission.RunShop,
            envelope,
            new { code, request },
            async scope =>
            {
                if (await RuleSetStore.NewestAsync(scope.Db, code, ct) is not { } newest)
                {
                    return Failure.Missing("rule set");
                }

                if (await ShippedAsync(scope, code) is { } shipped)
                {
                    return shipped;
                }

                if (newest.Number != request.FromVersion)
                {
                    return Failure.Because(
                        "stale",
                        $"Version {newest.Number} was stored meanwhile; you changed version {request.FromVersion}. Load the set again and repeat your change."
                    );
                }

                if (Damaged(newest) is { } damaged)
                {
                    return damaged;
                }

                var before = newest.Read();
                return await NextAsync(
                    scope,
                    before,
                    request.Document with
                    {
                        Schema = RuleSet.CurrentSchema,
                        Code = code,
                        Version = newest.Number,
                        CopyOf = before.Document.CopyOf,
                        CopyOfVersion = before.Document.CopyOfVersion,
                    },
                    RuleSetOrigin.Edited
                );
            },
            ct
        );

    /// <summary>Takes in a file: a new set, or the next version of one of the shop's own.</summary>
    public async Task<Outcome<RuleSetView>> ImportAsync(string text, Envelope envelope, CancellationToken ct) =>
        RuleSetReader.Read(text).TryGet(out var file, out var wrong)
            ? await runner.RunAsync<RuleSetView>(
                Permission.RunShop,
                envelope,
                new { import = text },
                async scope =>
                {
                    if (await ShippedAsync(scope, file.Code) is not null)
                    {
                        return Failure.Field(
                            "code",
                            $"{file.Code} is a rule set that comes with the program. Give the file a code of its own."
                        );
                    }

                    if (await RuleSetStore.NewestAsync(scope.Db, file.Code, ct) is not { } newest)
                    {
                        return await StoredAsync(scope, file, RuleSetOrigin.Imported);
                    }

                    return Damaged(newest) is { } damaged
                        ? damaged
                        : await NextAsync(
                            scope,
                            newest.Read(),
                            file.Document with
                            {
                                Version = newest.Number,
                            },
                            RuleSetOrigin.Imported
                        );
                },
                ct
            )
            : wrong;

    /// <summary>New quotes and jobs no longer take the set; what was built to it keeps it.</summary>
    public Task<Outcome<RuleSetView>> WithdrawAsync(string code, Envelope envelope, CancellationToken ct) =>
        ShelveAsync(
            code,
            "ruleSet.withdrawn",
            (shelf, scope) => shelf.Withdraw(scope.Now, scope.Actor.Person),
            envelope,
            ct
        );

    /// <summary>New quotes and jobs may take it again.</summary>
    public Task<Outcome<RuleSetView>> OfferAsync(string code, Envelope envelope, CancellationToken ct) =>
        ShelveAsync(code, "ruleSet.offered", (shelf, _) => shelf.Offer(), envelope, ct);

    private Task<Outcome<RuleSetView>> ShelveAsync(
        string code,
        string type,
        Func<RuleSetShelf, CommandScope, Outcome<Done>> act,
        Envelope envelope,
        CancellationToken ct
    ) =>
        runner.RunAsync<RuleSetView>(
            Permission.RunShop,
            envelope,
            new { code, type },
            async scope =>
            {
                var shelf = await scope.Db.Set<RuleSetShelf>().SingleOrDefaultAsync(s => s.Code == code, ct);
                if (shelf is null || await RuleSetStore.NewestAsync(scope.Db, code, ct) is not { } newest)
                {
                    return Failure.Missing("rule set");
                }

                if (act(shelf, scope).Failure is { } failure)
                {
                    return failure;
                }

                scope.Record(RuleSetStore.ShelfEvent(type, newest));
                await scope.SaveAsync();
                return await ReadRuleSets.ViewAsync(scope.Db, newest, ct);
            },
            ct
        );

    private static async Task<Outcome<RuleSetView>> NextAsync(
        CommandScope scope,
        RuleSet before,
        RuleSetDocument document,
        RuleSetOrigin origin
    )
    {
        // Checked first: cleaning takes apart what is there, and a figure may be missing.
        if (!RuleSet.From(document).TryGet(out var after, out var failure))
        {
            return failure;
        }

        return RuleSetContent.Write(RuleSetContent.Clean(after.Document)) == RuleSetContent.Write(before.Document)
            ? Failure.Because("same", $"Nothing differs from version {before.Version}, so no new version was made.")
            : await StoredAsync(scope, after, origin);
    }

    private static async Task<Outcome<RuleSetView>> StoredAsync(CommandScope scope, RuleSet rules, RuleSetOrigin origin)
    {
        var version = await RuleSetStore.AddAsync(scope, rules, origin);
        await scope.SaveAsync();
        return await ReadRuleSets.ViewAsync(scope.Db, version, scope.Cancellation);
    }

    private static async Task<Failure?> ShippedAsync(CommandScope scope, string code) =>
        await scope
            .Db.Set<RuleSetVersion>()
            .AnyAsync(v => v.Code == code && v.Origin == RuleSetOrigin.Shipped, scope.Cancellation)
            ? Failure.Because(
                "shipped",
                "This rule set comes with the program and is not changed here. Copy it, and change the copy."
            )
            : null;

    private static Failure? Damaged(RuleSetVersion version) =>
        version.Audit().Any()
            ? Failure.Because(
                "damaged",
                $"Version {version.Number} was changed behind the program's back and is not used. Have the owner run the check of what is stored."
            )
            : null;

    private static string OwnTitle(string title)
    {
        const string Own = " (own copy)";
        return (title.Length > TextRules.ShortText - Own.Length ? title[..(TextRules.ShortText - Own.Length)] : title)
            + Own;
    }

    private static async Task<string> FreeCodeAsync(CommandScope scope, string code)
    {
        var room = TextRules.Code - Suffix.Length - 4;
        var stem = (code.Length > room ? code[..room] : code) + Suffix;
        var taken = await scope
            .Db.Set<RuleSetShelf>()
            .Where(s => s.Code.StartsWith(stem))
            .Select(s => s.Code)
            .ToListAsync(scope.Cancellation);
        return Enumerable
            .Range(1, taken.Count + 1)
            .Select(i => i == 1 ? stem : $"{stem}-{i}")
            .First(c => !taken.Contains(c, StringComparer.Ordinal));
    }
}
