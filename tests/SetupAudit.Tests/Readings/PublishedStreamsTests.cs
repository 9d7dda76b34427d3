using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Support;

namespace SetupAudit.Readings;

/// <summary>Public example documents of the standard, where they are at hand, and values that they must give.</summary>
public sealed class PublishedStreamsTests
{
    [Fact]
    public void Translations_and_rotations_of_the_standards_example_are_read_though_no_schema_allows_them()
    {
        // github.com/mtconnect/standard_doc_generator, schemas/examples/kinematics/work_offset_stream.xml.
        var document = Read("mtconnect/examples/work_offset_stream.xml");
        Assert.Equal(ArrivalStatus.Read, document.Status);
        Assert.Equal("G54.X=22.22 G54.Y=55.44 G54.Z=123.123 G55.X=13.88 G55.Y=25.2 G55.Z=5.0 G55.R=45", Said(document));
    }

    [Fact]
    public void A_document_of_the_first_versions_with_the_odd_name_space_is_read()
    {
        // github.com/mtconnect/standard_doc_generator, schemas/examples/threeaxis-current.xml: urn:mtconnect.com:...:1.1.
        var document = Read("mtconnect/examples/threeaxis-current.xml");
        Assert.Empty(document.Faults);
        var moment = Assert.Single(document.Moments);
        Assert.Equal(["Program chop.txt", "Mode AUTOMATIC", "Execution ACTIVE"],
            moment.Observed.Select(one => $"{one.Means} {one.Text}"));
        Assert.Equal(new DateTimeOffset(2009, 11, 13, 8, 0, 0, TimeSpan.Zero), moment.AtUtc);
    }

    [Theory]
    // Written for this project beside the published schemas.
    [InlineData("mtconnect/wo16.xml", "G54.X=-312.415 G54.Y=-201.002 G54.Z=-455.73 G55.X= G55.Y= G55.Z=")]
    [InlineData("mtconnect/wo22.xml", "G54.1P12.X=-312.415 G54.1P12.C=0.0125 T12.length=101.25")]
    [InlineData("mtconnect/wo22_space.xml", "G54.1P12.X=-312.415 G54.1P12.C=0.0125 T12.length=101.25")]
    [InlineData("mtconnect/wo22_nocount.xml", "G54.1P12.X=-312.415 G54.1P12.C=0.0125 T12.length=101.25")]
    public void Tables_of_work_offsets_are_read_with_the_digits_that_they_have(string file, string said)
    {
        var document = Read(file);
        Assert.Equal(ArrivalStatus.Read, document.Status);
        Assert.Equal(said, Said(document));
    }

    [Theory]
    [InlineData("mtconnect/examples/threeaxis-probe.xml", "Devices")]
    [InlineData("mtconnect/examples/work_offsets.xml", "Devices")]
    [InlineData("mtconnect/examples/transformations.xml", "Assets")]
    public void Another_document_of_an_agent_is_called_by_its_name(string file, string kind)
    {
        var fault = Assert.Single(Read(file).Faults);
        Assert.Equal($"this is an agent's {kind} document; a Streams document was expected", fault.Reason);
    }

    private static StreamDocument Read(string file) => StreamsReader.Read(File.ReadAllBytes(Reference.At(file)),
        Dumps.Mill, Dumps.Watch(SourceKind.Mtconnect) with { Stream = new StreamConfig() });

    private static string Said(StreamDocument document) => Dumps.Said(new DumpResult(
        [.. document.Moments.SelectMany(moment => moment.Observed).SelectMany(one => one.Offsets)], [], []));
}
