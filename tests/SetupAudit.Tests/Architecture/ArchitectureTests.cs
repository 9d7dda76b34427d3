using System.Reflection;
using SetupAudit.Evidence;
using SetupAudit.Support;

namespace SetupAudit.Architecture;

public sealed class ArchitectureTests
{
    private static readonly Assembly Core = typeof(Arrival).Assembly;
    private static readonly Assembly TheProgram = Assembly.Load("setupaudit");

    private static RoomCheck House => new(RoomTable.Root, RoomTable.Rooms, Core, TheProgram);

    [Fact]
    public void No_room_uses_what_the_table_does_not_allow() => Complaints.None(House.Trespasses());

    [Fact]
    public void Every_type_lives_in_a_room_of_the_table() => Complaints.None(House.Unlisted());

    [Fact]
    public void The_table_names_only_rooms_it_has() =>
        Assert.Subset(
            RoomTable.Rooms.Select(room => room.Name).ToHashSet(),
            RoomTable.Rooms.SelectMany(room => room.MayUse).ToHashSet());

    [Fact]
    public void Only_the_fold_and_its_state_use_each_other()
    {
        var allowed = RoomTable.Rooms.ToDictionary(room => room.Name, room => room.MayUse);
        var mutual = allowed.Keys.Where(name => allowed[name].Any(other => allowed[other].Contains(name)));
        Assert.Equal(["Derivation", "Folding"], mutual.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Core_references_nothing_but_the_runtime_and_its_one_package() =>
        Assert.DoesNotContain(
            Core.GetReferencedAssemblies(),
            used => used.Name is not { } name
                || !name.StartsWith("System.", StringComparison.Ordinal) && name != "MathNet.Numerics");

    [Fact]
    public void Core_and_program_hold_the_rooms_that_belong_to_them()
    {
        string[] ofProgram =
            ["Demo", "Metering", "Shares", "Store", "People", "Alerts", "Reports", "Auditing", "Web", "Commands"];
        var rooms = RoomTable.Rooms.Select(room => room.Name);
        foreach (var folder in rooms)
            Assert.False(
                Directory.Exists(Repository.At($"src/{(ofProgram.Contains(folder) ? "SetupAudit.Core" : "SetupAudit")}/{folder}")),
                $"{folder} lies in the other project");
    }

    [Fact]
    public void The_documentation_shows_the_table_that_is_held()
    {
        var table = RoomTableText.Of(RoomTable.Rooms);
        var shown = File.ReadAllText(Repository.At("docs/architecture.md")).ReplaceLineEndings("\n");
        if (!shown.Contains(table, StringComparison.Ordinal)) Assert.Fail($"docs/architecture.md does not show this table:\n{table}");
    }

    [Fact]
    public void The_documentation_says_what_each_room_is_for()
    {
        var shown = File.ReadAllLines(Repository.At("docs/architecture.md"));
        Complaints.None(RoomTable.Rooms
            .Where(room => shown.Count(line => line.StartsWith($"| {room.Name} | ", StringComparison.Ordinal)) != 2)
            .Select(room => $"docs/architecture.md has no row that says what {room.Name} is for"));
    }
}
