using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>
/// What G codes mean to a reader of datums; codes in tenths. Where RS274/NGC has none it is common practice.
/// </summary>
internal static class ProgramCodes
{
    public const int Dwell = 40;
    public const int DataEntry = 100;
    public const int Inch = 200;
    public const int Millimetre = 210;
    public const int Skip = 310;
    public const int LathePreset = 500;
    public const int LocalShift = 520;
    public const int Call = 650;
    public const int ModalCall = 660;
    public const int ModalCallAtBlocks = 661;
    public const int ModalCallEnds = 670;
    public const int Preset = 920;
    public const int PresetCancel = 921;
    public const int PresetSuspend = 922;
    public const int PresetRestore = 923;

    private const int FirstOwn = 1000;

    /// <summary>The motion a code puts in force; null where it puts none.</summary>
    public static ProgramMotion? MotionOf(int code, bool isLathe) => code switch
    {
        0 or 800 => ProgramMotion.Rapid,
        10 or 20 or 30 => ProgramMotion.Feed,
        >= 382 and <= 385 => ProgramMotion.Probe,
        // Threads, and on a lathe its turning cycles.
        330 or 320 or 340 => ProgramMotion.Feed,
        >= 700 and <= 760 when isLathe => ProgramMotion.Feed,
        >= 730 and <= 890 when code % 10 == 0 => ProgramMotion.Cycle,
        _ => null,
    };

    public static bool NamesCycle(ReadOnlySpan<int> codes, bool isLathe)
    {
        foreach (var code in codes)
            if (MotionOf(code, isLathe) == ProgramMotion.Cycle) return true;
        return false;
    }

    /// <summary>The register a code selects by itself; G54.1, which needs its P, is none of them.</summary>
    public static Register? RegisterOf(int code) => code switch
    {
        540 or 550 or 560 or 570 or 580 or 590 => Register.System(code / 10 - 53),
        591 or 592 or 593 => Register.System(code - 584),
        _ => null,
    };

    /// <summary>
    /// Whether the axis words of the block belong to this code and make no move in the register: a dwell, data, a
    /// reference point, machine coordinates, a shift of coordinates, a call's arguments.
    /// </summary>
    public static bool TakesAxes(int code, bool isLathe) => code switch
    {
        Dwell or DataEntry or LocalShift or Preset or PresetCancel or PresetSuspend or PresetRestore => true,
        Call or ModalCall or ModalCallAtBlocks => true,
        LathePreset => isLathe,
        _ => MovesElsewhere(code) || code is 510 or 680 or 682 or 683 or 684,
    };

    /// <summary>
    /// Codes of three digits call programs of the control's maker or of the shop: what those do is not known.
    /// </summary>
    public static bool IsOwn(int code) => code >= FirstOwn;

    /// <summary>
    /// Reference points (G27 to G30), a tool measured by the machine (G37), machine coordinates (G53), own programs.
    /// </summary>
    public static bool MovesElsewhere(int code) => code is 270 or 280 or 290 or 300 or 370 or 530 || IsOwn(code);

    /// <summary>
    /// Whether the code moves the origin or turns the axes, so that what a position reads is not known.
    /// </summary>
    public static bool TurnsCoordinates(int code) =>
        code is 150 or 160 or 500 or 501 or 510 or 511 or LocalShift or (>= 680 and <= 699);
}
