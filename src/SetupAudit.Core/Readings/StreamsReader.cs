using System.Globalization;
using System.Xml;
using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Shop.Configuration;

namespace SetupAudit.Readings;

/// <summary>
/// Reads a Streams document of the MTConnect standard, 1.x or 2.x. Names count without their namespace, and validity
/// against a schema does not count: published schemas refuse documents that the standard's own text shows. Nothing that
/// a document holds makes it throw.
/// </summary>
public static class StreamsReader
{
    internal const int FaultsMost = 100;

    private const int NewestMajor = 2;
    private const string Streams = "MTConnectStreams";

    /// <summary>What the document says of one device and one path, as the configuration names them.</summary>
    public static StreamDocument Read(ReadOnlySpan<byte> bytes, MachineConfig machine, WatchConfig watch)
    {
        ArgumentNullException.ThrowIfNull(machine);
        ArgumentNullException.ThrowIfNull(watch);
        if (bytes.IsEmpty) return Unreadable("the file is empty");
        if (!bytes.ContainsAnyExcept((byte)0))
            return Unreadable(string.Create(
                CultureInfo.InvariantCulture, $"all {bytes.Length} bytes of the file are NUL"));
        var gathering = new StreamGathering(machine, watch);
        try
        {
            // The first characters are looked at when the reader is made.
            using var xml = new StreamXml(bytes.ToArray());
            return Read(xml, machine, watch, gathering);
        }
        catch (XmlException fault)
        {
            return new StreamDocument([],
                [new Fault(fault.LineNumber, fault.LinePosition, StreamXml.NotWellFormed(fault))]);
        }
    }

    private static StreamDocument Read(
        StreamXml xml, MachineConfig machine, WatchConfig watch, StreamGathering gathering)
    {
        var isWhole = false;
        try
        {
            if (ReadRoot(xml) is { } fault) return new StreamDocument([], [fault]);
            ReadBody(xml, new StreamElements(xml, machine, watch, gathering), gathering);
            isWhole = true;
        }
        catch (XmlException fault)
        {
            gathering.Faults.Add(xml.FaultOf(fault));
        }
        return gathering.Finish(isWhole);
    }

    // The root says what the document is; anything but streams gives its reason and is not read on.
    private static Fault? ReadRoot(StreamXml xml)
    {
        while (xml.Read())
        {
            if (!xml.IsElement) continue;
            var fault = xml.Name switch
            {
                Streams => OtherVersion(xml.Namespace),
                "MTConnectError" => "",
                "MTConnectDevices" or "MTConnectAssets" =>
                    $"this is an agent's {xml.Name[9..]} document; a Streams document was expected",
                _ => $"the document is {Wording.Quote(xml.Name)}; {Streams} was expected",
            };
            if (fault is null) return null;
            var (line, column) = (xml.Line, xml.Column);
            return new Fault(line, column, fault.Length > 0 ? fault : Refusal(xml));
        }
        return new Fault(0, 0, "the file holds no document");
    }

    private static string? OtherVersion(string ns)
    {
        var version = ns[(ns.LastIndexOf(':') + 1)..];
        return int.TryParse(version.Split('.')[0], NumberStyles.None, CultureInfo.InvariantCulture, out var major)
            && major > NewestMajor
            ? $"the document is of version {Wording.Quote(version)} of the standard; 1.x and 2.x are read"
            : null;
    }

    private static string Refusal(StreamXml xml)
    {
        while (xml.NextWithin(0))
            if (xml.Attribute("errorCode") is { Length: > 0 } code)
                return code == "OUT_OF_RANGE"
                    ? "the agent answered OUT_OF_RANGE: what was asked for is no longer in its buffer, and is lost "
                        + "where no other document holds it"
                    : $"the agent answered with an error, {Wording.Quote(code)}, and no observations";
        return "the agent answered with an error and no observations";
    }

    private static void ReadBody(StreamXml xml, StreamElements elements, StreamGathering gathering)
    {
        while (xml.NextWithin(0))
            switch (xml.Name)
            {
                case "Header":
                    gathering.Header = StreamHeader.Read(xml);
                    break;
                case "DeviceStream":
                    gathering.BeginDevice(xml.Attribute("name"), xml.Attribute("uuid"));
                    break;
                case "ComponentStream":
                    gathering.BeginComponent(
                        xml.Attribute("component"), xml.Attribute("name"), xml.Attribute("componentId"));
                    break;
                case "Streams" or "Samples" or "Events" or "Condition":
                    break;
                default:
                    elements.Read();
                    break;
            }
        // Behind the root nothing but white space may come, which only reading on shows.
        while (xml.Read()) ;
    }

    private static StreamDocument Unreadable(string reason) => new([], [new Fault(0, 0, reason)]);
}
