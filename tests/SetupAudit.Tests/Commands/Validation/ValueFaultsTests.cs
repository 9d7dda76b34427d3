using System.Text;
using SetupAudit.Shop;

namespace SetupAudit.Commands.Validation;

/// <summary>A test for each sentence of the validators, through the reader that gives them their draft.</summary>
public sealed class ValueFaultsTests
{
    private const string Rest = "\"Shop\": { \"Name\": \"Harrow Lane Works\", \"TimeZone\": \"UTC\" }, \"Store\": { \"Folder\": \"audit\" }";

    private const string Often = """
        "Folder": "audit", "TimeStamps": {
            "Url": "http://stamps.example/tsa", "CertificateFile": "a.pem", "Every": "00:00:59", "Policy": "3.1" }
        """;

    private static readonly string Folder = Path.GetFullPath("/shop");

    [Fact]
    public void The_usual_machine_has_no_faults() => Assert.Empty(InMill(""));

    [Theory]
    [InlineData("\"TimeZone\": \"Mars/Olympus\"",
        "TimeZone: \"Mars/Olympus\" is no time zone; use a name of the time zone database, such as Europe/London")]
    [InlineData("\"TimeZone\": \"Europe/Berln\"", "TimeZone: \"Europe/Berln\" is no time zone; did you mean Europe/Berlin?")]
    [InlineData("\"Probing\": { \"Standoff\": 25.5, \"Search\": 6 }",
        "Probing.Search: 6 is not beyond the standoff of 25.5; such a search meets no surface")]
    [InlineData("\"Names\": { \"G55\": \"G54\" }",
        "Names.G55: \"G55\" is a register's own name; a shop's name must be another")]
    [InlineData("\"ProbingCalls\": [ { \"Call\": \"G65 PROBE\", \"Kind\": \"corner\" } ]",
        "ProbingCalls[0].Call: \"G65 PROBE\" is no call; use words of a letter and a number, such as G65 P7040")]
    [InlineData("\"ProbingCalls\": [ { \"Call\": \"G65 P9\", \"Kind\": \"corner\", \"Search\": \"Q\", \"Register\": \"Q\" } ]",
        "ProbingCalls[0].Register: Q holds the search already; name the letter that holds the register")]
    [InlineData("\"Parameters\": [ { \"Number\": 903, \"Is\": \"measured size\" }, { \"First\": 901, \"Tools\": \"1..12\", \"Of\": \"length\" } ]",
        "Parameters[1]: gives parameter 903 a meaning that Parameters[0] gives another")]
    [InlineData("\"Parameters\": [ { \"First\": 5221, \"Step\": 20, \"Registers\": \"G54..G59\", \"Axes\": \"XYZ\" }, { \"Number\": 5322, \"Is\": \"measured size\" } ]",
        "Parameters[1]: gives parameter 5322 a meaning that Parameters[0] gives another")]
    public void A_machines_value_that_cannot_be_is_told(string keys, string fault) =>
        Assert.Equal(["Machines.mill-3." + fault], InMill(keys));

    [Theory]
    [InlineData("\"Read\": \"print-out\", \"Lines\": \"shop-print\"", "Lines: \"shop-print\" is none of the PrintOuts; did you mean shop-prints?")]
    [InlineData("\"Read\": \"print-out\", \"Lines\": \"other\"", "Lines: \"other\" is none of the PrintOuts; use shop-prints")]
    [InlineData("\"Read\": \"program\", \"Time\": { \"Name\": \"(\\\\d+\", \"As\": \"yyyyMMdd\" }",
        "Time.Name: is no regular expression: at its character 4, Not enough )'s.")]
    [InlineData("\"Read\": \"program\", \"Time\": { \"Text\": \"(?=x)(?<time>.)\", \"As\": \"yyyyMMdd\" }",
        "Time.Text: cannot be matched in linear time; leave out look-arounds, back-references, atomic groups, conditions and very large counts")]
    [InlineData("\"Read\": \"program\", \"Time\": { \"Name\": \"(\\\\d+)\", \"As\": \"yyyyMMdd\" }",
        "Time.Name: has no group time; write (?<time>...) around the time")]
    [InlineData("\"Read\": \"program\", \"Time\": { \"Name\": \"(?<time>\\\\d+)\", \"As\": \"HHmmss\" }",
        "Time.As: \"HHmmss\" does not give year, month and day (yyyy, MM, dd; mm are minutes)")]
    [InlineData("\"Read\": \"print-out\", \"Lines\": \"shop-prints\", \"Is\": \"to-load\"",
        "Is: to-load is for files that are loaded into a control; nobody loads these")]
    public void A_watched_folders_value_that_cannot_be_is_told(string keys, string fault) =>
        Assert.Equal(["Machines.mill-3.Watch[0]." + fault], InMill($"\"Watch\": [ {{ \"Folder\": \"a\", {keys} }} ]"));

    [Theory]
    [InlineData("audit", "lies in Store.Folder; keep what is watched and what is recorded apart")]
    [InlineData("audit/dumps", "lies in Store.Folder; keep what is watched and what is recorded apart")]
    [InlineData(".", "holds Store.Folder; nothing may be written to a watched folder")]
    [InlineData("/", "holds Store.Folder; nothing may be written to a watched folder")]
    public void The_record_and_what_is_watched_are_kept_apart(string folder, string fault)
    {
        Assert.Equal(
            [$"Machines.mill-3.Watch[0].Folder: {fault}"],
            InMill($"\"Watch\": [ {{ \"Folder\": \"{folder}\", \"Read\": \"program\" }} ]"));
        Assert.Equal([$"Sheets.Folder: {fault}"], Beside($"\"Sheets\": {{ \"Folder\": \"{folder}\" }}"));
    }

    [Theory]
    [InlineData("audit/alerts", "lies in Store.Folder; keep what is sent and what is recorded apart")]
    [InlineData("sheets", "lies in a watched folder; nothing may be written there")]
    [InlineData("./sheets/a/b", "lies in a watched folder; nothing may be written there")]
    public void Alerts_are_put_neither_into_the_record_nor_into_what_is_watched(string folder, string fault) =>
        Assert.Equal(
            [$"Alerts.Files.Folder: {fault}"],
            Beside($"\"Sheets\": {{ \"Folder\": \"sheets\" }}, \"Alerts\": {{ \"Files\": {{ \"Folder\": \"{folder}\" }} }}"));

    [Fact]
    public void Alerts_may_be_put_beside_what_is_watched() => Assert.Empty(
        Beside("\"Sheets\": { \"Folder\": \"sheets\" }, \"Alerts\": { \"Files\": { \"Folder\": \"sheets-out\" } }"));

    [Fact]
    public void What_is_no_address_of_mail_is_told() => Assert.Equal(
        [
            "Alerts.Mail.From: is no address; write it as audit@example.com or Audit <audit@example.com>",
            "Alerts.Mail.To[1]: is no address; write it as audit@example.com or Audit <audit@example.com>",
        ],
        Beside("""
            "Alerts": { "Mail": { "Host": "mail", "From": "audit", "To": [ "a@example.com", "b@example.com, c@example.com" ] } }
            """));

    [Fact]
    public void Time_stamps_too_often_or_under_no_policy_are_told() => Assert.Equal(
        [
            "Store.TimeStamps.Every: is less than 00:01:00; stamps that often tell nothing more",
            "Store.TimeStamps.Policy: is no object identifier; write its numbers with points between, such as 1.2.3.4",
        ],
        Find($"{{ {Rest.Replace("\"Folder\": \"audit\"", Often, StringComparison.Ordinal)}, \"Machines\": {{ \"mill-3\": {{ \"Kind\": \"mill\", \"Units\": \"mm\" }} }} }}"));

    [Fact]
    public void A_folder_whose_name_begins_alike_is_another() =>
        Assert.Empty(InMill("\"Watch\": [ { \"Folder\": \"audit-dumps\", \"Read\": \"program\" } ]"));

    [Fact]
    public void The_same_files_watched_twice_are_told() => Assert.Equal(
        ["Machines.mill-3.Watch[1]: watches *.nc in a a second time; take one out"],
        InMill("""
            "Watch": [ { "Folder": "./a", "Files": "*.nc", "Read": "table" },
                { "Folder": "a/", "Files": "*.nc", "Read": "parameters" } ]
            """));

    [Fact]
    public void A_dump_that_two_machines_watch_is_told_and_a_program_is_not()
    {
        var faults = InMachines("""
            "mill-3": { "Kind": "mill", "Units": "mm", "Watch": [
                { "Folder": "a", "Files": "*.nc", "Read": "data-setting" }, { "Folder": "p", "Read": "program" } ] },
            "mill-4": { "Like": "mill-3" }
            """);
        Assert.Equal(
            ["Machines.mill-4.Watch[0]: watches *.nc in a, which mill-3 watches already; a dump or print-out belongs to one machine"],
            faults);
    }

    [Fact]
    public void What_a_machine_takes_from_another_is_told_once()
    {
        var faults = InMachines("""
            "mill-3": { "Kind": "mill", "Units": "mm", "TimeZone": "Nowhere/AtAll" },
            "mill-4": { "Like": "mill-3" }
            """);
        Assert.Single(faults, line => line.StartsWith("Machines.mill-3.TimeZone: ", StringComparison.Ordinal));
        Assert.Single(faults);
    }

    [Fact]
    public void Machines_that_differ_only_in_case_are_told() => Assert.Equal(
        ["Machines.MILL-3: differs only in case from mill-3; give it another name"],
        InMachines("\"mill-3\": { \"Kind\": \"mill\", \"Units\": \"mm\" }, \"MILL-3\": { \"Kind\": \"mill\", \"Units\": \"mm\" }"));

    [Theory]
    [InlineData("\"Machine\": \"lathe-*\", \"Register\": \"G54\"", "Machine: \"lathe-*\" matches no machine here")]
    [InlineData("\"Machine\": \"mil-3\", \"Register\": \"G54\"", "Machine: \"mil-3\" matches no machine here; did you mean mill-3?")]
    [InlineData("\"Register\": \"G64\"", "Register: \"G64\" matches no register; did you mean G54?")]
    [InlineData("\"Register\": \"G54\", \"Axis\": \"Q\"", "Axis: \"Q\" matches no axis")]
    [InlineData("\"Tool\": \"*\", \"Of\": \"lenght\"", "Of: \"lenght\" matches no part of a tool; did you mean length?")]
    [InlineData("\"Tool\": \"*\", \"Of\": \"x*\"", "Of: \"x*\" is of turning tools, and no lathe matches \"*\"; a mill's are length, length-wear, diameter, diameter-wear")]
    [InlineData("\"Tool\": \"T3\"", "Tool: \"T3\" is no tool number; use one, or a pattern such as 1? or *")]
    public void A_limit_that_nothing_matches_is_told(string keys, string fault) =>
        Assert.Equal([$"Limits[0].{fault}"], Beside($"\"Limits\": [ {{ {keys}, \"Change\": 1 }} ]"));

    [Theory]
    [InlineData("note", "(a", "Match: is no regular expression: at its character 2, Not enough )'s.")]
    [InlineData("note", "(?<!a)b", "Match: cannot be matched in linear time; leave out look-arounds, back-references, atomic groups, conditions and very large counts")]
    [InlineData("note", "(?<registr>G5.)", "Match: has a group registr that is not read; did you mean register?")]
    [InlineData("note", "(?<colour>.)", "Match: has a group colour that is not read; use time, program, feature, register, axis, "
        + "value, x, y, z, size, angle, nominal, low, high, deviation, tool, code, text, setter, pallet, part, serial, order, operation, count, or no name")]
    [InlineData("tool-set", "(?<value>.)", "Match: means tool-set and has no group tool; nobody could say which tool was set")]
    [InlineData("alarm\", \"Kind\": \"surface-notfound", "x", "Kind: \"surface-notfound\" is no kind that is known; did you mean surface-not-found?")]
    public void A_pattern_that_cannot_be_used_is_told(string means, string match, string fault) => Assert.Equal(
        ["PrintOuts.prints.Lines[0]." + fault],
        Beside($"\"PrintOuts\": {{ \"prints\": {{ \"Lines\": [ {{ \"Match\": \"{match}\", \"Means\": \"{means}\" }} ] }} }}"));

    [Fact]
    public void A_print_outs_time_that_cannot_be_read_is_told() => Assert.Equal(
        ["PrintOuts.prints.Time: \"HH:mm\" does not give year, month and day (yyyy, MM, dd; mm are minutes)"],
        Beside("\"PrintOuts\": { \"prints\": { \"Time\": \"HH:mm\", \"Lines\": [ { \"Match\": \"x\", \"Means\": \"note\" } ] } }"));

    [Fact]
    public void A_value_that_is_faulty_already_is_not_judged_as_well() => Assert.Equal(
        ["Machines.mill-3.Watch[0].Lines: 7 is not allowed; use the name of one of the PrintOuts"],
        InMill("\"Watch\": [ { \"Folder\": \"a\", \"Read\": \"print-out\", \"Lines\": 7 } ]"));

    private static IEnumerable<string> InMill(string keys) =>
        InMachines($"\"mill-3\": {{ \"Kind\": \"mill\", \"Units\": \"mm\"{(keys.Length == 0 ? "" : ", ")}{keys} }}",
            "\"PrintOuts\": { \"shop-prints\": { \"Lines\": [ { \"Match\": \"x\", \"Means\": \"note\" } ] } }");

    private static IEnumerable<string> Beside(string more) =>
        InMachines("\"mill-3\": { \"Kind\": \"mill\", \"Units\": \"mm\" }", more);

    private static IEnumerable<string> InMachines(string machines, string more = "") =>
        Find($"{{ {Rest}, \"Machines\": {{ {machines} }}{(more.Length == 0 ? "" : ", ")}{more} }}");

    private static IEnumerable<string> Find(string json)
    {
        var result = ShopConfigReader.Read(Encoding.UTF8.GetBytes(json), Folder);
        var faults = result.Faults.Concat(result.Draft is { } draft ? ValueFaults.Find(draft, result) : []);
        return faults.Select(fault => $"{fault.Path}: {fault.Message}");
    }
}
