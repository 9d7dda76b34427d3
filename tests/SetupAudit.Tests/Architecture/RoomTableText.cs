namespace SetupAudit.Architecture;

/// <summary>The table of rooms as documents show it.</summary>
public static class RoomTableText
{
    public static string Of(IReadOnlyList<Room> rooms) =>
        string.Join('\n', rooms.Select(Row).Prepend("| --- | --- | --- |").Prepend("| room | may use | packages of its own |"));

    private static string Row(Room room) => $"| {room.Name} | {List(room.MayUse)} | {List(room.Packages)} |";

    private static string List(IReadOnlyList<string> names) => names.Count == 0 ? "-" : string.Join(", ", names);
}
