using System.Globalization;
using SetupAudit.Evidence;

namespace SetupAudit.Readings;

/// <summary>What could not be read in a program, up to a number that a person may still look through.</summary>
internal sealed class ProgramFaults
{
    public const int ListedMost = 200;

    private readonly List<Fault> _listed = [];
    private int _unlisted;
    private int _firstUnlisted;

    public int Count => _listed.Count;

    public void Add(int line, int column, string reason)
    {
        if (_listed.Count < ListedMost)
        {
            _listed.Add(new Fault(line, column, reason));
            return;
        }
        if (_unlisted == 0) _firstUnlisted = line;
        if (_unlisted < int.MaxValue) _unlisted++;
    }

    /// <summary>Takes back what was found in front of the program's own beginning.</summary>
    public void Clear() => _listed.Clear();

    /// <summary>Those listed from a place on.</summary>
    public IReadOnlyList<Fault> From(int place) => _listed[Math.Min(place, _listed.Count)..];

    public IReadOnlyList<Fault> List() => _unlisted == 0 ? [.. _listed] :
    [
        .. _listed,
        new Fault(_firstUnlisted, 1, string.Create(CultureInfo.InvariantCulture,
            $"from here on {_unlisted} more faults were found and are not listed")),
    ];
}
