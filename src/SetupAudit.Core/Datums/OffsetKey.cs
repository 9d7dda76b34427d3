using System.Globalization;
using SetupAudit.Units;

namespace SetupAudit.Datums;

/// <summary>One number a control holds: an axis of a register (G54.X) or a part of a tool (T3.length).</summary>
public readonly record struct OffsetKey : IComparable<OffsetKey>
{
    private const int PartBits = 4;
    private const int PartMask = (1 << PartBits) - 1;
    private const int ToolBit = 1 << 30;

    // One integer keeps a reading small and a look-up cheap: the tool bit, then register or tool, then axis or part.
    private readonly int _code;

    private OffsetKey(int code) => _code = code;

    /// <summary>The largest tool number an offset can be kept for.</summary>
    public const int ToolMost = 9_999_999;

    public bool IsTool => (_code & ToolBit) != 0;

    public bool IsDatum => !IsTool;

    /// <summary>The register of a datum; meaningless for a tool.</summary>
    public Register Register => FromNumber(_code >> PartBits);

    /// <summary>The axis of a datum; meaningless for a tool.</summary>
    public Axis Axis => (Axis)(_code & PartMask);

    /// <summary>The tool number; meaningless for a datum.</summary>
    public int Tool => (_code & ~ToolBit) >> PartBits;

    /// <summary>What of the tool; meaningless for a datum.</summary>
    public ToolPart Part => (ToolPart)(_code & PartMask);

    /// <summary>The number the key packs into, and what <see cref="FromCode"/> reads back.</summary>
    public int Code => _code;

    public static OffsetKey Datum(Register register, Axis axis) => new((register.Number << PartBits) | (int)axis);

    public static OffsetKey OfTool(int tool, ToolPart part) => tool is >= 0 and <= ToolMost
        ? new OffsetKey(ToolBit | (tool << PartBits) | (int)part)
        : throw new ArgumentOutOfRangeException(nameof(tool), tool, "tool numbers run from 0 to 9999999");

    public static OffsetKey FromCode(int code) => new(code);

    /// <summary>Whether a wear, which is trimmed while parts run.</summary>
    public bool IsWear => IsTool && Part is ToolPart.LengthWear or ToolPart.DiameterWear or ToolPart.XWear
        or ToolPart.ZWear or ToolPart.NoseRadiusWear;

    /// <summary>Whether X, Y, Z, U, V or W of a register: the axes that carry lengths.</summary>
    public bool IsLinear => IsDatum && Axis is Axis.X or Axis.Y or Axis.Z or Axis.U or Axis.V or Axis.W;

    /// <summary>
    /// The unit this number is in on a machine of that unit: degrees for A, B, C and R, nothing else differs.
    /// </summary>
    public Unit UnitOn(Unit machine) => IsDatum && !IsLinear ? Unit.Degree : machine;

    public int CompareTo(OffsetKey other) => _code.CompareTo(other._code);

    public override string ToString() => IsTool
        ? string.Create(CultureInfo.InvariantCulture, $"T{Tool}.{ToolPartName.Of(Part)}")
        : $"{Register}.{Axis}";

    private static Register FromNumber(int number) => number switch
    {
        0 => Register.Common,
        92 => Register.G92,
        > 1000 => Register.Extended(number - 1000),
        _ => Register.System(number),
    };

    public static bool operator <(OffsetKey left, OffsetKey right) => left.CompareTo(right) < 0;

    public static bool operator >(OffsetKey left, OffsetKey right) => left.CompareTo(right) > 0;

    public static bool operator <=(OffsetKey left, OffsetKey right) => left.CompareTo(right) <= 0;

    public static bool operator >=(OffsetKey left, OffsetKey right) => left.CompareTo(right) >= 0;
}
