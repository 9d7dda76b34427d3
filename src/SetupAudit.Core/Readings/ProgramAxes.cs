using System.Numerics;
using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>Sets of axes as bits, in the order of <see cref="Axis"/>.</summary>
internal static class ProgramAxes
{
    /// <summary>X to W: what a move can name. R, a register's rotation, is none.</summary>
    public const int Count = 9;

    public const int None = 0;
    public const int All = (1 << Count) - 1;
    public const int Z = 1 << (int)Axis.Z;
    public const int Linear = Bits.Xyz | Bits.Uvw;

    private static readonly IReadOnlyList<Axis>[] Lists = [.. Enumerable.Range(0, All + 1).Select(List)];

    /// <summary>The axis a letter names on a mill; false for any other letter.</summary>
    public static bool TryAxis(char letter, out Axis axis)
    {
        axis = letter switch
        {
            >= 'X' and <= 'Z' => Axis.X + (letter - 'X'),
            >= 'A' and <= 'C' => Axis.A + (letter - 'A'),
            >= 'U' and <= 'W' => Axis.U + (letter - 'U'),
            _ => Axis.R,
        };
        return axis != Axis.R;
    }

    public static int Bit(Axis axis) => 1 << (int)axis;

    public static bool IsLinear(int axis) => (Linear & (1 << axis)) != 0;

    /// <summary>The axes of a set, in order; each set has one list, whoever asks.</summary>
    public static IReadOnlyList<Axis> Of(int bits) => Lists[bits & All];

    private static IReadOnlyList<Axis> List(int bits)
    {
        var axes = new List<Axis>(BitOperations.PopCount((uint)bits));
        for (var axis = 0; axis < Count; axis++)
            if ((bits & (1 << axis)) != 0) axes.Add((Axis)axis);
        return axes.AsReadOnly();
    }

    private static class Bits
    {
        public const int Xyz = 7;
        public const int Uvw = 7 << (int)Axis.U;
    }
}
