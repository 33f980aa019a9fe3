namespace Secondpass.Outside;

public sealed class PythonRunnerTests
{
    [Fact]
    public void Finds_every_Python_package_that_the_checks_lean_on()
    {
        var lines = PythonRunner.Run("versions.py").Split('\n', StringSplitOptions.RemoveEmptyEntries);

        Assert.Equal(["numpy", "scipy", "PIL", "cv2", "skimage", "tifffile", "pydicom"], lines.Select(line => line.Split(' ')[0]));
    }

    [Fact]
    public void A_script_that_fails_fails_the_test_and_says_what_to_install()
    {
        var failure = Assert.Throws<InvalidOperationException>(() => PythonRunner.Run("no_such_script.py"));

        Assert.Contains("no_such_script.py ended with 2:", failure.Message, StringComparison.Ordinal);
        Assert.Contains("run: apt-get install -y python3 ", failure.Message, StringComparison.Ordinal);
    }
}
