using System.Numerics;

namespace Secondpass.Phantoms;

/// <summary>The simulator's own generator of random numbers: the same seed gives the same numbers on every machine and runtime.</summary>
/// <remarks>xoshiro256** of Blackman and Vigna, ACM Trans Math Softw 2021;47(4):36, seeded by SplitMix64 (both from memory).</remarks>
public sealed class PhantomRandom
{
    private ulong s0;
    private ulong s1;
    private ulong s2;
    private ulong s3;

    /// <summary>Makes a generator.</summary>
    /// <param name="seed">The seed.</param>
    /// <param name="stream">A number that tells uses of one seed apart.</param>
    public PhantomRandom(int seed, int stream = 0)
    {
        var state = unchecked(((ulong)(uint)seed << 32) | (uint)stream);
        s0 = Split(ref state);
        s1 = Split(ref state);
        s2 = Split(ref state);
        s3 = Split(ref state);
    }

    /// <summary>64 random bits.</summary>
    public ulong NextBits()
    {
        unchecked
        {
            var result = BitOperations.RotateLeft(s1 * 5, 7) * 9;
            var t = s1 << 17;
            s2 ^= s0;
            s3 ^= s1;
            s1 ^= s2;
            s0 ^= s3;
            s2 ^= t;
            s3 = BitOperations.RotateLeft(s3, 45);
            return result;
        }
    }

    /// <summary>A number in [0, 1).</summary>
    public double Next() => (NextBits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>A number in [<paramref name="low"/>, <paramref name="high"/>).</summary>
    public double Between(double low, double high) => low + ((high - low) * Next());

    /// <summary>A whole number from <paramref name="low"/> to <paramref name="high"/>, both included.</summary>
    public int Whole(int low, int high) => low + (int)(Next() * (high - low + 1));

    /// <summary>True with the given chance.</summary>
    public bool Chance(double probability) => Next() < probability;

    /// <summary>+1 or −1.</summary>
    public int Sign() => Chance(0.5) ? 1 : -1;

    /// <summary>A normal number of mean 0 and standard deviation 1: the scaled sum of eight uniform 16-bit numbers.</summary>
    public float NextNormal()
    {
        // A sum of 8 uniforms: variance 8/12 of the square of the range; its tails end at 4.9 standard deviations.
        var a = NextBits();
        var b = NextBits();
        var sum = (a & 0xFFFF) + ((a >> 16) & 0xFFFF) + ((a >> 32) & 0xFFFF) + (a >> 48)
            + (b & 0xFFFF) + ((b >> 16) & 0xFFFF) + ((b >> 32) & 0xFFFF) + (b >> 48);
        return (((float)sum * (1f / 65536f)) - 3.99994f) * 1.2247449f;
    }

    private static ulong Split(ref ulong state)
    {
        unchecked
        {
            state += 0x9E3779B97F4A7C15UL;
            var z = state;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
            return z ^ (z >> 31);
        }
    }
}
