using SetupAudit.Support;

namespace SetupAudit.Readings;

public sealed class ProgramFixtureTests
{
    public static TheoryData<string> Files => Fixtures.Of("program");

    [Theory]
    [MemberData(nameof(Files))]
    public void A_program_gives_what_its_pair_says(string file) => Fixtures.Expect("program", file,
        ProgramFixture.Json(Programs.Read(Fixtures.Bytes("program", file), ProgramFixture.MachineOf(file), "programs/" + file)));
}
