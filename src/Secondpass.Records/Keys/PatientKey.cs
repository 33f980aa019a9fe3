namespace Secondpass.Records.Keys;

/// <summary>One patient's key.</summary>
/// <param name="id">Its identity, 32 hexadecimal digits.</param>
/// <param name="key">32 bytes.</param>
internal sealed class PatientKey(string id, byte[] key)
{
    /// <summary>Its identity.</summary>
    public string Id => id;

    /// <summary>Seals bytes that belong to a place.</summary>
    public byte[] Seal(string place, ReadOnlySpan<byte> plain) => Sealing.Seal(key, place, plain);

    /// <summary>A number that stands for a text at a place, and says nothing of it without the key.</summary>
    public long Number(string place, string text) => Sealing.Number(key, place, text);

    /// <summary>Opens bytes that belong to a place; null when they were changed.</summary>
    public byte[]? Open(string place, ReadOnlySpan<byte> sealedBytes) => Sealing.Open(key, place, sealedBytes);
}
