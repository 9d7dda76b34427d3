namespace SetupAudit.Demo;

/// <summary>The configuration and the setup sheet of the made-up shop, as a shop would write them.</summary>
internal static class DemoConfiguration
{
    public const string Text = """
        {
          // A made-up shop. No machine, part or person in it exists.
          "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Europe/London", "FreshMinutes": 60 },
          "Store": { "Folder": "audit" },
          "Machines": {
            "mill-3": {
              "Kind": "mill", "Units": "mm", "Resolution": 0.001,
              "Travel": { "X": [-800, 0], "Y": [-450, 0], "Z": [-520, 0] },
              "StylusDiameter": 6.0, "ProbeTool": 24,
              "Risers": [25.0, 50.0], "Gauges": [10.0], "EdgeFinders": [10.0],
              "Probing": { "Standoff": 6.0, "Search": 25.0 },
              "Watch": [
                { "Folder": "shares/mill-3/offsets", "Files": "*.nc", "Read": "data-setting",
                  "Time": { "Name": "(?<time>\\d{8}-\\d{4})", "As": "yyyyMMdd-HHmm" } },
                { "Folder": "shares/mill-3/prints", "Files": "*.log", "Read": "print-out", "Lines": "shop-prints" },
                { "Folder": "shares/mill-3/programs", "Files": "*.nc", "Read": "program" }
              ]
            },
            "mill-7": {
              "Kind": "mill", "Units": "inch", "Resolution": 0.0001,
              "Travel": { "X": [-30, 0], "Y": [-16, 0], "Z": [-18, 0] },
              "Watch": [
                { "Folder": "shares/mill-7/offsets", "Files": "*.nc", "Read": "data-setting",
                  "Time": { "Name": "(?<time>\\d{8}-\\d{4})", "As": "yyyyMMdd-HHmm" } },
                { "Folder": "shares/mill-7/prints", "Files": "*.log", "Read": "print-out", "Lines": "cycles-only" },
                { "Folder": "shares/mill-7/programs", "Files": "*.nc", "Read": "program" }
              ]
            },
            "lathe-2": {
              "Kind": "lathe", "Units": "mm", "Resolution": 0.001, "XOn": "diameter",
              "Watch": [
                { "Folder": "shares/lathe-2/offsets", "Files": "*.csv", "Read": "table",
                    "Columns": { "Register": "WCS" },
                  "Time": { "Name": "(?<time>\\d{8}-\\d{4})", "As": "yyyyMMdd-HHmm" } },
                { "Folder": "shares/lathe-2/prints", "Files": "*.log", "Read": "print-out", "Lines": "shop-prints" },
                { "Folder": "shares/lathe-2/programs", "Files": "*.nc", "Read": "program" }
              ]
            }
          },
          "PrintOuts": {
            "shop-prints": {
              "Time": "yyyy-MM-dd HH:mm:ss",
              "Lines": [
                { "Match": "^(?<time>.{19}) CYCLE START (?<program>O\\d+) SERIAL (?<serial>\\S+)",
                    "Means": "cycle-start" },
                { "Match": "^(?<time>.{19}) CYCLE END (?<program>O\\d+)", "Means": "cycle-end" },
                { "Match": "^(?<time>.{19}) CYCLE STOP (?<program>O\\d+)", "Means": "cycle-stop" },
                { "Match":
        "^(?<time>.{19}) SET (?<register>G5.)( X=(?<x>\\S+))?( Y=(?<y>\\S+))?( Z=(?<z>\\S+))? BY (?<feature>.+)",
                  "Means": "datum-set" },
                { "Match": "^(?<time>.{19}) SIZE (?<feature>\\S+) (?<size>\\S+) OF (?<nominal>\\S+)",
                    "Means": "measured" },
                { "Match": "^(?<time>.{19}) TOOL T(?<tool>\\d+) LENGTH (?<value>\\S+)", "Means": "tool-set" },
                { "Match": "^(?<time>.{19}) ALARM (?<code>\\d+) SURFACE NOT FOUND (?<register>G5\\d) (?<axis>[XYZ])",
                  "Means": "alarm", "Kind": "surface-not-found" },
                { "Match": "^(?<time>.{19}) SETTER (?<setter>.+)$", "Means": "setter" }
              ]
            },
            "cycles-only": {
              "Time": "yyyy-MM-dd HH:mm:ss",
              "Lines": [
                { "Match": "^(?<time>.{19}) CYCLE START (?<program>O\\d+) SERIAL (?<serial>\\S+)",
                    "Means": "cycle-start" },
                { "Match": "^(?<time>.{19}) CYCLE END (?<program>O\\d+)", "Means": "cycle-end" }
              ]
            }
          },
          "Setups": { "QuietMinutes": 45, "AdjustmentLimit": 0.25, "ProgramLookbackHours": 12 },
          "Sheets": { "Folder": "sheets" },
          "Limits": [
            { "Machine": "lathe-*", "Tool": "*", "Of": "*-wear", "Change": 0.1, "Within": "12:00:00" }
          ]
        }

        """;

    public const string Sheet = """
        { "Program": "O2041", "Part": "pump cover (made up)", "Units": "mm", "Stock": { "X": 110, "Y": 75, "Z": 32 },
          "Datums": [ { "Register": "G54", "Axes": "XYZ", "At": "back-left-top",
                        "Expect": { "X": [-420, -380], "Y": [-210, -180], "Z": [-330, -290] } } ],
          "Tools": [ { "Tool": 3, "Length": [118, 126] }, { "Tool": 5, "Length": [95, 105] } ] }

        """;
}
