using System.Globalization;
using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Shop.Configuration;

namespace SetupAudit.Readings;

/// <summary>Reads the elements of observations: those that tell something of set-ups whole, of all others the number
/// and the time.</summary>
internal sealed class StreamElements(
    StreamXml xml, MachineConfig machine, WatchConfig watch, StreamGathering gathering)
{
    private static readonly string[] Forms = ["DataSet", "Table"];

    private readonly StreamOffsets _offsets = new(xml, machine, watch, gathering.Faults);

    /// <summary>Reads the element that the reader stands on.</summary>
    public void Read()
    {
        var (line, column) = (xml.Line, xml.Column);
        // What has no number is no observation, such as a part of one in an extension.
        if (xml.Attribute("sequence") is not { } written) return;
        var item = xml.Attribute("dataItemId") ?? "";
        var means = Means();
        var hasTime = StreamTime.TryRead(xml.Attribute("timestamp"), out var utc);
        if (StreamHeader.Number(written) is not { } sequence || !hasTime)
        {
            if (means is not null && gathering.IsMeant)
                Fail(line, column,
                    $"{Wording.Quote(xml.Name)} has no sequence or no timestamp that can be read, and is left out");
            return;
        }
        var atUtc = ShopClock.PutRight(utc, machine);
        gathering.Saw(sequence, atUtc, item, xml.Name is "Normal" or "Warning" or "Fault" or "Unavailable");
        if (means is not { } known || !gathering.IsMeant) return;
        var observation = new StreamObservation
        {
            Line = line,
            Column = column,
            Sequence = sequence,
            Item = item,
            Means = known,
        };
        if (known == StreamMeaning.Offsets) TakeOffsets(observation, atUtc);
        else Take(observation, atUtc);
    }

    private StreamMeaning? Means() => xml.Name switch
    {
        "Program" => xml.Attribute("subType") switch
        {
            "MAIN" => StreamMeaning.MainProgram,
            null or "" or "ACTIVE" => StreamMeaning.Program,
            _ => null,
        },
        "Execution" => StreamMeaning.Execution,
        "ControllerMode" => StreamMeaning.Mode,
        "PartCount" => xml.Attribute("subType") is null or "" or "ALL" or "GOOD" or "COMPLETE"
            ? StreamMeaning.PartCount : null,
        "Fault" => StreamMeaning.Fault,
        var name => Offsets(name) is null ? null : StreamMeaning.Offsets,
    };

    // WorkOffsets is every register, WorkOffset the one in force: both name their registers in their entries.
    private static string? Offsets(string name)
    {
        var isSet = Array.Find(Forms, form => name.EndsWith(form, StringComparison.Ordinal)) is not null;
        foreach (var form in Forms)
            if (name.EndsWith(form, StringComparison.Ordinal)) name = name[..^form.Length];
        return name switch
        {
            "WorkOffset" or "WorkOffsets" => "WorkOffset",
            "ToolOffset" or "ToolOffsets" => "ToolOffset",
            "Translation" when isSet => "Translation",
            "Rotation" when isSet => "Rotation",
            _ => null,
        };
    }

    private void TakeOffsets(StreamObservation observation, DateTimeOffset atUtc)
    {
        var what = Offsets(xml.Name) ?? "";
        var (offsets, text) = _offsets.Read(what, xml.Attribute("name"), xml.Attribute("subType"));
        if (_offsets.Count >= DumpReader.ReadingsMost)
            Fail(observation.Line, observation.Column, DumpReader.TooMany);
        if (offsets.Count > 0) gathering.Add(observation with { Offsets = offsets }, atUtc);
        else if (text == "UNAVAILABLE")
            gathering.Add(observation with { Means = StreamMeaning.Unavailable }, atUtc);
    }

    private void Take(StreamObservation observation, DateTimeOffset atUtc)
    {
        var code = xml.Attribute("nativeCode");
        var text = Text();
        switch (observation.Means)
        {
            case StreamMeaning.Fault:
                gathering.Add(observation with
                {
                    Code = code,
                    Kind = code is null ? null : watch.Stream?.Alarms.GetValueOrDefault(code),
                    Text = text.Length == 0 ? null : text,
                }, atUtc);
                break;
            case StreamMeaning.PartCount:
                if (text is "" or "UNAVAILABLE") gathering.Add(observation, atUtc);
                else if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var count))
                    gathering.Add(observation with { Count = count }, atUtc);
                else Fail(observation.Line, observation.Column,
                    $"{Wording.Quote(text)} stands for a count of parts: a whole number was expected");
                break;
            default:
                if (text.Length > 0) gathering.Add(observation with { Text = text }, atUtc);
                break;
        }
    }

    private string Text()
    {
        if (xml.IsEmpty) return "";
        var depth = xml.Depth;
        var text = "";
        while (xml.Read() && xml.Depth > depth)
            if (xml.Depth == depth + 1 && xml.TextHere() is { Length: > 0 } said) text = said;
        return text;
    }

    private void Fail(int line, int column, string reason)
    {
        if (gathering.Faults.Count < StreamsReader.FaultsMost) gathering.Faults.Add(new Fault(line, column, reason));
    }
}
