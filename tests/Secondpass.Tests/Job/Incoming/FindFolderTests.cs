using Secondpass.Job.Incoming;
using Secondpass.Tests.Records;

namespace Secondpass.Tests.Job.Incoming;

public sealed class FindFolderTests
{
    [Fact]
    public void Folders_are_tapped_through_by_name_up_and_down_with_hidden_ones_left_out()
    {
        using var place = new TemporaryFolder();
        Directory.CreateDirectory(place.Of("films", "2026"));
        Directory.CreateDirectory(place.Of("Export"));
        Directory.CreateDirectory(place.Of(".hidden"));
        File.WriteAllText(place.Of("films", "a.dcm"), "x");

        var shown = FindFolder.Below(place.Path).Value;
        Assert.Equal(["Export", "films"], shown.Folders.Select(folder => folder.Name));
        Assert.Equal(Path.GetDirectoryName(place.Path), shown.Above);
        var films = FindFolder.Below(shown.Folders[1].Path).Value;
        Assert.Equal((place.Path, 1, "2026"), (films.Above, films.FileCount, Assert.Single(films.Folders).Name));
        Assert.True(FindFolder.Below(FindFolder.Begin).IsGiven);
    }

    [Theory]
    [InlineData("films")]
    [InlineData("/no/such/folder")]
    [InlineData("a\0b")]
    public void What_is_no_folder_is_refused_in_words(string path) =>
        Assert.Equal($"The folder “{path}” is not there, or may not be read.", FindFolder.Below(path).Refusal.Reason);
}
