using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace ShopFloor.Application.Backups;

/// <summary>
/// Locks a stream by a passphrase. Key: PBKDF2 with HMAC-SHA-256 (RFC 8018) over 16 random bytes; content: AES-256-GCM (NIST SP 800-38D) in chunks, each with
/// its number and a mark of the last one in its nonce, so that chunks cannot be exchanged, left out or cut off (the STREAM construction: V. Hoang,
/// R. Reyhanitabar, P. Rogaway, D. Vizár, Online authenticated-encryption and its nonce-reuse misuse-resistance, CRYPTO 2015; from memory).
/// </summary>
internal static class ArchiveLock
{
    public const int ShortestPassphrase = 12;

    /// <summary>As OWASP's Password Storage Cheat Sheet of 2023 asks for PBKDF2 with HMAC-SHA-256 (read as quoted by others).</summary>
    private const int Rounds = 600_000;
    private const int SaltBytes = 16;
    private const int ChunkBytes = 64 * 1024;
    private const int TagBytes = 16;
    private static ReadOnlySpan<byte> Magic => "shopfloor-locked-1\n"u8;

    /// <summary>Whether a file begins as a locked archive does; the position is put back.</summary>
    public static bool IsLocked(Stream file)
    {
        Span<byte> start = stackalloc byte[Magic.Length];
        var read = file.ReadAtLeast(start, start.Length, throwOnEndOfStream: false);
        file.Seek(-read, SeekOrigin.Current);
        return start.SequenceEqual(Magic);
    }

    public static async Task LockAsync(Stream from, Stream to, string passphrase, CancellationToken ct)
    {
        var header = new byte[Magic.Length + SaltBytes];
        Magic.CopyTo(header);
        RandomNumberGenerator.Fill(header.AsSpan(Magic.Length));
        await to.WriteAsync(header, ct);
        using var cipher = CipherOf(passphrase, header);
        var (chunk, next) = (new byte[ChunkBytes], new byte[ChunkBytes]);
        var locked = new byte[ChunkBytes + TagBytes];
        var length = await from.ReadAtLeastAsync(chunk, ChunkBytes, throwOnEndOfStream: false, ct);
        for (var number = 0L; ; number++)
        {
            // The one after it tells whether it is the last.
            var lengthOfNext = await from.ReadAtLeastAsync(next, ChunkBytes, throwOnEndOfStream: false, ct);
            var isLast = lengthOfNext == 0;
            cipher.Encrypt(
                Nonce(number, isLast),
                chunk.AsSpan(0, length),
                locked.AsSpan(0, length),
                locked.AsSpan(length, TagBytes),
                header
            );
            await to.WriteAsync(locked.AsMemory(0, length + TagBytes), ct);
            if (isLast)
            {
                return;
            }

            (chunk, next, length) = (next, chunk, lengthOfNext);
        }
    }

    /// <exception cref="BackupException">Another passphrase, or somebody changed the file.</exception>
    public static async Task UnlockAsync(Stream from, Stream to, string passphrase, CancellationToken ct)
    {
        var header = new byte[Magic.Length + SaltBytes];
        await from.ReadAtLeastAsync(header, header.Length, throwOnEndOfStream: false, ct);
        using var cipher = CipherOf(passphrase, header);
        var (locked, next) = (new byte[ChunkBytes + TagBytes], new byte[ChunkBytes + TagBytes]);
        var chunk = new byte[ChunkBytes];
        var length = await from.ReadAtLeastAsync(locked, locked.Length, throwOnEndOfStream: false, ct);
        for (var number = 0L; ; number++)
        {
            var lengthOfNext = await from.ReadAtLeastAsync(next, next.Length, throwOnEndOfStream: false, ct);
            var isLast = lengthOfNext == 0;
            try
            {
                cipher.Decrypt(
                    Nonce(number, isLast),
                    locked.AsSpan(0, Math.Max(0, length - TagBytes)),
                    locked.AsSpan(Math.Max(0, length - TagBytes), Math.Min(length, TagBytes)),
                    chunk.AsSpan(0, Math.Max(0, length - TagBytes)),
                    header
                );
            }
            catch (Exception exception) when (exception is CryptographicException or ArgumentException)
            {
                throw new BackupException(
                    number == 0
                        ? "The passphrase does not fit, or the archive is damaged."
                        : "The archive is damaged: a part of it is not what was locked. Take another backup.",
                    exception
                );
            }

            await to.WriteAsync(chunk.AsMemory(0, length - TagBytes), ct);
            if (isLast)
            {
                return;
            }

            (locked, next, length) = (next, locked, lengthOfNext);
        }
    }

    private static AesGcm CipherOf(string passphrase, ReadOnlySpan<byte> header) =>
        new(
            Rfc2898DeriveBytes.Pbkdf2(
                Encoding.UTF8.GetBytes(passphrase.Normalize(NormalizationForm.FormC)),
                header[Magic.Length..],
                Rounds,
                HashAlgorithmName.SHA256,
                32
            ),
            TagBytes
        );

    /// <summary>Never twice under one key: the key belongs to the salt of one archive.</summary>
    private static byte[] Nonce(long number, bool isLast)
    {
        var nonce = new byte[12];
        BinaryPrimitives.WriteInt64BigEndian(nonce.AsSpan(3), number);
        nonce[11] = isLast ? (byte)1 : (byte)0;
        return nonce;
    }
}
