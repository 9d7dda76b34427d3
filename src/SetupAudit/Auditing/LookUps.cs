using SetupAudit.Readings;
using SetupAudit.Shop;

namespace SetupAudit.Auditing;

/// <summary>
/// The first moment whose look-up something new changes. A version holds from its own time on; the oldest one also for
/// all the time before it, from when the program was first asked for.
/// </summary>
internal static class LookUps
{
    /// <summary>Of a program and those that follow it in its file, before it is added to the shelf.</summary>
    public static DateTimeOffset ChangedBy(
        ProgramText added, ProgramShelf shelf, IReadOnlyDictionary<string, DateTimeOffset> firstAsked)
    {
        var first = added.ModifiedUtc;
        foreach (var text in added.Subprograms.Prepend(added))
        {
            var versions = shelf.Versions(text.Program);
            if (versions.Count > 0 && versions[0].ModifiedUtc <= text.ModifiedUtc) continue;
            foreach (var name in Callers(text.Program, shelf))
                if (firstAsked.TryGetValue(name, out var asked) && asked < first) first = asked;
        }
        return first;
    }

    /// <summary>Of a sheet; null where no setup that is over has asked for it.</summary>
    public static DateTimeOffset? ChangedBy(
        SetupSheet added, SheetShelf shelf, IReadOnlyDictionary<string, DateTimeOffset> firstAsked)
    {
        if (!firstAsked.TryGetValue(added.Program, out var asked)) return null;
        // At the beginning of time the shelf gives its oldest version.
        var oldest = shelf.At(added.Program, DateTimeOffset.MinValue);
        var isOldest = oldest is null || oldest.ModifiedUtc > added.ModifiedUtc;
        return isOldest || asked > added.ModifiedUtc ? asked : added.ModifiedUtc;
    }

    /// <summary>A program and all that call it, directly or not, in any version.</summary>
    private static HashSet<string> Callers(string program, ProgramShelf shelf)
    {
        var found = new HashSet<string>(StringComparer.Ordinal) { program };
        for (var grown = true; grown;)
        {
            grown = false;
            foreach (var name in shelf.Names.Where(name => !found.Contains(name)).ToList())
                if (shelf.Versions(name).Any(text => Calls(text, found)))
                    grown = found.Add(name);
        }
        return found;
    }

    private static bool Calls(ProgramText text, HashSet<string> programs) =>
        text.Steps.Any(step => (step.Calls is { } called && programs.Contains(called))
            || (step.CallsInFull is { } inFull && programs.Contains(inFull)));
}
