using System.Text.Json;

namespace SetupAudit.Support;

public sealed class JsonLookTests
{
    private static readonly JsonElement Change =
        JsonDocument.Parse("""{ "axis": "X", "after": -310.200, "before": null, "at": { "lines": [3, 4] } }""").RootElement;

    [Fact]
    public void A_number_keeps_its_digits() => Assert.Equal("-310.200", Change.Text("after"));

    [Fact]
    public void What_is_null_or_not_there_is_null()
    {
        Assert.Null(Change.Text("before"));
        Assert.Null(Change.Text("axis", "nothing"));
    }

    [Fact]
    public void Items_are_those_of_an_array_or_it_fails()
    {
        Assert.Equal(["3", "4"], Change.Items("at", "lines").Select(line => line.GetRawText()));
        Assert.Throws<InvalidOperationException>(() => Change.Items("axis"));
    }
}
