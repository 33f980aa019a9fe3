namespace Secondpass.Radiographs.Read;

/// <summary>What becomes of a picture's colours.</summary>
internal enum ColourMeaning
{
    /// <summary>A film that was exported in colour: the grey is the weighted sum of the values as they are encoded.</summary>
    Exported,

    /// <summary>A camera's picture: the grey shines as bright as the colour.</summary>
    Light,
}
