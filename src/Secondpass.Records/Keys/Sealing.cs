using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Secondpass.Records.Keys;

/// <summary>Encryption with AES-256-GCM (NIST SP 800-38D): what is sealed can be read only with its key, at its place, unchanged.</summary>
internal static class Sealing
{
    /// <summary>Length of a key: 32 bytes.</summary>
    public const int KeyBytes = 32;

    private const int NonceBytes = 12;
    private const int TagBytes = 16;

    /// <summary>Seals bytes: nonce (12, random), ciphertext, tag (16).</summary>
    /// <param name="key">32 bytes.</param>
    /// <param name="place">What the bytes belong to; has to be the same when they are opened.</param>
    /// <param name="plain">The bytes.</param>
    public static byte[] Seal(ReadOnlySpan<byte> key, string place, ReadOnlySpan<byte> plain)
    {
        var sealedBytes = new byte[NonceBytes + plain.Length + TagBytes];
        var nonce = sealedBytes.AsSpan(0, NonceBytes);
        RandomNumberGenerator.Fill(nonce);
        using var cipher = new AesGcm(key, TagBytes);
        cipher.Encrypt(nonce, plain, sealedBytes.AsSpan(NonceBytes, plain.Length), sealedBytes.AsSpan(NonceBytes + plain.Length), Encoding.UTF8.GetBytes(place));
        return sealedBytes;
    }

    /// <summary>A number that stands for a text: the same for the same text at the same place, and without the key it says nothing of the text.</summary>
    /// <remarks>63 bits of HMAC-SHA-256 (RFC 2104) under a key of its own, made by HKDF (RFC 5869).</remarks>
    /// <param name="key">32 bytes.</param>
    /// <param name="place">What the text belongs to.</param>
    /// <param name="text">The text.</param>
    public static long Number(ReadOnlySpan<byte> key, string place, string text)
    {
        var own = new byte[KeyBytes];
        HKDF.DeriveKey(HashAlgorithmName.SHA256, key, own, salt: [], info: "number of a text"u8);
        var hash = HMACSHA256.HashData(own, Encoding.UTF8.GetBytes($"{place}\n{text}"));
        return BinaryPrimitives.ReadInt64BigEndian(hash) & long.MaxValue;
    }

    /// <summary>Opens sealed bytes.</summary>
    /// <returns>The bytes; null when key or place is another one, or anything was changed.</returns>
    public static byte[]? Open(ReadOnlySpan<byte> key, string place, ReadOnlySpan<byte> sealedBytes)
    {
        if (sealedBytes.Length < NonceBytes + TagBytes)
        {
            return null;
        }

        var plain = new byte[sealedBytes.Length - NonceBytes - TagBytes];
        using var cipher = new AesGcm(key, TagBytes);
        try
        {
            cipher.Decrypt(
                sealedBytes[..NonceBytes],
                sealedBytes.Slice(NonceBytes, plain.Length),
                sealedBytes[(NonceBytes + plain.Length)..],
                plain,
                Encoding.UTF8.GetBytes(place));
            return plain;
        }
        catch (AuthenticationTagMismatchException)
        {
            return null;
        }
    }
}
