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
    private int _lastLine = -1;

    public int Count => _listed.Count;

    /// <summary>
    /// Notes what is wrong with a line; what else is wrong with the same line mostly follows from it.
    /// </summary>
    public void Add(int line, int column, string reason)
    {
        if (line == _lastLine) return;
        _lastLine = line;
        AddLimit(line, column, reason);
    }

    /// <summary>Notes that from here on something is not listed, whatever else is wrong with the line.</summary>
    public void AddLimit(int line, int column, string reason)
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
    public void Clear()
    {
        _listed.Clear();
        (_lastLine, _unlisted) = (-1, 0);
    }

    /// <summary>Those listed from a place on.</summary>
    public IReadOnlyList<Fault> From(int place) => _listed[Math.Min(place, _listed.Count)..];

    public IReadOnlyList<Fault> List() => _unlisted == 0 ? [.. _listed] :
    [
        .. _listed,
        new Fault(_firstUnlisted, 1, string.Create(CultureInfo.InvariantCulture,
            $"from here on {_unlisted} more faults were found and are not listed")),
    ];
}
