using System.Globalization;
using System.Text;

namespace SetupAudit.Benchmarks;

/// <summary>Made-up dumps and programs, the same bytes at every run, of the sizes that shops have.</summary>
public static class Data
{
    private const int ExtendedRegisters = 48;
    private const int Tools = 36;

    /// <summary>A dump of about 6 KB and 200 lines: every datum, and four offsets of each tool.</summary>
    /// <param name="state">Dumps with numbers one apart differ in Z of one register, as when a setter has set one.</param>
    public static byte[] Dump(int state = 0)
    {
        var blocks = new List<FormattableString>();
        for (var register = 1; register <= 6; register++) blocks.Add(Datum("L2", register, Moved(register, state)));
        for (var register = 1; register <= ExtendedRegisters; register++) blocks.Add(Datum("L20", register, Moved(6 + register, state)));
        for (var tool = 1; tool <= Tools; tool++)
        {
            blocks.Add($"G10 L10 P{tool} R{118.25m + tool * 1.375m:0.000}");
            blocks.Add($"G10 L11 P{tool} R{-0.002m * (tool % 9):0.000}");
            blocks.Add($"G10 L12 P{tool} R{2m + tool % 12:0.000}");
            blocks.Add($"G10 L13 P{tool} R{-0.001m * (tool % 5):0.000}");
        }

        var text = new StringBuilder("%\nO9001 (OFFSETS)\nG21 G90\n");
        for (var index = 0; index < blocks.Count; index++) Add(text, $"N{index + 1} {Invariant(blocks[index])}");
        return Encoding.ASCII.GetBytes(text.Append("M30\n%\n").ToString());
    }

    /// <summary>Writes a program of at least that size: six tools in turn, contours in G54 and G55, drilling between.</summary>
    public static void WriteProgram(Stream to, long sizeBytes)
    {
        Write(to, "%\nO2041 (PUMP COVER, MADE UP)\nG21 G90 G17 G40 G80\n");
        long written = 0;
        for (var pass = 0; written < sizeBytes; pass++)
        {
            var text = new StringBuilder();
            Add(text, $"T{1 + pass % 6} M6");
            Add(text, $"G{54 + pass % 2} G43 H{1 + pass % 6} S{3000 + pass % 7 * 250} M3");
            Add(text, $"G0 X{pass % 40:0.000} Y{-(pass % 30):0.000} Z25.000");
            for (var move = 0; move < 400; move++) AddMove(text, pass, move);
            Add(text, $"G81 X10.000 Y-10.000 Z{-4.5m - pass % 10:0.000} R2.000 F180.");
            Add(text, $"G80 M5");
            written += Write(to, text.ToString());
        }
        Write(to, "M30\n%\n");
    }

    public static byte[] Program(int sizeBytes)
    {
        using var memory = new MemoryStream(sizeBytes + 32 * 1024);
        WriteProgram(memory, sizeBytes);
        return memory.ToArray();
    }

    // Register n of 1..54 has moved as often as the states 1..state have come round to it: every one moves one register.
    private static decimal Moved(int register, int state) =>
        0.01m * ((state + 6 + ExtendedRegisters - register) / (6 + ExtendedRegisters));

    private static FormattableString Datum(string where, int register, decimal moved)
    {
        var z = -300m - register * 0.125m - moved;
        return $"G10 {where} P{register} X{-400m + register * 5.5m:0.000} Y{-200m - register * 0.5m:0.000} Z{z:0.000}";
    }

    private static void AddMove(StringBuilder text, int pass, int move)
    {
        var x = (move * 37 + pass) % 110_000 / 1000m;
        var y = -((move * 53 + pass) % 75_000) / 1000m;
        Add(text, $"N{move * 10} G1 X{x:0.000} Y{y:0.000} F{600 + move % 5 * 50}.");
    }

    private static void Add(StringBuilder text, FormattableString line) =>
        text.Append(Invariant(line)).Append('\n');

    private static string Invariant(FormattableString line) => line.ToString(CultureInfo.InvariantCulture);

    private static int Write(Stream to, string text)
    {
        var bytes = Encoding.ASCII.GetBytes(text);
        to.Write(bytes);
        return bytes.Length;
    }
}
