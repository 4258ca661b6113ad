using Microsoft.EntityFrameworkCore;
using ShopFloor.Application.Common;
using ShopFloor.Application.Files;
using ShopFloor.Documents.Images;
using ShopFloor.Domain.Common;

namespace ShopFloor.Application.Setup;

/// <summary>Whether the shop has a logo.</summary>
public sealed record LogoView(bool HasLogo, long Version);

/// <summary>The shop's logo on its papers: put on, looked at, taken off. The picture is written anew like every other.</summary>
public sealed class ShopLogo(CommandRunner runner, QueryRunner queries, IFileStore files, IImageProcessor images)
    : IUseCase
{
    /// <summary>2 MB.</summary>
    public const int MostBytes = 2 * 1024 * 1024;

    /// <summary>Puts a PNG or JPEG on the papers in place of an earlier logo.</summary>
    public async Task<Outcome<LogoView>> SetAsync(ReadOnlyMemory<byte> file, Envelope envelope, CancellationToken ct)
    {
        if (file.Length > MostBytes)
        {
            return new Failure.TooLarge(
                $"A logo has at most {MostBytes / 1024 / 1024} MB. Save it smaller and send it again."
            );
        }

        var read = await images.ProcessAsync(file, "file", ct);
        if (!read.TryGet(out var image, out var failure))
        {
            return failure;
        }

        if (image.OriginalKind is not (ImageKind.Png or ImageKind.Jpeg))
        {
            return new Failure.WrongType("A logo is a PNG or JPEG picture.");
        }

        return await ChangeAsync(
            new { image.OriginalSha256 },
            envelope,
            async scope => await files.StoreAsync(scope, image.Picture, ProcessedImage.ContentType),
            ct
        );
    }

    /// <summary>Takes the logo off the papers; without one nothing changes.</summary>
    public Task<Outcome<LogoView>> RemoveAsync(Envelope envelope, CancellationToken ct) =>
        ChangeAsync(new { }, envelope, _ => Task.FromResult<string?>(null), ct);

    /// <summary>The picture.</summary>
    public async Task<Outcome<StoredFile>> ReadAsync(Actor actor, CancellationToken ct)
    {
        var found = await queries.RunAsync<string>(
            Permission.SeeOffice,
            actor,
            async db => (await db.Shops.SingleAsync(ct)).LogoHash is { } hash ? hash : Failure.Missing("logo"),
            ct
        );
        if (!found.TryGet(out var hash, out var failure))
        {
            return failure;
        }

        return await files.ReadAsync(hash, ct) is { } file ? file : Failure.Missing("logo");
    }

    private Task<Outcome<LogoView>> ChangeAsync(
        object content,
        Envelope envelope,
        Func<CommandScope, Task<string?>> store,
        CancellationToken ct
    ) =>
        runner.RunAsync<LogoView>(
            Permission.RunShop,
            envelope,
            content,
            async scope =>
            {
                var shop = await scope.ShopAsync();
                if (scope.Stale(shop) is { } stale)
                {
                    return stale;
                }

                var before = shop.LogoHash;
                shop.ShowLogo(await store(scope));
                scope.Record(
                    new EventDraft(
                        "shop.logoChanged",
                        "shop",
                        shop.Id.Value,
                        Before: new { logo = before },
                        After: new { logo = shop.LogoHash }
                    )
                );
                await scope.SaveAsync();
                return new LogoView(shop.LogoHash is not null, shop.Version);
            },
            ct
        );
}
