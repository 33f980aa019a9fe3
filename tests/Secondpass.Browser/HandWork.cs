namespace Secondpass.Browser;

/// <summary>What a hand did on the pages.</summary>
/// <param name="Clicks">Clicks.</param>
/// <param name="Fields">Fields typed or chosen in.</param>
/// <param name="Characters">Characters in them.</param>
public sealed record HandWork(int Clicks, int Fields, int Characters)
{
    // Card, Moran and Newell 1980, "The keystroke-level model for user performance time with interactive systems",
    // Communications of the ACM 23(7): pointing 1.1 s, pressing or releasing 0.1 s, hand to the keyboard 0.4 s,
    // a key 0.28 s for an average typist, a thought before each 1.35 s.
    private const double Thought = 1.35;
    private const double Click = 1.1 + 0.1 + 0.1;
    private const double ToKeyboard = 0.4;
    private const double Key = 0.28;

    /// <summary>Seconds that a person takes for it, beside what the machine takes.</summary>
    public double PersonSeconds => (Clicks * (Thought + Click)) + (Fields * (Thought + Click + ToKeyboard)) + (Characters * Key);
}
