using System.Collections.Immutable;

namespace SetupAudit.Folding;

/// <summary>What is known of the agent behind one source.</summary>
public sealed record StreamState
{
    private const int InstancesKept = 16;

    /// <summary>Its lives, the one met last at the end, bounded.</summary>
    public ImmutableList<StreamInstance> Instances { get; init; } = [];

    /// <summary>The moment whose observations are <see cref="Told"/>.</summary>
    public DateTimeOffset AtUtc { get; init; }

    /// <summary>What was told of this moment: documents overlap, and nothing counts twice.</summary>
    public ImmutableHashSet<string> Told { get; init; } = [];

    /// <summary>The last moment at which anything was told.</summary>
    public DateTimeOffset? LastUtc { get; init; }

    /// <summary>The last word of execution; null where it is not known.</summary>
    public string? Execution { get; init; }

    /// <summary>Worked by hand or by typed blocks: what runs then is no cycle.</summary>
    public bool ByHand { get; init; }

    /// <summary>The program that the agent named last.</summary>
    public string? Program { get; init; }

    /// <summary>It tells main programs apart from their sub-programs.</summary>
    public bool TellsMain { get; init; }

    public int? Count { get; init; }

    /// <summary>The count of parts when the last cycle started.</summary>
    public int? CountAtStart { get; init; }

    /// <summary>The start of a cycle that ended in a way not told, while a count of its part may still come.</summary>
    public DateTimeOffset? CountableUtc { get; init; }

    /// <summary>Registers and tools, by the id of what tells them.</summary>
    public ImmutableSortedDictionary<string, StreamItem> Items { get; init; } =
        ImmutableSortedDictionary.Create<string, StreamItem>(StringComparer.Ordinal);

    public StreamState With(StreamInstance instance)
    {
        var others = Instances.RemoveAll(known => known.Instance == instance.Instance);
        return this with { Instances = (others.Count < InstancesKept ? others : others.RemoveAt(0)).Add(instance) };
    }
}
