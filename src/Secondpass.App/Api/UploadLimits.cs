namespace Secondpass.App.Api;

/// <summary>How much one request may bring.</summary>
internal static class UploadLimits
{
    /// <summary>Largest file of one film: 64 MB, many times an uncompressed intra-oral film.</summary>
    public const int LargestFilmBytes = 64 << 20;

    /// <summary>Largest request: four films and their wrapping.</summary>
    public const int LargestRequestBytes = (4 * LargestFilmBytes) - (1 << 20);

    /// <summary>Most fields of one form: the table of the largest import has two for each film.</summary>
    public const int MostFormFields = 4000;

    /// <summary>Largest JSON body: 1 MB.</summary>
    public const int LargestJsonBytes = 1 << 20;
}
