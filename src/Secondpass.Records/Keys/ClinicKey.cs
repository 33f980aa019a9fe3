using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Secondpass.Records.Keys;

/// <summary>The clinic's key: wraps the patients' keys and signs how far the chain of events reaches.</summary>
/// <remarks>Never used itself: each purpose has a key of its own, derived by HKDF (RFC 5869) with SHA-256.</remarks>
internal sealed class ClinicKey
{
    private readonly byte[] key;
    private readonly byte[] wrapping;
    private readonly byte[] naming;
    private readonly byte[] signing;

    /// <summary>A key from its 32 bytes.</summary>
    public ClinicKey(byte[] key)
    {
        this.key = key;
        wrapping = Derive("wrap patients' keys");
        naming = Derive("name patients");
        signing = Derive("sign the end of the chain");
        Fingerprint = Convert.ToHexStringLower(Derive("fingerprint").AsSpan(0, 16));
    }

    /// <summary>Tells this key from others and gives nothing of it away: 32 hexadecimal digits.</summary>
    public string Fingerprint { get; }

    /// <summary>A new key.</summary>
    public static ClinicKey New() => new(RandomNumberGenerator.GetBytes(Sealing.KeyBytes));

    /// <summary>The key as groups to write down.</summary>
    public IReadOnlyList<string> Groups => RecoveryCode.Write(key);

    /// <summary>The name under which a patient's key is found: it doesn't give the patient's number away.</summary>
    public string NameOf(string patientNumber) => Convert.ToHexStringLower(HMACSHA256.HashData(naming, Encoding.UTF8.GetBytes(patientNumber)));

    /// <summary>Wraps a patient's key.</summary>
    public byte[] Wrap(string id, ReadOnlySpan<byte> patientKey) => Sealing.Seal(wrapping, id, patientKey);

    /// <summary>Unwraps a patient's key; null when it was changed.</summary>
    public byte[]? Unwrap(string id, ReadOnlySpan<byte> wrapped) => Sealing.Open(wrapping, id, wrapped);

    /// <summary>Signs the end of the chain: 64 hexadecimal digits.</summary>
    /// <param name="count">How many events there are.</param>
    /// <param name="lastHash">Hash of the last one.</param>
    public string Sign(long count, ReadOnlySpan<byte> lastHash)
    {
        var bytes = new byte[sizeof(long) + lastHash.Length];
        BinaryPrimitives.WriteInt64BigEndian(bytes, count);
        lastHash.CopyTo(bytes.AsSpan(sizeof(long)));
        return Convert.ToHexStringLower(HMACSHA256.HashData(signing, bytes));
    }

    private byte[] Derive(string purpose) => HKDF.DeriveKey(HashAlgorithmName.SHA256, key, Sealing.KeyBytes, info: Encoding.UTF8.GetBytes("secondpass: " + purpose));
}
