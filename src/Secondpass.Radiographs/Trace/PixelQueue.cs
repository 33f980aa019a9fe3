namespace Secondpass.Radiographs.Trace;

/// <summary>Pixels that wait to be looked at, the cheapest first; among equals the one nearer to the grid's start.</summary>
/// <remarks>
/// A heap of four children (Williams, Commun ACM 1964;7:347–348; four after Johnson, Inf Process Lett 1975;4:53–57) of single numbers: the bits of
/// a float that is not negative rise with it, so that cost and pixel are compared at once.
/// </remarks>
internal sealed class PixelQueue
{
    private const int Children = 4;
    private ulong[] heap = new ulong[4096];
    private int count;

    /// <summary>Adds a pixel; one that waits already waits twice.</summary>
    /// <param name="pixel">Its number in the grid, not negative.</param>
    /// <param name="cost">What it costs to come to it, not negative.</param>
    public void Add(int pixel, float cost)
    {
        if (count == heap.Length)
        {
            Array.Resize(ref heap, 2 * count);
        }

        var entry = ((ulong)BitConverter.SingleToUInt32Bits(cost) << 32) | (uint)pixel;
        var at = count++;
        while (at > 0 && entry < heap[(at - 1) / Children])
        {
            heap[at] = heap[(at - 1) / Children];
            at = (at - 1) / Children;
        }

        heap[at] = entry;
    }

    /// <summary>Takes the cheapest pixel out.</summary>
    /// <param name="pixel">The pixel.</param>
    /// <returns>False when none waits.</returns>
    public bool TryTakeCheapest(out int pixel)
    {
        if (count == 0)
        {
            pixel = 0;
            return false;
        }

        pixel = (int)(uint)heap[0];
        var last = heap[--count];
        var at = 0;
        while (true)
        {
            var first = (at * Children) + 1;
            if (first >= count)
            {
                break;
            }

            var least = first;
            for (var child = first + 1; child < Math.Min(first + Children, count); child++)
            {
                least = heap[child] < heap[least] ? child : least;
            }

            if (last <= heap[least])
            {
                break;
            }

            heap[at] = heap[least];
            at = least;
        }

        heap[at] = last;
        return true;
    }
}
