namespace SetupAudit.Readings;

public sealed class ProgramNameTests
{
    [Theory]
    [InlineData("O0041", "O41")]
    [InlineData("o2041", "O2041")]
    [InlineData("2041", "O2041")]
    [InlineData(":0041", "O41")]
    [InlineData(" O 0041 ", "O41")]
    [InlineData("O0000", "O0")]
    [InlineData("0", "O0")]
    public void An_O_number_drops_its_leading_zeros_however_it_is_written(string written, string expected) =>
        Assert.Equal(expected, ProgramName.Normalise(written));

    [Theory]
    [InlineData(" pump-cover ", "pump-cover")]
    [InlineData("Onyx", "Onyx")]
    [InlineData("O", "O")]
    [InlineData("O12A", "O12A")]
    [InlineData("-12", "-12")]
    [InlineData("", "")]
    public void A_name_that_is_no_O_number_is_kept_as_written(string written, string expected) =>
        Assert.Equal(expected, ProgramName.Normalise(written));

    [Fact]
    public void An_ending_is_dropped_only_where_asked()
    {
        Assert.Equal("O0041.nc", ProgramName.Normalise("O0041.nc"));
        Assert.Equal("O41", ProgramName.Normalise("O0041.nc", dropEnding: true));
    }

    [Theory]
    [InlineData("shares/mill-3/programs/O0041.NC", "O41")]
    [InlineData("programs\\cover.op2.nc", "cover.op2")]
    [InlineData("2041", "O2041")]
    [InlineData("a/.nc", ".nc")]
    public void A_file_gives_its_name_without_folders_and_ending(string file, string expected) =>
        Assert.Equal(expected, ProgramName.OfFile(file));
}
