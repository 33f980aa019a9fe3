namespace Secondpass.App.Api;

/// <summary>Where data is kept when no folder is named.</summary>
internal static class DataFolders
{
    /// <summary>The data folder of this user; the invented examples have one of their own, so that they never stand among patients.</summary>
    public static string OfThisUser(bool demo) => Path.Combine(
        Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.Create),
        demo ? "Secondpass-demo" : "Secondpass");
}
