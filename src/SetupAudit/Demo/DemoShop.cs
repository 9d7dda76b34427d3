using System.Globalization;

namespace SetupAudit.Demo;

/// <summary>
/// Two made-up weeks at a made-up shop, 2 to 13 March 2026: clean setups, and among them a forgotten Z, a riser left
/// in, a datum
/// moved while cutting, a missed surface, a wrong register and a broken dump.
/// </summary>
public static class DemoShop
{
    /// <summary>The folder the shop lives in, below the one it is built in.</summary>
    public const string ConfigurationFile = "shop.json";

    /// <summary>Every file of the shop: configuration, sheet, programs, dumps and print-outs.</summary>
    public static IReadOnlyList<DemoFile> Files()
    {
        var written = new DateTimeOffset(2026, 2, 27, 15, 0, 0, TimeSpan.Zero);
        return
        [
            new DemoFile(ConfigurationFile, written, DemoConfiguration.Text),
            new DemoFile("sheets/O2041.json", written, DemoConfiguration.Sheet),
            .. Mill3(written), .. Mill7(written), .. Lathe2(written),
        ];
    }

    /// <summary>Writes the shop below a folder that must be empty or new, with the times the files would have on a
    /// share.</summary>
    public static void Build(string folder)
    {
        foreach (var file in Files())
        {
            var path = Path.Combine(folder, file.Name);
            Directory.CreateDirectory(Path.GetDirectoryName(path) ?? folder);
            File.WriteAllText(path, file.Text);
            File.SetLastWriteTimeUtc(path, file.ModifiedUtc.UtcDateTime);
        }
    }

    private static IEnumerable<DemoFile> Mill3(DateTimeOffset written)
    {
        var mill = new DemoMachine("mill-3", (offsets, now) => DemoDump.Blocks("G21", offsets, now), "nc");
        mill.At("3-2 06:30").Enter(
            "G54.X=-371.882 G54.Y=-214.006 G54.Z=-296.411 G55.X=-120.5 G55.Y=-214.02 G55.Z=-296.38")
            .Enter("COMMON.X=0 COMMON.Y=0 COMMON.Z=0")
            .Enter("T3.length=121.338 T3.length-wear=0 T3.diameter=10 T3.diameter-wear=0 T5.length=99.874")
            .Enter("T5.length-wear=0 T24.length=155.021 T9.length=138.44 T9.length-wear=0")
            .Dump();
        // Day by day the corner comes out within some hundredths: that is what a clean setup looks like here.
        (string Day, string Xy, string Z)[] clean =
        [
            ("3-2", "X=-402.113 Y=-198.044", "Z=-318.204"), ("3-3", "X=-402.131 Y=-198.061", "Z=-318.213"),
            ("3-4", "X=-402.120 Y=-198.052", "Z=-318.199"), ("3-5", "X=-402.102 Y=-198.049", "Z=-318.207"),
            ("3-6", "X=-402.127 Y=-198.035", "Z=-318.221"),
        ];
        foreach (var (day, xy, z) in clean)
            Parts(mill.At($"{day} 07:10").Print("SETTER J. MOSS").Touch("CORNER-1", "G54", xy).Minutes(3).Touch(
                "SURFACE-1", "G54", z).Minutes(4).Dump().Minutes(6), "O2041", 4, day);
        Week2(mill);
        mill.File("programs/O2041.nc", DemoPrograms.Mill("O2041", "PUMP COVER", "G21", "G54", 3, 5, 20m));
        mill.File("programs/O2044.nc", DemoPrograms.Mill("O2044", "BRACKET", "G21", "G54", 9, 5, 16m));
        return mill.Files.Select(
            file => file.Name.Contains("/programs/", StringComparison.Ordinal) ? file with { ModifiedUtc = written }
                : file);
    }

    private static void Week2(DemoMachine mill)
    {
        // Friday afternoon another job on another fixture, higher up.
        Parts(mill.At("3-6 13:05").Touch("CORNER-1", "G54", "X=-371.902 Y=-214.011").Minutes(2).Touch(
            "SURFACE-1", "G54", "Z=-296.402").Minutes(3).Dump().Minutes(5), "O2044", 2, "3-6");
        // Monday the first job again: X and Y touched, Z forgotten. The setter stops the first part and mends it.
        mill.At("3-9 07:12").Print("SETTER A. PRICE").Touch("CORNER-1", "G54", "X=-402.119 Y=-198.058").Minutes(
            5).Dump().Minutes(5)
            .Print("CYCLE START O2041 SERIAL 0309-01").Minutes(4).Print("CYCLE STOP O2041").Minutes(6)
            .Touch("SURFACE-1", "G54", "Z=-318.209").Minutes(3).Dump().Minutes(4);
        Parts(mill, "O2041", 3, "3-9");
        // Tuesday a 25 mm riser stays under the block when Z is touched.
        Parts(mill.At("3-10 07:08").Touch("CORNER-1", "G54", "X=-402.108 Y=-198.047").Minutes(3).Touch(
            "SURFACE-1", "G54", "Z=-293.206").Minutes(4).Dump().Minutes(5), "O2041", 2, "3-10");
        mill.At("3-10 09:40").Touch("SURFACE-1", "G54", "Z=-318.211").Minutes(3).Dump().Minutes(4);
        Parts(mill, "O2041", 2, "3-10b");
        // Wednesday somebody moves X by 0.4 while the second part is being cut.
        Parts(mill.At("3-11 07:10").Touch("CORNER-1", "G54", "X=-402.116 Y=-198.050").Minutes(3).Touch(
            "SURFACE-1", "G54", "Z=-318.202").Minutes(4).Dump().Minutes(6), "O2041", 1, "3-11");
        mill.Dump().Print("CYCLE START O2041 SERIAL 0311-02").Minutes(5).Dump().Minutes(4).Enter(
            "G54.X=-401.716").Dump().Minutes(9).Print("CYCLE END O2041");
        // Thursday the probe meets no surface in Z, and nobody touches again.
        mill.At("3-12 07:15").Touch("CORNER-1", "G54", "X=-402.124 Y=-198.041").Minutes(2).Print(
            "ALARM 3101 SURFACE NOT FOUND G54 Z").Minutes(12).Dump().Minutes(5);
        Parts(mill, "O2041", 2, "3-12");
        Parts(mill.At("3-13 07:10").MeasureTool(3, 121.331m).Touch("CORNER-1", "G54", "X=-402.111 Y=-198.053").Minutes(
            3).Touch("SURFACE-1", "G54", "Z=-318.206").Minutes(4).Dump().Minutes(6), "O2041", 4, "3-13");
    }

    private static IEnumerable<DemoFile> Mill7(DateTimeOffset written)
    {
        var mill = new DemoMachine("mill-7", (offsets, now) => DemoDump.Blocks("G20", offsets, now), "nc");
        mill.At("3-2 06:40").Enter(
            "G54.X=-12.5 G54.Y=-7.2 G54.Z=-11.05 G55.X=-20.1 G55.Y=-7.3 G55.Z=-11.1")
            .Enter("T1.length=4.125 T2.length=3.875").Dump();
        (string Day, string Set)[] clean =
        [
            ("3-2", "G54.X=-14.2204 G54.Y=-8.0113 G54.Z=-12.4051"),
                ("3-3", "G54.X=-14.2211 G54.Y=-8.0107 G54.Z=-12.4046"),
            ("3-4", "G54.X=-14.2198 G54.Y=-8.0118 G54.Z=-12.4049"),
                ("3-6", "G54.X=-14.2207 G54.Y=-8.0109 G54.Z=-12.4055"),
            ("3-9", "G54.X=-14.2202 G54.Y=-8.0111 G54.Z=-12.4047"),
        ];
        foreach (var (day, set) in clean)
            Parts(mill.At($"{day} 07:30").Enter(set).Minutes(10).Dump().Minutes(5), "O310", 3, day);
        // The network drops in the middle of a dump.
        mill.At("3-5 07:30").BrokenDump();
        // Wednesday of the second week the block is set in G55, and the program cuts in G54.
        Parts(mill.At("3-11 07:30").Enter("G55.X=-14.2205 G55.Y=-8.0110 G55.Z=-12.4050").Minutes(10).Dump().Minutes(5),
            "O310", 1, "3-11");
        mill.File("programs/O310.nc", DemoPrograms.Mill("O310", "CLAMP BLOCK", "G20", "G54", 1, 2, 0.8m));
        return mill.Files.Select(
            file => file.Name.Contains("/programs/", StringComparison.Ordinal) ? file with { ModifiedUtc = written }
                : file);
    }

    private static IEnumerable<DemoFile> Lathe2(DateTimeOffset written)
    {
        var lathe = new DemoMachine("lathe-2", (offsets, _) => DemoDump.Table(offsets), "csv");
        lathe.At("3-2 06:45").Enter(
            "G54.X=0 G54.Z=-212.4 T1.x=-143.206 T1.z=-88.114 T1.x-wear=0 T1.z-wear=0 T1.nose-radius=0.8").Dump();
        // X comes from the tool alone; only Z of the register is set. Wear is trimmed once a shift.
        var wear = 0m;
        foreach (var day in new[] { "3-2", "3-3", "3-4", "3-5", "3-9", "3-10", "3-11", "3-12" })
        {
            lathe.At($"{day} 07:05").Touch("FACE-1", "G54", $"Z=-212.4{day[^1]}1").Minutes(6).Dump().Minutes(5);
            Parts(lathe, "O77", 3, day);
            wear -= 0.01m;
            lathe.Enter(string.Create(CultureInfo.InvariantCulture, $"T1.x-wear={wear}")).Dump().Minutes(10);
            Parts(lathe, "O77", 1, day + "b");
        }
        lathe.File("programs/O77.nc", DemoPrograms.Turn("O77", "SPACER"));
        return lathe.Files.Select(
            file => file.Name.Contains("/programs/", StringComparison.Ordinal) ? file with { ModifiedUtc = written }
                : file);
    }

    private static void Parts(DemoMachine machine, string program, int count, string day)
    {
        for (var part = 1; part <= count; part++)
            machine.Cycle(program, 18,
                string.Create(CultureInfo.InvariantCulture,
                    $"{day.Replace("-", "", StringComparison.Ordinal)}-{part:00}"));
    }
}
