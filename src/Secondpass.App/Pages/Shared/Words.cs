namespace Secondpass.App.Pages.Shared;

/// <summary>Sentences that stand on more than one page.</summary>
internal static class Words
{
    /// <summary>First sentence of the notice.</summary>
    public const string Certified = "Secondpass is not a certified medical device.";

    /// <summary>Second sentence of the notice.</summary>
    public const string Licensed = "It supports a licensed clinician's judgement and never replaces it.";
}
