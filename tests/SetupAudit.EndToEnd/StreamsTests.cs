using SetupAudit.Support;

namespace SetupAudit;

/// <summary>A machine that is heard of through its agent alone, by the built program.</summary>
public sealed class StreamsTests
{
    private const string Shop = """
        {
          "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Europe/London" },
          "Store": { "Folder": "audit" },
          "Machines": { "mill-3": { "Kind": "mill", "Units": "mm",
            "Watch": [
              { "Folder": "shares/mill-3/agent", "Files": "*.xml", "Read": "mtconnect" },
              { "Folder": "shares/mill-3/programs", "Files": "*.nc", "Read": "program" } ] } }
        }
        """;

    [Fact]
    public void Documents_of_an_agent_become_a_setup_its_cycles_and_a_trace()
    {
        using var shop = Audited();

        var missing = Assert.Single(
            shop.List("findings"), row => row.Text("rule") == "axis-not-set" && row.Text("severity") == "high");
        Assert.Equal("mill-3@20260302-071000/axis-not-set/G54.Z", missing.Text("finding"));
        Assert.Equal(["finished", "aborted", "finished", "finished"], shop.List("cycles").Select(cycle => cycle.Text("ended")));
        Assert.Equal(["O2041", "O2041", "O2041", "O2041"], shop.List("cycles").Select(cycle => cycle.Text("program")));
        var state = shop.State("mill-3", "2026-03-02T12:00:00Z");
        Assert.Equal("-413.125", state.Items("registers")[0].Text("axes", "X", "value"));
        Assert.Equal("-300.000", state.Items("registers")[0].Text("axes", "Z", "value"));

        var trace = shop.Run("trace", "--machine", "mill-3", "--at", "2026-03-02T11:05:00Z", "--error", "X=-0.75", "--json")
            .Exits(0).Json;
        Assert.Equal("mill-3@20260302-103000/G54.X", trace.Items("changes")[0].Text("change"));
        // The document of ten o'clock still showed the old value.
        Assert.Equal("2026-03-02T10:00:00Z", trace.Text("window", "from"));
    }

    [Fact]
    public void A_document_can_be_tried_and_its_source_says_what_it_cannot_tell()
    {
        using var shop = Audited();

        var tried = shop.Run("try", shop["shares/mill-3/agent/1.xml"], "--machine", "mill-3", "--json").Exits(0).Json;
        Assert.Equal("mtconnect", tried.Text("read"));
        Assert.Contains(tried.Items("readings"), row => row.Text("register") == "G54" && row.Text("at") == "2026-03-02T07:10:00Z");
        Assert.Contains(tried.Items("readings"), row => row.Text("means") == "execution" && row.Text("text") == "ACTIVE");
        var coverage = Assert.Single(shop.List("coverage"), row => row.Text("source") == "shares/mill-3/agent/*.xml");
        Assert.Contains(coverage.Items("tells"), what => what.GetString() == "cycle-start");
        Assert.Contains(coverage.Items("cannotTell"), what => what.GetString() == "what happened while the agent was down, or while it said UNAVAILABLE");
        shop.Run("check").Exits(0);
        shop.Run("rebuild").Exits(0);
    }

    [Fact]
    public void An_agents_refusal_is_listed_with_its_reason_and_stops_nothing()
    {
        using var shop = Audited();
        shop.Write("shares/mill-3/agent/3.xml", "2026-03-02T13:00:00Z",
            "<MTConnectError><Errors><Error errorCode=\"OUT_OF_RANGE\">gone</Error></Errors></MTConnectError>");
        shop.Once(exits: 1);

        var refused = Assert.Single(shop.List("arrivals"), row => row.Text("status") != "read");
        Assert.Equal("unreadable", refused.Text("status"));
        Assert.StartsWith("the agent answered OUT_OF_RANGE", refused.Text("reason"), StringComparison.Ordinal);
        Assert.Contains("unreadable", shop.Rules());
    }

    // A corner is taken in X and Y and Z is forgotten; after three runs X is moved, and one more run follows.
    private static Workshop Audited()
    {
        var agent = new MadeUpAgent()
            .Sets("2026-03-02T06:00:00Z", "G54", "X", "-400.000", "Y", "-200.000", "Z", "-300.000")
            .Tool("2026-03-02T06:00:00Z", "3", "121.350").Counts("2026-03-02T06:00:00Z", "17")
            .Executes("2026-03-02T06:00:00Z", "READY").Program("2026-03-02T07:00:00Z", "//MEM/JOBS/O2041.NC")
            .Sets("2026-03-02T07:10:00Z", "G54", "X", "-412.375", "Y", "-210.000", "Z", "-300.000")
            .Executes("2026-03-02T08:00:00Z", "ACTIVE").Executes("2026-03-02T08:20:00Z", "PROGRAM_COMPLETED")
            .Executes("2026-03-02T08:30:00Z", "ACTIVE").Executes("2026-03-02T08:35:00Z", "STOPPED")
            .Executes("2026-03-02T08:50:00Z", "ACTIVE").Counts("2026-03-02T09:10:00Z", "18")
            .Executes("2026-03-02T09:10:00Z", "READY");
        var shop = Workshop.With(Shop)
            .Write("shares/mill-3/programs/O2041.nc", "2026-03-01T12:00:00Z",
                "%\nO2041 (MADE UP)\nG21 G90 G54\nT3 M6\nG43 H3\nG0 X0 Y0 Z50.\nG1 Z-5. F200.\nM30\n%\n")
            .Write("shares/mill-3/agent/1.xml", "2026-03-02T10:00:00Z", agent.Since(1, "2026-03-02T10:00:00Z"));
        var from = agent.Next;
        agent.Sets("2026-03-02T10:30:00Z", "G54", "X", "-413.125", "Y", "-210.000", "Z", "-300.000")
            .Executes("2026-03-02T11:00:00Z", "ACTIVE").Executes("2026-03-02T11:10:00Z", "PROGRAM_COMPLETED");
        shop.Write("shares/mill-3/agent/2.xml", "2026-03-02T11:30:00Z", agent.Since(from - 3, "2026-03-02T11:30:00Z"));
        shop.Once();
        return shop;
    }
}
