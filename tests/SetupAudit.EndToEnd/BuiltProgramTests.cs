using SetupAudit.Support;

namespace SetupAudit;

public sealed class BuiltProgramTests
{
    [Fact]
    public void Without_a_command_it_says_that_the_command_line_is_at_fault()
    {
        using var folder = new TempShare();
        BuiltProgram.Run(folder.Folder).Exits(2);
    }
}
