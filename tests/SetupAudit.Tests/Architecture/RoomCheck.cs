using System.Reflection;
using System.Runtime.CompilerServices;
using NetArchTest.Rules;

namespace SetupAudit.Architecture;

/// <summary>Holds assemblies against a table of rooms and says in words what breaks it.</summary>
public sealed class RoomCheck(string root, IReadOnlyList<Room> rooms, params Assembly[] assemblies)
{
    /// <summary>One sentence a type that uses a room or package its own room may not use.</summary>
    public IReadOnlyList<string> Trespasses() => [.. rooms.SelectMany(TrespassesOf)];

    /// <summary>Namespaces that have types and no row.</summary>
    public IReadOnlyList<string> Unlisted() =>
    [
        .. assemblies.SelectMany(assembly => assembly.GetTypes())
            .Where(type => !type.IsNested && !IsCompilers(type))
            .Where(type => Within(type.Namespace, root) && !rooms.Any(room => Holds(room, type)))
            .Select(type => type.FullName ?? type.Name),
    ];

    private IEnumerable<string> TrespassesOf(Room room)
    {
        var forbidden = rooms
            .Where(other => other != room && !room.MayUse.Contains(other.Name)).Select(other => $"{root}.{other.Name}")
            .Concat(rooms.SelectMany(other => other.Packages).Where(package => !room.Packages.Contains(package)))
            .Distinct();
        // The pattern takes the room's own types: a room that is one type is met by its full name.
        var failing = Types.InAssemblies(assemblies).That()
            .ResideInNamespace($"{root}.{room.Name}").Or().AreOfType(TypesNamed(room))
            .Should().NotHaveDependencyOnAny([.. forbidden]).GetResult().FailingTypes;
        return failing.Select(type => $"{type.FullName} is in {room.Name}: {type.Explanation}");
    }

    private Type[] TypesNamed(Room room) =>
        [.. assemblies.Select(assembly => assembly.GetType($"{root}.{room.Name}")).OfType<Type>()];

    private bool Holds(Room room, Type type) =>
        Within(type.Namespace, $"{root}.{room.Name}") || type.FullName == $"{root}.{room.Name}";

    private static bool Within(string? name, string outer) =>
        name == outer || name is not null && name.StartsWith(outer + ".", StringComparison.Ordinal);

    private static bool IsCompilers(Type type) => type.IsDefined(typeof(CompilerGeneratedAttribute), inherit: false);
}
