using SetupAudit.Support;

namespace SetupAudit.Commands;

public sealed class ConfigurationFileTests
{
    [Theory]
    [InlineData("least.json")]
    [InlineData("whole.json")]
    [InlineData("postgres.json")]
    public void A_good_configuration_loads_without_faults(string name)
    {
        var loaded = ConfigurationFile.Load(Repository.At($"fixtures/config/{name}"));
        Assert.Empty(loaded.FaultLines);
        Assert.Equal("Harrow Lane Works", loaded.Config?.Name);
    }

    [Fact]
    public void The_sample_is_good_and_asks_for_nothing_that_is_not_there()
    {
        var loaded = ConfigurationFile.Load(Repository.At("deploy/sample-shop.json"));
        Assert.Empty(loaded.FaultLines);
        Assert.Equal(["mill-3", "mill-4", "lathe-2"], loaded.Config?.Machines.Select(machine => machine.Name));
    }

    [Fact]
    public void Folders_are_relative_to_the_files_own_folder()
    {
        var loaded = ConfigurationFile.Load(Repository.At("fixtures/config/least.json"));
        Assert.Equal(Repository.At("fixtures/config/audit"), loaded.Config?.Store.Folder);
    }

    [Fact]
    public void A_connection_text_that_is_none_is_a_fault_and_is_not_repeated()
    {
        using var share = new TempShare();
        var path = share.Write("shop.json", """
            {
              "Shop": { "Name": "Harrow Lane Works", "TimeZone": "UTC" },
              "Store": { "Folder": "audit", "Postgres": "Host=db;Database=audit;Colour=red" },
              "Machines": { "mill-3": { "Kind": "mill", "Units": "mm" } }
            }
            """);
        var line = Assert.Single(ConfigurationFile.Load(path).FaultLines, line => line.Contains("Postgres", StringComparison.Ordinal));
        Assert.EndsWith(":3:45 Store.Postgres: is not written as a connection text is, such as Host=...;Database=...;Username=...", line, StringComparison.Ordinal);
        Assert.DoesNotContain("red", line, StringComparison.Ordinal);
    }

    [Fact]
    public void Faults_of_shape_and_of_value_come_out_together_in_the_order_of_the_file()
    {
        using var share = new TempShare();
        var path = share.Write("shop.json", """
            {
              "Shop": { "Name": "Harrow Lane Works", "TimeZone": "Europe/Lodnon" },
              "Store": { "Folder": "audit" },
              "Machines": {
                "mill 3": { "Kind": "mill", "Units": "metric" }
              }
            }
            """);
        var loaded = ConfigurationFile.Load(path);
        Assert.Null(loaded.Config);
        Assert.Equal(
        [
            $"{path}:2:54 Shop.TimeZone: \"Europe/Lodnon\" is no time zone; did you mean Europe/London?",
            $"{path}:5:15 Machines.mill 3: \"mill 3\" is no name for a machine; use letters, digits, points, hyphens "
                + "and underlines, a letter or digit first",
            $"{path}:5:42 Machines.mill 3.Units: \"metric\" is not allowed; use mm or inch",
        ], loaded.FaultLines);
    }

    [Fact]
    public void A_file_that_is_not_there_is_told()
    {
        using var share = new TempShare();
        Assert.Equal(
            [$"{share["shop.json"]} is not there; give the configuration file"],
            ConfigurationFile.Load(share["shop.json"]).FaultLines);
        Assert.Equal(
            [$"{share.Folder} is a folder; give the configuration file"],
            ConfigurationFile.Load(share.Folder).FaultLines);
        Assert.Single(ConfigurationFile.Load("").Faults, fault => fault.Message.StartsWith("cannot be read: ", StringComparison.Ordinal));
    }

    [Fact]
    public void A_file_that_is_no_JSON_is_told_with_its_place()
    {
        using var share = new TempShare();
        var path = share.Write("shop.json", "{\n  \"Shop\": {");
        var line = Assert.Single(ConfigurationFile.Load(path).FaultLines);
        Assert.Equal($"{path}:2:12 Shop: breaks off here; what opens with {{, [ or \" must close", line);
    }

    [Fact]
    public void A_file_too_large_for_a_configuration_is_not_read()
    {
        using var share = new TempShare();
        var path = share.Write("shop.json", new byte[16 * 1024 * 1024 + 1]);
        Assert.Equal([$"{path} is larger than 16 MB; this is no configuration"], ConfigurationFile.Load(path).FaultLines);
    }
}
