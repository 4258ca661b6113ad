using System.Security.Cryptography;
using ShopFloor.Application.Backups;

namespace ShopFloor.Web.Tests.Backups;

public sealed class ArchiveLockTests
{
    private const string Passphrase = "twelve welders in a row";
    private const int Chunk = 64 * 1024;

    private static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(Chunk - 1)]
    [InlineData(Chunk)]
    [InlineData(Chunk + 1)]
    [InlineData((3 * Chunk) + 17)]
    public async Task What_is_locked_comes_back_whole_and_cannot_be_read_meanwhile(int length)
    {
        var content = new byte[length];
        new Random(length).NextBytes(content);
        var locked = await LockAsync(content);

        Assert.True(ArchiveLock.IsLocked(new MemoryStream(locked)));
        Assert.False(ArchiveLock.IsLocked(new MemoryStream(content)));
        Assert.Equal(content, await UnlockAsync(locked, Passphrase));
        Assert.NotEqual(locked, await LockAsync(content));
        Assert.Equal(-1, length < 64 ? -1 : locked.AsSpan().IndexOf(content.AsSpan(0, 32)));
    }

    [Fact]
    public async Task Another_passphrase_opens_nothing()
    {
        var locked = await LockAsync(new byte[100]);
        var trouble = await Assert.ThrowsAsync<BackupException>(() => UnlockAsync(locked, Passphrase + "."));
        Assert.Contains("passphrase", trouble.Message, StringComparison.Ordinal);
    }

    /// <summary>Each chunk is 64 KiB and 16 bytes; before them stand the mark and the salt.</summary>
    [Fact]
    public async Task Chunks_that_are_changed_exchanged_left_out_or_cut_off_are_found_out()
    {
        var content = new byte[3 * Chunk];
        new Random(1).NextBytes(content);
        var locked = await LockAsync(content);
        const int whole = Chunk + 16;
        var head = locked.Length - (3 * whole);
        byte[] Part(int n) => locked[(head + (n * whole))..(head + ((n + 1) * whole))];
        byte[] start = locked[..head];

        await RefusedAsync([.. start, .. Part(1), .. Part(0), .. Part(2)]);
        await RefusedAsync([.. start, .. Part(0), .. Part(2)]);
        await RefusedAsync([.. start, .. Part(0), .. Part(1)]);
        await RefusedAsync([.. locked, .. Part(2)]);
        await RefusedAsync(locked[..^1]);
        await RefusedAsync(locked[..head]);
        await RefusedAsync(locked[..(head - 3)]);
        foreach (var at in new[] { head - 1, head, head + whole + 5, locked.Length - 1 })
        {
            var changed = (byte[])locked.Clone();
            changed[at] ^= 1;
            await RefusedAsync(changed);
        }
    }

    /// <summary>The first chunk opened by the parts of the standard themselves: PBKDF2 over the salt, then AES-GCM with the nonce of a first and only chunk.</summary>
    [Fact]
    public async Task The_layout_can_be_read_by_anybody_who_knows_the_standards()
    {
        var content = "roll bar"u8.ToArray();
        var locked = await LockAsync(content);
        var mark = "shopfloor-locked-1\n"u8.ToArray();
        Assert.Equal(mark, locked[..mark.Length]);
        var header = locked[..(mark.Length + 16)];
        var key = Rfc2898DeriveBytes.Pbkdf2(Passphrase, header[mark.Length..], 600_000, HashAlgorithmName.SHA256, 32);
        using var cipher = new AesGcm(key, 16);
        var plain = new byte[content.Length];
        cipher.Decrypt(
            [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1],
            locked.AsSpan(header.Length, content.Length),
            locked.AsSpan(header.Length + content.Length),
            plain,
            header
        );
        Assert.Equal(content, plain);
    }

    private static Task<BackupException> RefusedAsync(byte[] locked) =>
        Assert.ThrowsAsync<BackupException>(() => UnlockAsync(locked, Passphrase));

    private static async Task<byte[]> LockAsync(byte[] content)
    {
        using var to = new MemoryStream();
        await ArchiveLock.LockAsync(new MemoryStream(content), to, Passphrase, Ct);
        return to.ToArray();
    }

    private static async Task<byte[]> UnlockAsync(byte[] locked, string passphrase)
    {
        using var to = new MemoryStream();
        await ArchiveLock.UnlockAsync(new MemoryStream(locked), to, passphrase, Ct);
        return to.ToArray();
    }
}
